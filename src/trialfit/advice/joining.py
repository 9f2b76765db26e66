"""From one end to another by fittings on sale: the run, the sealing of each joint, or what is missing for a run.

Answers   join            the run between two ports of a build, or between a port and an end in words
          JoinPlan        in the shape that `join --json` prints
          own_fittings    the builder's own fittings, on the car and on the shelf
Not here  the search (handbook/ports/fitting_chain.py)
"""

from __future__ import annotations

from math import inf, isfinite, nan
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.problems import BadInput, Located
from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.frozen import Frozen
from trialfit.handbook.ports.fitting_chain import Best, Run, find_run
from trialfit.handbook.ports.fittings import Fitting as Piece
from trialfit.handbook.ports.fittings import standard_fittings
from trialfit.handbook.ports.port_ends import read_end
from trialfit.handbook.ports.sealing import Fit, join_ends
from trialfit.parts import Fitting, Line, Port
from trialfit.parts.reading import nearest
from trialfit.subjects.ports.runs import port_end

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.handbook.ports.fitting_chain import Gap
    from trialfit.handbook.ports.port_ends import End

_ENDS_IN_WORDS = ("male", "female")


class JoinPiece(Frozen):
    """One fitting of the run."""

    name: str
    near: str = Field(description="its end towards the first port")
    far: str = Field(description="its end away from it")
    length_mm: float | None
    bore_mm: float | None
    price: float | None
    own: bool = Field(description="whether it is a part of the build; a usual fitting of the tables otherwise")


class JoinSeal(Frozen):
    """One joint of the run, in order."""

    joins: str
    sealing: str
    sealant: str


class Custom(Frozen):
    """The single piece that would join the ends."""

    end: str
    other_end: str


class JoinPlan(Frozen):
    """The run between two ends, or the reason why there is none."""

    start: str
    goal: str
    best: str
    found: bool
    direct: str = Field(description="result of screwing the two together as they are")
    pieces: tuple[JoinPiece, ...] = ()
    joints: tuple[JoinSeal, ...] = ()
    length_mm: float | None = Field(default=None, description="length added; null if that of a piece is not known")
    bore_mm: float | None = Field(
        default=None, description="narrowest bore; null without a piece or if one is not known"
    )
    price: float | None = Field(default=None, description="sum of the known prices; null if none is known")
    unpriced: int = 0
    impossible: str = Field(default="", description="why no run was found; empty if one was found")
    reached_from_start: tuple[str, ...] = Field(default=(), description="ends that fittings on the first port lead to")
    reached_from_goal: tuple[str, ...] = Field(default=(), description="ends that fittings on the second one lead to")
    custom: Custom | None = None


def own_fittings(build: Build) -> tuple[Piece, ...]:
    """Every fitting of a build, picked or not, whose ends are known."""
    found = []
    for part in (*build.parts.values(), *build.spare.values()):
        if isinstance(part, Fitting) and part.end and part.other_end:
            length, bore, price = (ref.known for ref in (part.length, part.bore, part.price))
            found.append(
                Piece(
                    part.name,
                    read_end(part.end),
                    read_end(part.other_end),
                    length.si if length else nan,
                    bore.si if bore else nan,
                    price.si if price else None,
                )
            )
    return tuple(found)


def end_named(build: Build, name: str) -> End:
    """The end of a port, the far end of a fitting or line, or an end in words such as "male 1/8-27 NPT". Raises BadInput."""
    part = build.named(name)
    try:
        if isinstance(part, Port):
            return port_end(part)
        if isinstance(part, Fitting | Line):
            return _far_end(part)
        if name.lower().startswith(_ENDS_IN_WORDS):
            return read_end(name)
    except MissingFact as missing:
        path, says = next(iter(missing.wanted.items()))
        raise BadInput(build.name or "the build", [Located(path, f"is missing: {says}")]) from None
    except ValueError as wrong:
        raise BadInput("trialfit join", [Located("", str(wrong))]) from None
    known = [one.name for kind in (Port, Fitting, Line) for one in build.all(kind)]
    hint = nearest(name, known) if known else "the build has none"
    in_words = 'an end in words is accepted too, such as "male 1/8-27 NPT"'
    says = f'"{name}" is not a port, fitting or line of this build, {in_words}: {hint}'
    raise BadInput(build.name or "the build", [Located("", says)])


def _far_end(part: Fitting | Line) -> End:
    if part.other_end is None:
        raise MissingFact({f"{part.name}.other_end": type(part).other_end.says})
    return read_end(part.other_end)


def join(
    build: Build, start: str, goal: str, best: Best = Best.fewest, least_bore: float = 0.0, most_length: float = inf
) -> JoinPlan:
    """The run between two ends by the builder's own fittings and the usual ones. Lengths in m. Raises BadInput."""
    one, other = end_named(build, start), end_named(build, goal)
    own = own_fittings(build)
    found = find_run(one, other, (*own, *standard_fittings()), best, least_bore, most_length)
    straight = join_ends(one, other)
    plan = JoinPlan(
        start=one.text,
        goal=other.text,
        best=best.value,
        found=isinstance(found, Run),
        direct=straight.why if straight.fit is Fit.fits else f"{straight.fit}: {straight.why}",
    )
    more = _of_run(found, one, other, own) if isinstance(found, Run) else _of_gap(found)
    return plan.model_copy(update=more)


def _of_run(run: Run, start: End, goal: End, own: tuple[Piece, ...]) -> dict[str, object]:
    ends = [start.text, *(text for piece in run.pieces for text in (piece.near.text, piece.far.text)), goal.text]
    pieces = tuple(
        JoinPiece(
            name=piece.fitting.name,
            near=piece.near.text,
            far=piece.far.text,
            length_mm=_mm(piece.fitting.length),
            bore_mm=_mm(piece.fitting.bore),
            price=piece.fitting.price,
            own=piece.fitting in own,
        )
        for piece in run.pieces
    )
    joints = tuple(
        JoinSeal(joins=f"{one} and {other}", sealing=joint.sealing, sealant=joint.sealant)
        for one, other, joint in zip(ends[::2], ends[1::2], run.joints, strict=True)
    )
    return {
        "pieces": pieces,
        "joints": joints,
        "length_mm": _mm(run.length),
        "bore_mm": _mm(run.bore),
        "price": run.price if run.unpriced < len(pieces) else None,
        "unpriced": run.unpriced,
    }


def _of_gap(gap: Gap) -> dict[str, object]:
    return {
        "impossible": gap.why,
        "reached_from_start": tuple(end.text for end in gap.from_start[1:]),
        "reached_from_goal": tuple(end.text for end in gap.from_goal[1:]),
        "custom": Custom(end=gap.custom[0].text, other_end=gap.custom[1].text) if gap.custom else None,
    }


def _mm(metres: float) -> float | None:
    return round(metres * 1e3, 3) if isfinite(metres) else None
