"""Fit of threads by their profiles, and eye bolts by vectors, beside the program's formulas.

Threads     both profiles at their loosest are cut by the shear cylinder, point by point over one pitch; tolerances by ISO 965-1
Eye bolts   two legs by the balance of forces in the vertical plane, angle by the leg's own slope
"""

from __future__ import annotations

import numpy as np
import thorough
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.handbook.fastening import thread_fit
from trialfit.subjects.lifting import requirements

POINTS = 20_000
FIT_TOLERANCE = 2e-3
EYES, EACH_SIDE = 600, 200
EYE_TOLERANCE = 0.01
DIN_580 = {"M8": 140, "M10": 230, "M12": 340, "M16": 700, "M20": 1200, "M24": 1800}
G = 9.80665


def loosest(size: float, pitch: float) -> tuple[float, float]:
    """Shear area left in hole and bolt over that of the basic profile, sizes in mm."""
    height = 3**0.5 / 2 * pitch
    middle, inner = size - 0.75 * height, size - 1.25 * height
    of_middle = 0.090 * pitch**0.4 * size**0.1
    below = (15 + 11 * pitch) / 1000
    outside = size - below - (180 * pitch ** (2 / 3) - 3.15 / pitch**0.5) / 1000
    minor = inner + (0.230 * pitch**0.7 if pitch >= 1 else 0.433 * pitch - 0.190 * pitch**1.22)
    along = (np.arange(POINTS) + 0.5) / POINTS * pitch
    saw = height - 4 * height * np.abs(
        along / pitch - 0.5
    )  # diameter over the pitch cylinder: bolt's crest in the middle

    def metal(cylinder: float, pitch_diameter: float, *, of_bolt: bool) -> float:
        flank = pitch_diameter + saw
        return float((flank >= cylinder).mean() if of_bolt else (flank <= cylinder).mean())

    hole = outside * metal(outside, middle + 1.32 * of_middle, of_bolt=False)
    bolt = minor * metal(minor, middle - below - of_middle, of_bolt=True)
    return hole / (size * metal(size, middle, of_bolt=False)), bolt / (inner * metal(inner, middle, of_bolt=True))


def test_what_a_loose_thread_keeps_by_its_profiles() -> None:
    """Random sizes and pitches of fasteners."""
    rng = np.random.default_rng(580)
    worst = 0.0
    for size, share in some([(float(rng.uniform(4, 30)), float(rng.uniform(0.06, 0.16))) for _ in range(300)]):
        pitch = max(share * size, 0.5)
        ours = [
            float(left(size * 1e-3, pitch * 1e-3))
            for left in (thread_fit.hole_thread_left, thread_fit.bolt_thread_left)
        ]
        worst = max(worst, *np.abs(np.array(ours) - loosest(size, pitch)))
    print(f"thread left: worst disagreement {worst:.5f}")

    assert worst < FIT_TOLERANCE


def text_of(mass: float, half: float, height: float, eye: str) -> str:
    """A load on two legs under the hook, exact."""
    leg = (
        '[{0}]\nkind = "sling_leg"\neye_x = "{1!r} ± 0 m"\neye_y = "0 ± 0 m"\neye_z = "1 ± 0 m"\neye = "collar"\neye_thread = "'
        + eye
        + f'"\neye_rated_mass = "{DIN_580[eye]} ± 0 kg, catalogue"\neye_share_at_45 = "0.71 ± 0, catalogue"\n'
    )
    return (
        f'[unit]\nkind = "mass_part"\nmass = "{mass!r} ± 0 kg"\nx = "0 ± 0 m"\ny = "0 ± 0 m"\nz = "0.8 ± 0 m"\nhoisted_by = "out"\n'
        f'[out]\nkind = "lift"\nhook_x = "0 ± 0 m"\nhook_y = "0 ± 0 m"\nhook_z = "{1 + height!r} ± 0 m"\ndynamic_factor = "1.25 ± 0"\n'
        + leg.format("rear", -half)
        + leg.format("front", half)
    )


def test_eye_bolts_by_vectors() -> None:
    """Half the weight on each leg, drawn out by its slope; what is left of the rating falls straight to 0.71 at 45°."""
    kept = missed = 0
    worst = 0.0
    for number in some(range(EYES)):
        rng = np.random.default_rng(9000 + number)
        eye = str(rng.choice(list(DIN_580)[:4]))
        mass, half, height = (float(rng.uniform(*ends)) for ends in ((60, 880), (0.05, 0.5), (0.3, 1.2)))
        leg = np.array([-half, 0.0, height])
        pull = 1.25 * mass * G / 2 * np.linalg.norm(leg) / height
        slope = np.degrees(np.arctan2(half, height))
        bears = DIN_580[eye] * G * (1 - 0.29 * slope / 45 if slope <= 45 else 0.0)
        build = read_text(text_of(mass, half, height, eye))
        judged = [one for one in requirements(build) if one.id == "lifting.eye_bolt.front"]
        finding = work_out(Evaluation(build, 2), judged)["lifting.eye_bolt.front"]
        assert finding.value
        assert finding.limit
        worst = max(worst, abs(finding.value.nominal / pull - 1))
        kept, missed = kept + (pull <= bears), missed + (pull > bears)
        if abs(pull / max(bears, 1.0) - 1) > EYE_TOLERANCE and abs(slope - 45) > EYE_TOLERANCE:
            assert finding.verdict is (Verdict.holds if pull < bears else Verdict.fails), (mass, half, height, eye)
    print(f"eye bolts: {kept} hold, {missed} fail, worst disagreement {100 * worst:.2f} %")

    assert worst < EYE_TOLERANCE
    assert min(kept, missed) >= (EACH_SIDE if thorough.is_long else EACH_SIDE / 20)
