"""A test that works out too much fails, whatever machine it runs on."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
import thorough
import thrift

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation

DRAWS = 64


@pytest.fixture
def car():
    """A car with an uncertain mass and an exact wheelbase, and the evaluation that draws them."""
    build = read_text('[car]\nmass = "900 ± 10 kg"\nwheelbase = "2.5 ± 0 m"', "mine.toml")
    return build.parts["car"], Evaluation(build, DRAWS)


def test_every_value_drawn_of_an_uncertain_fact_is_counted(car):
    """An exact fact needs no draws, and a fact that is read again is not drawn again."""
    part, ev = car
    before = thrift.drawn()
    for ref in (part.mass, part.wheelbase, part.mass):
        ev(ref)

    assert thrift.drawn() - before == DRAWS


@pytest.mark.parametrize(
    ("most", "is_long", "outcome"), [(63, False, "failed"), (64, False, "passed"), (63, True, "passed")]
)
def test_a_test_that_draws_too_much_fails_in_the_usual_run(car, request, monkeypatch, most, is_long, outcome):
    hooks = request.config.pluginmanager.get_plugin(str(Path(__file__).with_name("conftest.py")))
    monkeypatch.setattr(thrift, "MOST", most)
    monkeypatch.setattr(thorough, "is_long", is_long)
    part, ev = car
    ev(part.mass)
    report = SimpleNamespace(when="call", passed=True, outcome="passed", longrepr="")
    looked_at = hooks.pytest_runtest_makereport(request.node)
    next(looked_at)
    with pytest.raises(StopIteration):
        looked_at.send(report)
    monkeypatch.undo()

    assert report.outcome == outcome
    assert ("fewer draws" in report.longrepr) == (outcome == "failed")


def test_what_is_too_much_is_said_with_what_to_do():
    assert thrift.too_many(thrift.MOST) == ""
    says = thrift.too_many(thrift.MOST + 50_000_000)
    assert "drew 150 million values, at most 100 million are allowed" in says
    assert "only_long" in says


def test_one_test_can_be_let_draw_more():
    @thrift.may_draw(2 * thrift.MOST)
    def story():
        """A long one."""

    assert thrift.too_many(2 * thrift.MOST, story) == ""
    assert "at most 200 million" in thrift.too_many(2 * thrift.MOST + 1, story)
