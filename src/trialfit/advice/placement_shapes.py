"""The answers of `place`, `clearances` and `mesh`, in the shape that `--json` prints.

Answers   Placement, Alternative, Coordinate, PlacedRequirement, Easing, Bracket    of `place`
          Clearances, PairSeen                                                      of `clearances`
          MeshBrought                                                               of `mesh`
"""

from __future__ import annotations

from pydantic import Field

from trialfit.evaluation.finding import Interval
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen

FAR = 10.0
"""A requirement without a finding, because it never comes near, is clear by at least this many spreads."""
STEPS = {"mm": "5 mm", "°": "0.5°", "%": "0.5 %"}
"""The step by which a requirement is relaxed to see the effect, by its unit."""


class Coordinate(Frozen):
    """One coordinate of the drivetrain: its present and its best value, and how far it alone can go from there."""

    name: str
    unit: str
    now: float
    best: float
    held: bool
    down: float | None = Field(description="how far it can go down before a requirement fails; null if nothing fits")
    up: float | None
    breaks_down: str = Field(description="the requirement that fails there; empty if the window ends first")
    breaks_up: str


class PlacedRequirement(Frozen):
    """One requirement at the best pose. `margin` and `spread` (95 %, half-width) are in `unit`, `normalised` in spreads of 1 s."""

    id: str
    unit: str
    value: float
    limit: float
    side: str = Field(default="at least", description='what the limit is: "at least" or "at most"')
    margin: float
    spread: float
    normalised: float
    verdict: Verdict | None = Field(
        description="over the draws of every fact at that pose; null without a finding for it"
    )
    share: float = Field(description="its share in limiting the pose; the shares sum to 1")
    gain: float | None = Field(
        description="how many s the smallest margin gains when it is relaxed by 5 mm, 0.5° or 0.5 %; null if it does not bind"
    )
    where: str = Field(description="the nearest points in words")
    state: str = Field(description="the state of movement that decides")

    @property
    def word(self) -> str:
        """The verdict; without a finding, whether it is clear by far."""
        return str(self.verdict or ("clear by far" if self.normalised > FAR else "not judged"))


class Easing(Frozen):
    """How far one requirement alone must be relaxed so that everything fits."""

    id: str
    by: float | None = Field(description="in `unit`; null if that alone is not enough")
    unit: str
    says: str


class Alternative(Frozen):
    """One combination of options, with the smallest margin of its best pose in s; `missing` is empty if it was worked out."""

    picks: dict[str, str]
    normalised: float | None
    missing: str = ""


class Bracket(Frozen):
    """One mount at the best pose, mm: both ends in the car's axes and in the drivetrain's."""

    mount: str
    engine_end_in_car: tuple[float, float, float]
    car_end_in_car: tuple[float, float, float]
    engine_end_in_drivetrain: tuple[float, float, float]
    car_end_in_drivetrain: tuple[float, float, float]
    length: float


class Placement(Frozen):
    """The best pose that was found."""

    build: str
    picks: dict[str, str]
    normalised: float = Field(description="the smallest margin in spreads of 1 s; below zero nothing fits")
    says: str
    coordinates: tuple[Coordinate, ...]
    requirements: tuple[PlacedRequirement, ...]
    alternatives: tuple[Alternative, ...]
    conflict: tuple[str, ...] = Field(description="if nothing fits: the smallest set that cannot hold together")
    easings: tuple[Easing, ...]
    brackets: tuple[Bracket, ...]
    write: tuple[str, ...] = Field(description="facts to write to use the pose: path and value")
    left_out: dict[str, str] = Field(description="requirements not checked, and the facts missing for them")
    evaluations: int
    interrupted: bool
    caution: str


class PairSeen(Frozen):
    """One pair at the present pose."""

    id: str
    verdict: Verdict
    gap: Interval | None
    wanted: Interval | None
    margin: Interval | None
    where: str
    state: str
    source: str


class Clearances(Frozen):
    """Every pair that matters at the present pose, the tightest first."""

    build: str
    draws: int
    pairs: tuple[PairSeen, ...]
    far: int = Field(description="pairs further apart than the required gap plus 80 mm: not listed")
    missing: dict[str, str]
    caution: str


class MeshBrought(Frozen):
    """A scan or drawing imported as convex pieces; lengths in mm."""

    part: str
    file: str
    written: str = Field(description="the file with the pieces")
    triangles: int
    kept: int = Field(description="triangles of the surface that is kept")
    off: float = Field(description="largest distance of that surface from the scan; counts as uncertainty of the part")
    closed: bool = Field(description="whether the surface has an inside")
    unit: str
    misfit: float = Field(description="largest misfit of the named points")
    size: tuple[float, float, float]
    pieces: int
    sticks_out: float = Field(description="largest distance by which a piece sticks out of the surface")
    usual_out: float = Field(description="the same for 99 % of the pieces' surface")
    uncovered: float = Field(description="largest distance of the surface outside all pieces")
    cured: tuple[str, ...]
    entries: dict[str, str] = Field(description="facts of the part for the build: path and value")
    into: str = Field(default="", description="the build it was written into; empty if none was named")
