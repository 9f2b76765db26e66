"""Eye bolts pulled at an angle, each beside its mended twin that holds."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

HOLDS, FAILS, UNSETTLED, UNKNOWN = Verdict.holds, Verdict.fails, Verdict.unsettled, Verdict.unknown


def found(height: str, eye: str):
    """The front eye bolt of 220 kg on two legs 0.6 m apart under a hook at that height over the eyes."""
    leg = '[{0}]\nkind = "sling_leg"\neye_x = "{1} m, taped"\neye_y = "0 m, taped"\neye_z = "0.8 m, taped"\nrated_mass = "1000 kg, manual"\n'
    text = f"""
[unit]
kind = "mass_part"
mass = "220 kg, weighed"
x = "0 m, taped"
y = "0 m, taped"
z = "0.5 m, taped"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "0 m, taped"
hook_y = "0 m, taped"
hook_z = "{height} m, taped"
"""
    report = evaluate(read_text(text + leg.format("rear", -0.3) + leg.format("front", 0.3) + eye), 800, ("lifting",))
    return report["lifting.eye_bolt.front"]


@pytest.mark.parametrize(
    ("height", "eye", "verdict"),
    [
        ("1.85", 'eye = "collar"\neye_thread = "M10"', UNSETTLED),
        ("1.85", 'eye = "collar"\neye_rated_mass = "230 kg, manual"\neye_share_at_45 = "0.71, manual"', HOLDS),
        ("1.15", 'eye = "collar"\neye_thread = "M10"', FAILS),
        ("0.95", 'eye = "collar"\neye_thread = "M16"', FAILS),
        ("1.85", 'eye = "plain"\neye_rated_mass = "230 kg, manual"', HOLDS),
        ("1.30", 'eye = "plain"\neye_rated_mass = "230 kg, manual"', FAILS),
        ("1.85", 'eye = "collar"\neye_thread = "M16"\neye_plane = "across it"', FAILS),
        ("1.85", 'eye = "collar"\neye_thread = "M16"\neye_axis = "along the car"', FAILS),
        ("1.30", 'eye = "collar"\neye_rated_mass = "230 kg, manual"', UNSETTLED),
        ("1.85", 'eye = "plain"\neye_thread = "M10"', UNKNOWN),
    ],
)
def test_an_eye_bolt_bears_by_its_angle(height, eye, verdict) -> None:
    """230 kg along the axis of an M10 collar eye bolt; at 45° 163, flatter nothing; 138 kg and more pull at each."""
    finding = found(height, eye)

    assert finding.verdict is verdict, finding.remark
    if "eye_thread" in eye and "collar" in eye and "across it" not in eye:
        assert "read the mark on the eye" in finding.remark
    if verdict is FAILS:
        assert "off its axis" in finding.remark or "across its eye" in finding.remark
