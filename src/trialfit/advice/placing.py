"""The best place for the drivetrain: alternatives compared, the pose found, what binds, and what to do if nothing fits.

Answers   place         the answer for a build
Not here  the search (placement/); the build at another pose (posed.py); the problem of a build (subjects/clearance/placing.py); the words of the page (cli)
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from trialfit.advice.easing import easing_of, summary
from trialfit.advice.placement_shapes import (
    STEPS,
    Alternative,
    Coordinate,
    Easing,
    PlacedRequirement,
    Placement,
)
from trialfit.advice.posed import brackets, lines_to_write, moved, with_picks
from trialfit.book.problems import BadInput, Located
from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.quantity import ANGLE, LENGTH, SHARE
from trialfit.facts.units import display_unit, from_si
from trialfit.parts import Solid
from trialfit.parts.reading import nearest
from trialfit.placement.binding import look, relaxations, room
from trialfit.placement.infeasible import changes, conflict
from trialfit.placement.problem import LEAST_SIGMA
from trialfit.placement.search import Best, search
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.placing import COORDINATES, SIGNS, Placing, held_value, placing_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Finding
    from trialfit.facts.quantity import Quantity
    from trialfit.placement.binding import Seen

    Told = Callable[[str], None]

__all__ = ["CAUTION", "moved", "place", "with_picks"]

CAUTION = (
    "A hanging drivetrain can crush: put stands under it before you reach in. Cutting a tunnel, crossmember or chassis rail removes "
    "crash strength: a licensed workshop decides what may be cut and how it is closed again."
)
_QUANTITIES: dict[str, Quantity] = {"length": LENGTH, "angle": ANGLE, "share": SHARE}
_MOST_ALTERNATIVES = 200
_OF_A_LENGTH = ("driveline.slip.", "driveline.length.")
"""The search judges these by the length of the shaft; the report shows the value of their finding."""
_CLEAR = 1.96


def place(
    build: Build,
    tried: Sequence[str] = (),
    held: Sequence[str] = (),
    draws: int = 4096,
    told: Told | None = None,
) -> Placement:
    """The best pose of a build; `tried` names choices whose options are all compared. Raises BadInput."""
    numbers = _held(build, held)
    rows: list[tuple[Alternative, Build, Placing, Best]] = []
    lacking: list[Alternative] = []
    for number, picks in enumerate(_combinations(build, tried)):
        variant = with_picks(build, picks)
        try:
            placing = placing_of(variant, numbers)
        except MissingFact as missing:
            lacking.append(Alternative(picks=picks, normalised=None, missing=_lacks(missing)))
            continue
        best = search(placing.problem, progress=_progress(told, number, picks))
        rows.append((Alternative(picks=picks, normalised=best.margin), variant, placing, best))
        if best.interrupted:
            break
    if not rows:
        says = f"cannot be placed: {lacking[0].missing if lacking else 'nothing to try'}; write these facts first"
        raise BadInput(build.name or "the build", [Located("drivetrain", says)])
    rows.sort(key=lambda row: -row[3].margin)
    alternative, variant, placing, best = rows[0]
    answer = _answer(
        variant, placing, best, alternative.picks, (*(row[0] for row in rows), *lacking), draws, set(numbers)
    )
    if answer.normalised >= 0 or best.interrupted:
        return answer
    others = _other_options(build, tried, numbers, placing, answer.conflict)
    return answer.model_copy(update={"easings": (*others, *answer.easings)})


def _other_options(
    build: Build, tried: Sequence[str], numbers: Mapping[int, float], placing: Placing, broken: Sequence[str]
) -> Iterator[Easing]:
    """Options that were not tried and would let everything fit, of the choices that the conflict involves."""
    named = {gap.moving for gap in placing.problem.gaps if gap.name in broken}
    named |= {gap.fixed for gap in placing.problem.gaps if gap.name in broken}
    for name, choice in build.choices.items():
        if name in tried or choice.picked not in named:
            continue
        for option in choice.options:
            if option == choice.picked:
                continue
            try:
                best = search(placing_of(with_picks(build, {name: option}), numbers).problem)
            except MissingFact:
                continue
            if best.margin >= 0:
                says = f"pick {option} instead of {choice.picked}: then it fits, the tightest margin is {best.margin:.1f} s"
                yield Easing(id=f"choice.{name}.picked", by=None, unit="", says=says)


def _progress(told: Told | None, number: int, picks: Mapping[str, str]) -> Callable[[object], None] | None:
    if told is None:
        return None
    named = ", ".join(picks.values()) or "as picked"
    return lambda step: told(f"{number + 1}: {named}, start {step.done} of {step.total}, best so far {step.best:.1f} s")  # type: ignore[attr-defined]


def _lacks(missing: MissingFact) -> str:
    return ", ".join(f"{path} ({meaning})" for path, meaning in missing.wanted.items())


def _held(build: Build, held: Sequence[str]) -> dict[int, float]:
    problems, numbers = [], {}
    for text in held:
        try:
            number, value = held_value(text)
            numbers[number] = value
        except ValueError as wrong:
            problems.append(Located("--hold", str(wrong)))
    if problems:
        raise BadInput(build.name or "the build", problems)
    return numbers


def _combinations(build: Build, tried: Sequence[str]) -> list[dict[str, str]]:
    problems = [
        Located(
            "--try",
            f'names "{name}", which is not a choice of this build: {nearest(name, build.choices) if build.choices else "it has none"}',
        )
        for name in tried
        if name not in build.choices
    ]
    if problems:
        raise BadInput(build.name or "the build", problems)
    found = [
        dict(zip(tried, options, strict=True)) for options in product(*(build.choices[name].options for name in tried))
    ]
    if len(found) > _MOST_ALTERNATIVES:
        says = f"makes {len(found)} combinations: expected at most {_MOST_ALTERNATIVES}; name fewer choices"
        raise BadInput(build.name or "the build", [Located("--try", says)])
    return found


def _answer(
    build: Build,
    placing: Placing,
    best: Best,
    picks: Mapping[str, str],
    alternatives: tuple[Alternative, ...],
    draws: int,
    held: set[int],
) -> Placement:
    problem = placing.problem
    seen = look(problem, best.pose)
    gains = {} if best.interrupted else {one.name: one.gain for one in relaxations(problem, best)}
    findings = _findings(moved(build, best.pose), draws)
    by_surface = _gaps_of_surfaces(build, placing)
    requirements = sorted(
        (_requirement(one, findings, best, gains, settled=one.name in by_surface) for one in seen),
        key=lambda one: one.normalised,
    )
    normalised = min((one.normalised for one in requirements), default=best.margin) if by_surface else best.margin
    broken = () if best.interrupted or normalised >= 0 else conflict(problem, best)
    easings = tuple(_easings(placing, best, broken, {one.id: one for one in requirements})) if broken else ()
    return Placement(
        build=build.name,
        picks=dict(picks),
        normalised=normalised,
        says=summary(requirements, normalised),
        coordinates=tuple(_coordinates(placing, best, held)),
        requirements=tuple(requirements),
        alternatives=alternatives,
        conflict=broken,
        easings=easings,
        brackets=tuple(brackets(build, best.pose)),
        write=tuple(lines_to_write(build, best.pose)),
        left_out=dict(placing.left_out),
        evaluations=best.evaluations,
        interrupted=best.interrupted,
        caution=CAUTION,
    )


def _findings(build: Build, draws: int) -> dict[str, Finding]:
    report = evaluate(build, draws, ("clearance", "driveline"))
    return {finding.id: finding for finding in report.findings}


def _gaps_of_surfaces(build: Build, placing: Placing) -> set[str]:
    """The gaps worked out from the surface of a scan: the search used its pieces, which stick out."""
    scans = {solid.name for solid in build.all(Solid) if solid.shape == "mesh"}
    return {gap.name for gap in placing.problem.gaps if gap.moving in scans or gap.fixed in scans}


def _coordinates(placing: Placing, best: Best, held: set[int]) -> Iterator[Coordinate]:
    rooms = {one.axis: one for one in room(placing.problem, best.pose)}
    for number, (name, axis) in enumerate(zip(COORDINATES, ("x", "y", "z", "roll", "pitch", "yaw"), strict=True)):
        unit = display_unit(LENGTH if number < 3 else ANGLE)  # noqa: PLR2004 - x, y, z
        one, sign = rooms.get(axis), SIGNS[number]
        ways = ((one.down, one.breaks_down), (one.up, one.breaks_up)) if one else ((None, ""), (None, ""))
        (down, breaks_down), (up, breaks_up) = ways if sign > 0 else ways[::-1]
        yield Coordinate(
            name=name,
            unit=unit.canonical,
            now=float(from_si(placing.now[number] * sign, unit)),
            best=float(from_si(best.pose[number] * sign, unit)),
            held=number in held or placing.problem.reach[number] == 0,
            down=None if down is None else float(from_si(down, unit)),
            up=None if up is None else float(from_si(up, unit)),
            breaks_down=breaks_down,
            breaks_up=breaks_up,
        )


def _requirement(
    one: Seen, findings: Mapping[str, Finding], best: Best, gains: Mapping[str, float], *, settled: bool
) -> PlacedRequirement:
    """One requirement; if a surface decides it, with the figures of the finding."""
    unit = display_unit(_QUANTITIES[one.sort])

    def shown(value: float) -> float:
        return float(from_si(value, unit))

    finding = findings.get(one.name)
    value, margin, spread, normalised = shown(one.value), shown(one.margin), shown(_CLEAR * one.sigma), one.normalised
    limit, side = shown(one.limit), "at least" if one.side > 0 else "at most"
    if settled and finding is not None and finding.value is not None and finding.margin is not None:
        value, margin = finding.value.nominal, finding.margin.nominal
        spread = max((finding.margin.high - finding.margin.low) / 2, shown(_CLEAR * LEAST_SIGMA[one.sort]))
        normalised = _CLEAR * margin / spread
    elif finding is not None and finding.value and finding.limit and finding.id.startswith(_OF_A_LENGTH):
        value, limit, side = finding.value.nominal, finding.limit.nominal, finding.side
    return PlacedRequirement(
        id=one.name,
        unit=unit.canonical,
        value=value,
        limit=limit,
        side=side,
        margin=margin,
        spread=spread,
        normalised=normalised,
        verdict=finding.verdict if finding else None,
        share=best.shares.get(one.name, 0.0),
        gain=gains.get(one.name),
        where=one.where.replace("_", " "),
        state=one.state.replace("_", " "),
    )


def _easings(
    placing: Placing, best: Best, broken: Sequence[str], there: Mapping[str, PlacedRequirement]
) -> Iterator[Easing]:
    """How far each requirement of a conflict must be relaxed, and the effect of a larger step."""
    pairs = {gap.name: (gap.moving, gap.fixed) for gap in placing.problem.gaps}
    for one in changes(placing.problem, best, broken):
        yield easing_of(
            one.name, one.by, display_unit(_QUANTITIES[one.sort]), pairs.get(one.name), _more(there.get(one.name))
        )


def _more(one: PlacedRequirement | None) -> str:
    if one is None or not one.gain:
        return ""
    after = one.margin + one.gain * one.spread / _CLEAR
    unit = one.unit if one.unit == "°" else f" {one.unit}"
    return f"with {STEPS[one.unit]} it has {after:.1f}{unit} to spare" if after > 0 else ""
