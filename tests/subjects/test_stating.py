"""Which findings a build has follows from its parts, words and references: nothing is evaluated, and no value decides."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import read
from trialfit.book.build import Build
from trialfit.evaluation.evaluation import Evaluation
from trialfit.facts.fact import Fact
from trialfit.subjects.catalogue import requirements

if TYPE_CHECKING:
    from trialfit.parts.declaring import Part, Value

DEMOS = tuple(sorted((Path(__file__).parents[2] / "demos").glob("*.toml")))


@cache
def demo(file: Path) -> Build:
    return read(file)


@cache
def stated(file: Path) -> list[str]:
    return [one.id for one in requirements(demo(file))]


def with_values(build: Build, factors: dict[str, float], others: float) -> Build:
    """The build with the values of each part taken times a factor; what is written stays written."""

    def changed(value: Value, factor: float) -> Value:
        if isinstance(value, tuple):
            return tuple(replace(one, value=one.value * factor) if isinstance(one, Fact) else one for one in value)  # type: ignore[return-value]
        return replace(value, value=value.value * factor) if isinstance(value, Fact) else value

    def moved(part: Part) -> Part:
        factor = factors.get(part.name, others)
        return type(part)(part.name, {key: changed(value, factor) for key, value in part.values.items()})

    return replace(build, parts={name: moved(part) for name, part in build.parts.items()})


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_nothing_is_evaluated_while_requirements_are_stated(monkeypatch, file) -> None:
    build = demo(file)

    def refuse(*_: object) -> None:
        pytest.fail("stating requirements evaluated something")

    monkeypatch.setattr(Evaluation, "__init__", refuse)
    monkeypatch.setattr(Evaluation, "__call__", refuse)

    assert len(requirements(build)) > 100


@pytest.mark.parametrize("file", some(DEMOS[::-1]), ids=lambda file: file.stem)
def test_no_value_decides_which_findings_there_are(file) -> None:
    """A solid of no size, a rack 300 m away, a gearbox with negative ratios: the ids are the same."""

    @settings(max_examples=15, deadline=None)
    @given(
        st.dictionaries(st.sampled_from(sorted(demo(file).parts)), st.floats(-1e3, 1e3), max_size=20),
        st.sampled_from([-1.0, 0.0, 0.3, 1.0, 1e3]),
    )
    def state(factors: dict[str, float], others: float) -> None:
        assert [one.id for one in requirements(with_values(demo(file), factors, others))] == stated(file)

    state()
