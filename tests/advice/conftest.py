"""Builds of a few lines whose findings can be worked out by hand: a subject of straight lines, and a bay with two boxes."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from types import ModuleType

import pytest

from trialfit.book import Build, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import FORCE, LENGTH, RATIO
from trialfit.parts import Car, PropShaft, Tyre
from trialfit.subjects import catalogue

BOOK = Source("a book, table 1", SourceKind.published)


def _gap(ev: Evaluation) -> object:
    shaft = ev.part(PropShaft)
    gap, overlap = ev.each(shaft.slip_gap, shaft.spline_overlap)
    return gap - overlap


def _reach(ev: Evaluation) -> object:
    return ev(ev.part(PropShaft).length)


def _grip(ev: Evaluation) -> object:
    car = ev.part(Car)
    return ev(car.mass) * ev(car.tyre_friction)


def _first_gear(ev: Evaluation) -> object:
    return ev(ev.part(Tyre).circumference)


def requirements(_: Build) -> Iterator[Requirement]:
    """Four straight lines: two lengths against a limit, a force with friction in it, and a tyre that may be missing."""
    yield Requirement(
        id="bench.gap",
        about="shaft",
        says="gap over overlap",
        value=_gap,
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(0.0),
        source=BOOK,
    )
    yield Requirement(
        id="bench.reach",
        about="shaft",
        says="reach at most",
        value=_reach,
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtMost(1.2),
        source=BOOK,
    )
    yield Requirement(
        id="bench.reach.again",
        about="shaft",
        says="reach, graver",
        value=_reach,
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtMost(1.22),
        source=BOOK,
    )
    yield Requirement(
        id="bench.grip",
        about="car",
        says="grip",
        value=_grip,
        quantity=FORCE,
        stake=Stake.comfort,
        limit=AtMost(900.0),
        source=BOOK,
    )
    yield Requirement(
        id="bench.roll",
        about="tyre",
        says="one turn",
        value=_first_gear,
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(1.5),
        source=BOOK,
    )
    yield Requirement(
        id="bench.figure", about="shaft", says="the reach", value=_reach, quantity=RATIO, stake=Stake.comfort
    )


@pytest.fixture
def bench(monkeypatch: pytest.MonkeyPatch) -> None:
    """Puts the small subject in the place of the real ones."""
    module = ModuleType("trialfit.subjects.bench")
    module.SUBJECT, module.requirements = "bench", requirements
    monkeypatch.setitem(sys.modules, module.__name__, module)
    monkeypatch.setattr(catalogue, "OURS", ("bench",))


@pytest.fixture
def build(bench: None) -> Callable[..., Build]:  # noqa: ARG001 - its facts are judged by the small subject alone
    """A build of car and prop shaft; facts can be given as keywords, None leaves one out."""

    def make(**given: str | None) -> Build:
        facts = {
            "slip_gap": "30 ± 1 mm",
            "spline_overlap": "10 ± 1 mm",
            "length": "1100 ± 1 mm",
            "mass": "800 ± 1 kg",
            "tyre_friction": "0.9 ± 0.001",
            "circumference": "1.9 ± 0.001 m",
            **given,
        }
        parts = {"car": ("mass", "tyre_friction"), "prop_shaft": ("slip_gap", "spline_overlap", "length")}
        lines = ['name = "bench"']
        for part, keys in parts.items():
            lines += [f"[{part}]", *(f'{key} = "{facts[key]}"' for key in keys if facts[key])]
        if facts["circumference"]:
            lines += ["[tyre]", f'circumference = "{facts["circumference"]}"']
        return read_text("\n".join(lines))

    return make


def _solid(**own: str) -> dict[str, str]:
    """A box known exactly, upright in the car."""
    still = dict.fromkeys(("roll", "inclination", "heading"), "0 ± 0 deg")
    return {"kind": "solid", "y": "0 ± 0 mm", **{name: f"{size} ± 0 mm" for name, size in own.items()}, **still}


BAY = {
    "drivetrain": {
        **dict.fromkeys(("x", "y", "heave", "fore_aft", "mount_y", "mount_z"), "0 ± 0 mm"),
        **dict.fromkeys(("roll", "inclination", "heading", "rock"), "0 ± 0 deg"),
        "z": "400 ± 0 mm",
    },
    "sump": {"fixed_to": "drivetrain", **_solid(x="0", z="-100", length="300", width="200", height="100")},
    "rack": _solid(x="190", z="300", length="40", width="800", height="40"),
    "wall": _solid(x="-500", z="300", length="40", width="800", height="40"),
}


@pytest.fixture
def bay() -> Callable[..., Build]:
    """A sump on its drivetrain, 20 mm behind a rack and far before a wall: `bay(rack={"x": "180 mm"}, sump={"z": None})`."""

    def make(**given: dict[str, str | None]) -> Build:
        lines = ['name = "bay"']
        for part in {**BAY, **given}:
            lines.append(f"[{part}]")
            entries = {**BAY.get(part, {}), **given.get(part, {})}
            lines += [
                f'{key} = "{value}"' if value[0] != "[" else f"{key} = {value}"
                for key, value in entries.items()
                if value
            ]
        return read_text("\n".join(lines))

    return make
