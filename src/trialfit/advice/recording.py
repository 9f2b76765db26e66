"""Several readings into one fact of a build: its mean with its uncertainty, and the effect on the findings.

Answers   record      writes the fact
Not here  the shape of the result (recorded.py); the statistics (handbook/measuring/readings.py); writing an entry (book/changing.py); what to measure next (what_to_measure.py)
Method    The mean of the readings, with U = t·√(s²/n + u_instrument²): the spread of the instrument does not shrink with the
          number of readings, and few readings cost a larger factor t. A reading that Grubbs' test finds out of line is
          pointed out and still counts; it is left out only if the builder says so, with a reason that goes into the note.
Sources   JCGM 100, 4.2, 5.1.2, G.4; Grubbs' test as in handbook/measuring/readings.py
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from trialfit.advice.measured_fact import FactPlace, place_of
from trialfit.advice.recorded import ReadingLine, Recorded, Turn
from trialfit.book.changing import change_entry
from trialfit.book.opening import open_build
from trialfit.book.problems import BadInput, Located
from trialfit.book.renaming import kinds_of, path_now
from trialfit.evaluation.evaluation import DRAWS
from trialfit.evaluation.finding import Finding
from trialfit.facts.fact import Fact
from trialfit.facts.provenance import Provenance, check_pair
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.facts.showing import show
from trialfit.facts.showing_spread import half_width_text
from trialfit.facts.spread import WrittenSpread
from trialfit.facts.units import from_si, from_si_difference
from trialfit.handbook.measuring.corrections import METHODS
from trialfit.handbook.measuring.readings import Combined, combine, outlier_limit, outlier_statistic, suspect
from trialfit.parts.old_names import finding_now
from trialfit.parts.reading import nearest, out_of_range
from trialfit.subjects.catalogue import evaluate

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from trialfit.book.build import Build
    from trialfit.book.changing import Change
    from trialfit.evaluation.finding import Report
    from trialfit.handbook.measuring.corrections import Method

_WHERE = "trialfit record"
_MOST = 200


@dataclass(frozen=True)
class _Read:
    """The readings as facts, and which of them count."""

    facts: tuple[Fact, ...]
    texts: tuple[str, ...]
    left_out: int | None
    because: str

    @property
    def counting(self) -> list[int]:
        """The numbers of those that count, from 0."""
        return [place for place in range(len(self.facts)) if place + 1 != self.left_out]

    @property
    def values(self) -> list[float]:
        """Those that count, SI."""
        return [self.facts[place].si for place in self.counting]


def record(
    file: Path,
    wanted: str,
    readings: Sequence[str],
    *,
    method: str | None = None,
    fact: str | None = None,
    leave_out: int | None = None,
    because: str = "",
    draws: int = DRAWS,
    write: Callable[[str, str], Change] | None = None,
) -> Recorded:
    """Writes the mean of the readings into a build as one fact.

    `wanted` is the id of a finding, or the path of a fact. A finding that depends on several facts needs `fact`, the path of
    the one that was read. A bare number takes the unit of the reading before it. `write` puts an entry into a book; without
    it the file is TOML. Raises BadInput; nothing is written then.
    """
    if not 1 <= len(readings) <= _MOST:
        raise BadInput(_WHERE, [Located("", f'expected from 1 to {_MOST} readings, for example "12.9 mm" "13.1 mm"')])
    build = open_build(file)
    wanted, fact = (_named_now(build, text) for text in (wanted, fact or ""))
    before = evaluate(build, draws)
    place = place_of(build, before, fact or wanted, wanted, readings)
    way = _method(method, place)
    taken = _read(readings, place, leave_out, because)
    instrument = _instrument(taken, way)
    result = combine(taken.values, instrument / 2)
    out_of_line = suspect(taken.values, instrument / 2)
    out_of_line = None if out_of_line is None else taken.counting[out_of_line]
    done = (write or partial(change_entry, file))(place.path, str(_fact(place, taken, way, result)))
    after = evaluate(open_build(file), draws)
    unit = taken.facts[0].unit
    return Recorded(
        file=str(file),
        path=place.path,
        meaning=place.says,
        before=done.before,
        after=done.after,
        readings=tuple(
            ReadingLine(number=at + 1, text=text, counts=at in taken.counting, is_out_of_line=at == out_of_line)
            for at, text in enumerate(taken.texts)
        ),
        mean=show(result.mean, unit, 5),
        scatter=half_width_text(result.scatter, unit).removeprefix("± ") if math.isfinite(result.scatter) else "",
        instrument=half_width_text(instrument, unit),
        spread=half_width_text(result.expanded, unit),
        coverage_factor=round(result.coverage_factor, 2),
        warning=_warning(taken, out_of_line, instrument),
        findings=_turns(wanted, place.path, before, after),
    )


def _named_now(build: Build, text: str) -> str:
    """The id of a finding or the path of a fact as typed, by its present name."""
    return finding_now(path_now(kinds_of(build.document), text))


def _method(word: str | None, place: FactPlace) -> Method | None:
    if word is None:
        return None
    fit = [name for name, one in METHODS.items() if one.quantity == place.quantity.name]
    if word not in METHODS:
        raise BadInput(_WHERE, [Located("--method", f'is "{word}": {nearest(word, fit or METHODS)}')])
    if word not in fit:
        says = f'is "{word}", which reads a {METHODS[word].quantity}: {place.path} is {place.quantity.with_article}'
        raise BadInput(_WHERE, [Located("--method", f"{says}, {' or '.join(fit) or 'write gauged after the reading'}")])
    return METHODS[word]


def _read(texts: Sequence[str], place: FactPlace, leave_out: int | None, because: str) -> _Read:
    facts: list[Fact] = []
    for number, text in enumerate(texts, 1):
        try:
            facts.append(read_fact(_with_unit(text, facts), place.quantity))
        except Unreadable as wrong:
            raise BadInput(_WHERE, [Located(f"reading {number}", str(wrong))]) from None
        if says := out_of_range(facts[-1], place.spec):
            raise BadInput(_WHERE, [Located(f"reading {number}", f'"{text}" {says}')])
    if leave_out is not None:
        _check_left_out(leave_out, because, len(texts))
    elif because:
        raise BadInput(
            _WHERE, [Located("--because", "is used alone: add --leave-out NUMBER for the reading it is about")]
        )
    return _Read(tuple(facts), tuple(texts), leave_out, because.strip())


def _check_left_out(number: int, because: str, count: int) -> None:
    if not 1 <= number <= count or count == 1:
        says = f"is {number}: expected a number from 1 to {count}, and at least one reading must remain"
        raise BadInput(_WHERE, [Located("--leave-out", says)])
    if not because.strip():
        says = 'needs a reason, which goes into the note: --because "the tape had slipped"'
        raise BadInput(_WHERE, [Located("--leave-out", says)])


def _with_unit(text: str, before: list[Fact]) -> str:
    """A bare number with the unit of the reading before it."""
    try:
        float(text.strip().replace(",", "."))
    except ValueError:
        return text
    return f"{text} {before[-1].unit.canonical}" if before else text


def _instrument(taken: _Read, way: Method | None) -> float:
    """Expanded uncertainty of the instrument, SI: as written after a reading, else of the method, else of its word."""
    facts = [taken.facts[place] for place in taken.counting]
    written = [2 * one.spread.standard_uncertainty for one in facts if one.spread_is_written]
    if written:
        return max(written)
    if way is not None:
        return way.expanded(sum(taken.values) / len(taken.values))
    said = [2 * one.spread.standard_uncertainty for one in facts if one.provenance is not Provenance.unstated]
    if said:
        return max(said)
    example = f'"{taken.texts[0]}, gauged"'
    says = f"has no instrument: write {example}, or --method with one of {', '.join(METHODS)}"
    raise BadInput(_WHERE, [Located("reading 1", says)])


def _fact(place: FactPlace, taken: _Read, way: Method | None, result: Combined) -> Fact:
    unit = taken.facts[0].unit
    half = float(from_si_difference(result.expanded, unit))
    value, half = _rounded(float(from_si(result.mean, unit)), half)
    return Fact(
        place.quantity, value, unit, WrittenSpread(half, half), _provenance(place, taken, way), note=_note(taken, way)
    )


def _rounded(value: float, half: float) -> tuple[float, float]:
    """The uncertainty rounded up to two digits, and the value to the same place."""
    if half <= 0:
        return value, 0.0
    places = 1 - math.floor(math.log10(half))
    step = 10.0**-places
    return round(value, places), round(math.ceil(round(half / step, 6)) * step, max(places, 0))


def _provenance(place: FactPlace, taken: _Read, way: Method | None) -> Provenance:
    said = {taken.facts[at].provenance for at in taken.counting} - {Provenance.unstated}
    word = Provenance(way.provenance) if way else (said.pop() if len(said) == 1 else Provenance.computed)
    try:
        check_pair(place.quantity, word)
    except ValueError:
        return Provenance.computed
    return word if way or not said else Provenance.computed


def _note(taken: _Read, way: Method | None) -> str:
    """The readings as they were typed, so that none is lost."""
    kept = [taken.texts[place] for place in taken.counting]
    shown = ", ".join(" ".join(text.split()) for text in kept)
    note = f"mean of {len(kept)} readings: {shown}" if len(kept) > 1 else "one reading"
    if way:
        note += f"; {way.name}"
    if taken.left_out is not None:
        note += f"; reading {taken.left_out}, {taken.texts[taken.left_out - 1]}, left out: {' '.join(taken.because.split())}"
    return note


def _warning(taken: _Read, place: int | None, instrument: float) -> str:
    if place is None:
        return ""
    found, most = outlier_statistic(taken.values, instrument / 2), outlier_limit(len(taken.values))
    return (
        f"Reading {place + 1}, {taken.texts[place]}, is out of line with the others: {found:.2f} standard deviations from "
        f"the mean, where chance gives up to {most:.2f} (Grubbs' test at 5 %). It counts, and increases the uncertainty. Read it "
        f'again; if it was misread, say so: --leave-out {place + 1} --because "..."'
    )


def _turns(wanted: str, path: str, before: Report, after: Report) -> tuple[Turn, ...]:
    turns = []
    for now in after.findings:
        was = before.result(now.id)
        hangs = path in now.missing or any(use.path == path for use in now.facts)
        if isinstance(was, Finding) and (hangs or path in was.missing):
            turns.append(
                Turn(
                    finding=now.id,
                    says=now.says,
                    before=was.verdict,
                    after=now.verdict,
                    margin_before=was.margin,
                    margin_after=now.margin,
                )
            )
    return tuple(sorted(turns, key=lambda turn: (turn.finding != wanted, turn.before is turn.after)))
