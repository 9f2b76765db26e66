"""The register of the ways in which parts fail: every kind has its rows, every safety requirement stands in it, every id in it exists."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

from trialfit.book import read
from trialfit.book.conditions import holds
from trialfit.book.toml_text import read_text
from trialfit.evaluation.requirement import Stake
from trialfit.parts import KINDS
from trialfit.subjects.catalogue import requirements
from trialfit.subjects.register import WHEN, matches, register

ROOT = Path(__file__).parents[2]
SUBJECTS = ROOT / "src" / "trialfit" / "subjects"
DEMOS = sorted((ROOT / "demos").glob("*.toml"))
ALSO_STATED = """
[port_cut]
kind = "port"
thread = "G 1/4"
cut_by = "builder"
[joint]
kind = "bolted_joint"
maker_state = "oiled"
maker_torques = ["50 N·m, manual"]
bolt_kind = "stretch"
[sump]
kind = "solid"
fixed_to = "drivetrain"
removal_drop = "200 mm"
[drivetrain]
removal_height = "1 m"
level_inclination = "3°"
minimum_rear_share = "45 %"
[prop_shaft]
after = "gearbox"
front_joint_angle_limit = "20°"
[gearbox]
ratios = ["3.4", "2.1"]
output_inclination = "2°"
[final_drive]
after = "prop_shaft"
[transfer_case]
low_ratio = "2.5"
[torque_converter]
rated_torque = "300 N·m"
[old_rail]
kind = "cut_member"
"""
SOURCES = ("common practice, no source", "from memory: ", "published: ")


@cache
def stated() -> dict[str, bool]:
    """The ids with a limit that the demos and a few lines state, and whether safety is at stake in any of them."""
    found: dict[str, bool] = {}
    for build in (*map(read, DEMOS), read_text(ALSO_STATED)):
        for one in requirements(build):
            if one.limits:
                found[one.id] = found.get(one.id, False) or one.stake is Stake.safety
    return found


@cache
def in_source() -> dict[str, bool]:
    """The ids with a limit that stand in the source of the subjects, `*` for what is filled in, and whether safety may be at stake.

    A stake that is worked out counts as safety.
    """
    found: dict[str, bool] = {}
    for path in sorted(SUBJECTS.rglob("*.py")):
        module = ast.parse(path.read_text(encoding="utf-8"))
        words = _constants(module) | ({} if path.parent == SUBJECTS else {"SUBJECT": path.parent.name})
        for call in ast.walk(module):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "Requirement":
                given = {one.arg: one.value for one in call.keywords}
                if "id" in given and ("limit" in given or "also" in given):
                    name = _pattern(given["id"], words)
                    stake = ast.unparse(given["stake"])
                    found[name] = found.get(name, False) or stake not in ("Stake.durability", "Stake.comfort")
    return found


def _constants(module: ast.Module) -> dict[str, str]:
    return {
        target.id: str(node.value.value)
        for node in module.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }


def _pattern(name: ast.expr, words: dict[str, str]) -> str:
    if isinstance(name, ast.Constant):
        return str(name.value)
    if isinstance(name, ast.JoinedStr):
        return "".join(
            str(piece.value) if isinstance(piece, ast.Constant) else words.get(getattr(piece.value, "id", ""), "*")  # type: ignore[attr-defined]
            for piece in name.values
        )
    return "*"


def meet(one: str, other: str) -> bool:
    """Whether some id is named by both patterns."""
    if not one or not other:
        return not (one + other).strip("*")
    if one[0] == "*":
        return meet(one[1:], other) or meet(one, other[1:])
    if other[0] == "*":
        return meet(other, one)
    return one[0] == other[0] and meet(one[1:], other[1:])


def judging() -> set[str]:
    return {pattern for mode in register() for pattern in mode.judged_by}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_part_has_its_register(kind):
    assert [mode.id for mode in register() if mode.kind == kind]


def test_every_kind_in_the_register_exists():
    assert {mode.kind for mode in register()} <= set(KINDS)


def test_every_safety_requirement_that_a_demo_states_is_in_the_register():
    at_safety = [name for name, safety in stated().items() if safety]
    missing = [name for name in at_safety if not any(matches(pattern, name) for pattern in judging())]

    assert missing == [], "requirements at stake safety that no row of subjects/register.csv names under `judged by`"


def test_every_safety_requirement_in_the_source_of_the_subjects_is_in_the_register():
    at_safety = [name for name, safety in in_source().items() if safety and name != "*"]
    missing = [name for name in at_safety if not any(meet(name, pattern) for pattern in judging())]

    assert missing == [], "requirements at stake safety that no row of subjects/register.csv names under `judged by`"


def test_every_requirement_that_the_register_names_exists():
    in_text = {name for name in in_source() if name != "*"}
    unknown = [
        pattern
        for pattern in sorted(judging())
        if not any(matches(pattern, name) for name in stated())
        and not any(matches(pattern, name.replace("*", "x")) for name in in_text)
    ]

    assert unknown == [], "ids in subjects/register.csv that no subject states"


@pytest.mark.parametrize("mode", register(), ids=lambda mode: mode.id)
def test_a_row_says_how_it_fails_and_how_to_see_it(mode):
    assert mode.id.startswith(f"{mode.kind}.")
    assert mode.before in WHEN
    assert mode.fails
    assert not mode.fails.endswith(".")
    assert len(mode.by_hand) > 10
    assert mode.by_hand[-1] in ".?"
    assert mode.source.startswith(SOURCES)
    holds(read_text(""), mode.only_with)  # raises for a word that is none


def test_ids_are_given_once():
    ids = [mode.id for mode in register()]

    assert len(ids) == len(set(ids))


def test_rows_stand_kind_by_kind_in_the_order_of_the_kinds():
    kinds = list(dict.fromkeys(mode.kind for mode in register()))

    assert sorted(kinds, key=list(KINDS).index) == kinds
