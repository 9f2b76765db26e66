"""Mutation testing makes the faults it says, the same ones each time, and its list of harmless ones is not out of date."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture
def mutants(monkeypatch):
    """The module, which lies beside the program and not in it."""
    monkeypatch.setattr(sys, "path", [str(ROOT), *sys.path])
    from benchmarks.mutation import mutants

    return mutants


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("x = limit < value", {"limit <= value", "limit >= value"}),
        ("x = gear + ratio", {"gear - ratio"}),
        ("x = np.sin(angle)", {"np.cos(angle)"}),
        ("x = -offset_left", {"offset_left"}),
        ("x = not is_live_axle", {"is_live_axle"}),
        ("x = is_live and is_rear", {"is_live or is_rear"}),
        ("x = least * 7", {"least / 7", "least * 8"}),
        ("x = Bounds(at_least=low)", {"Bounds(at_most=low)"}),
        ("x = max(lengths)", {"min(lengths)"}),
        ("def f(part):\n    return part.name", {"return None"}),
        ("found.sort_by_name(key)", {"pass"}),
        ("raise BadInput(sentence)", {"pass"}),
    ],
)
def test_each_kind_of_fault_is_made(mutants, text, faults):
    """Shown with as much around it as makes it plain."""
    made = {one.now.removeprefix("x = ") for one in mutants.candidates(text, "facts/fact.py")}

    assert made == faults


@pytest.mark.parametrize(
    "text",
    [
        "def f(x: Literal[1]) -> Annotated[int, 2]:\n    '''Below 3.'''",
        "if TYPE_CHECKING:\n    from a import b",
        "@lru_cache(maxsize=1)\ndef f():\n    pass",
        "x = zip(a, b, strict=True)",
        "x = f'{length:.2f}'",
        "x = 1e-12",
        "x = np.where(sound, y, 1.0)",
    ],
)
def test_no_fault_is_made_where_it_would_change_nothing(mutants, text):
    assert list(mutants.candidates(text, "facts/fact.py")) == []


def test_the_fault_is_in_the_code_and_every_line_where_it_was(mutants):
    text = "def half(value):\n\n    return value / 2\n"
    (divided, *_) = [one for one in mutants.candidates(text, "facts/fact.py") if one.kind == "arithmetic"]
    space: dict = {}
    exec(mutants.compiled(text, "fact.py", divided), space)  # noqa: S102 - two lines from above

    assert space["half"](8) == 16
    assert space["half"].__code__.co_firstlineno == 1
    assert (divided.line, divided.reached, divided.function) == (3, (3,), "half")


def test_a_sample_is_the_same_each_time_and_a_larger_one_holds_the_smaller(mutants):
    source = ROOT / "src" / "trialfit"
    few, more, other = (
        mutants.sample(source, ["evaluation"], each, seed) for each, seed in ((10, 1), (30, 1), (10, 2))
    )

    assert mutants.sample(source, ["evaluation"], 10, 1) == few
    assert set(few) < set(more)
    assert set(few) != set(other)


def test_every_fault_that_is_listed_as_harmless_can_still_be_made_and_says_why(mutants):
    from benchmarks.mutation.__main__ import harmless

    source = ROOT / "src" / "trialfit"
    made: dict[str, set] = {}
    for (module, *fault), why in harmless().items():
        if module not in made:
            found = mutants.candidates((source / module).read_text(encoding="utf-8"), module)
            made[module] = {(one.function, one.was, one.now) for one in found}
        assert tuple(fault) in made[module], (module, fault)
        assert why.endswith(".")
