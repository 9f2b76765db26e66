"""How good a reading must be for the finding that it is to settle.

Answers   allowed          the widest spread of the measurement that settles the finding at the value that was read
          what_it_serves   the margin there, in words
          fact_ref         the fact that a measurement is of
Method    The finding is worked out three times without any other spread: with the fact at the value that was read, and one
          expanded uncertainty to either side. With m the margin at the value and d its change per unit of the fact, a
          spread U (k = 2) settles it where z·U/2·|d| ≤ |m|, z as the verdict asks: 2.576 for safety, else 1.960.
Sources   ISO 14253-1 (guard band); JCGM 100, 5.1.3 (sensitivities by moving the input)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM
from trialfit.evaluation.working import margin_of
from trialfit.facts.fact import Fact
from trialfit.facts.showing import show
from trialfit.facts.spread import WrittenSpread
from trialfit.facts.units import display_unit, from_si
from trialfit.parts.fact_refs import FactRef
from trialfit.subjects.measuring.taken import quantity_of, taken

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement
    from trialfit.parts import Measurement
    from trialfit.parts.declaring import Value

_EXACT = WrittenSpread(0.0, 0.0)


@dataclass(frozen=True)
class _Served:
    margin: float
    per_unit: float
    stands_off: float


def allowed(ev: Evaluation, measurement: Measurement) -> float:
    """The widest expanded uncertainty that settles what the measurement serves, SI. Raises MissingFact."""
    served = ev.of(_served, measurement)
    return 2 * abs(served.margin) / (served.stands_off * abs(served.per_unit))


def what_it_serves(ev: Evaluation, measurement: Measurement) -> str:
    """How far from its limit the served finding is, in the unit that is read."""
    served = ev.of(_served, measurement)
    unit = display_unit(quantity_of(measurement))
    clear = show(abs(served.margin / served.per_unit), unit)
    side = "on the right side of" if served.margin >= 0 else "beyond"
    return f"the value that was read is {clear} {side} the limit of {measurement.serves}, all else as written"


def fact_ref(build: Build, path: str | None) -> FactRef | None:
    """The fact of a path such as "gearbox.ratios.2"; None where the build has none such."""
    name, _, rest = (path or "").partition(".")
    key, _, number = rest.partition(".")
    part = build.named(name)
    found = getattr(part, key, None) if part is not None and key in type(part).specs() else None
    if isinstance(found, tuple):
        place = int(number) - 1 if number.isdigit() else -1
        return found[place] if 0 <= place < len(found) else None
    return found if isinstance(found, FactRef) else None


def _served(ev: Evaluation, measurement: Measurement) -> _Served:
    result = ev.of(taken, measurement)
    ref = fact_ref(ev.build, measurement.of)
    if ref is None or ref.spec.quantity is not quantity_of(measurement):
        raise MissingFact({f"{measurement.name}.of": f"the fact of this build that {measurement.name} measures"})
    step = result.expanded or abs(result.value) * 1e-3 or 1e-6
    low, middle, high = (_margin(ev.build, measurement, ref, result.value + move * step) for move in (-1.0, 0.0, 1.0))
    per_unit = (high - low) / (2 * step)
    if per_unit == 0 or not np.isfinite([low, middle, high]).all():
        says = f"a finding that depends on {measurement.of}: {measurement.serves} does not"
        raise MissingFact({f"{measurement.name}.serves": says})
    return _Served(middle, per_unit, _stands_off(ev.build, measurement, middle))


def _stands_off(build: Build, measurement: Measurement, margin: float) -> float:
    stake = _requirement(build, measurement).stake
    return NormalDist().inv_cdf(HOLDS_FROM[stake] if margin >= 0 else 1 - FAILS_TO)


def _margin(build: Build, measurement: Measurement, ref: FactRef, value: float) -> float:
    changed = _with(build, ref, value)
    return float(margin_of(Evaluation(changed, 1), _requirement(changed, measurement))[0])


def _requirement(build: Build, measurement: Measurement) -> Requirement:
    from trialfit.subjects.catalogue import requirements, subject_names  # it includes this subject too

    serves = measurement.serves or ""
    subject = serves.partition(".")[0]
    stated = requirements(build, (subject,)) if subject in subject_names() else []
    for one in stated:
        if one.id == serves and (one.limits or serves in build.limits):
            return one
    raise MissingFact({f"{measurement.name}.serves": f"a finding with a limit: this build has no {serves}"})


def _with(build: Build, ref: FactRef, value: float) -> Build:
    """The build with one fact at another value, exact."""
    name, key, *rest = ref.path.split(".")
    unit = ref.known.unit if ref.known else display_unit(ref.spec.quantity)
    fact = Fact(ref.spec.quantity, float(from_si(value, unit)), unit, _EXACT)
    part = build.parts[name]
    new: Value = fact
    if rest:
        items: list[Fact] = list(part.values[key])  # type: ignore[arg-type]
        items[int(rest[0]) - 1] = fact
        new = tuple(items)
    changed = type(part)(part.name, {**part.values, key: new})
    return replace(build, parts={**build.parts, name: changed})
