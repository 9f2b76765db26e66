"""Names that facts had before: one table, sound in itself, and no figure moved by it."""

from __future__ import annotations

import pytest

from trialfit.book.toml_text import read_text
from trialfit.evaluation.draws import draws_of
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import KINDS
from trialfit.parts.declaring import WordSpec
from trialfit.parts.old_names import OLD_NAMES, drawn_as, fact_now, finding_now, kind_now, old_facts, word_now

FACTS = [one for one in OLD_NAMES if one.what == "fact"]


def test_no_name_stands_twice_and_none_leads_to_another_old_one():
    assert len({(one.what, one.of, one.old) for one in OLD_NAMES}) == len(OLD_NAMES)
    olds = {(one.what, one.of, one.old) for one in OLD_NAMES}
    assert [one for one in OLD_NAMES if (one.what, one.of, one.new) in olds] == []
    assert {one.what for one in OLD_NAMES} == {"kind", "fact", "word", "finding"}


@pytest.mark.parametrize("one", FACTS, ids=lambda one: f"{one.of}.{one.old}")
def test_an_old_fact_is_no_fact_of_its_kind_any_more_and_its_new_name_is(one):
    specs = KINDS[one.of].specs()

    assert one.old not in specs
    assert one.new in specs
    assert fact_now(one.of, one.old) == one.new == fact_now(one.of, one.new)
    assert old_facts(one.of)[one.old] == one.new
    assert drawn_as(one.of, one.new) == one.old


@pytest.mark.parametrize("one", [one for one in OLD_NAMES if one.what == "word"], ids=lambda one: f"{one.of}={one.old}")
def test_an_old_word_is_no_word_of_its_fact_any_more_and_its_new_one_is(one):
    kind, _, fact = one.of.partition(".")
    spec = KINDS[kind].specs()[fact]

    assert isinstance(spec, WordSpec)
    assert one.old not in spec.words
    assert one.new in spec.words
    assert word_now(kind, fact, one.old) == one.new


def test_old_kinds_are_none_any_more_and_lead_to_kinds():
    kinds = [one for one in OLD_NAMES if one.what == "kind"]

    assert kinds
    assert all(one.old not in KINDS and kind_now(one.old) == one.new in KINDS for one in kinds)


def test_a_finding_is_renamed_with_all_whose_id_begins_with_it_and_no_other():
    assert finding_now("structure.weld_room.arm") == "structure.torch_access.arm"
    assert finding_now("structure.weld_rooms.arm") == "structure.weld_rooms.arm"


def test_a_renamed_fact_draws_as_under_its_old_name():
    """Its draws are seeded by the path it had, also in a build that was never written otherwise: no figure moves."""
    build = read_text(
        '[engine]\napplication_factor = "1.6 ± 0.3"\ntorque_curve = "rpm : N·m | 1000 : 180 | 3500 : 265"'
    )
    engine = build.parts["engine"]
    fact = engine.application_factor.written

    drawn = Evaluation(build, 64)(engine.application_factor)

    assert (drawn == draws_of("engine.shock_factor", fact.si, fact.spread, 64)).all()
    assert (drawn != draws_of("engine.application_factor", fact.si, fact.spread, 64)).any()
    assert engine.torque_curve.drawn_as == "engine.torque_curve"


def test_a_value_of_a_list_draws_by_its_path():
    build = read_text('[gearbox]\nratios = ["3.6", "2.1"]')

    assert [ref.drawn_as for ref in build.parts["gearbox"].ratios] == ["gearbox.ratios.1", "gearbox.ratios.2"]
