"""./test: all checks, or some tests only; no failure stays without a name or an exit code."""

from __future__ import annotations

import pytest

SET_UP = [
    *("venv by python3", "installer by python3", "pip installer.lock", "uv requirements-test.lock"),
    *("installer by python", "pip node.lock", "npm ci", "esbuild"),
]
CHECKS = ["ruff check .", "ruff format --check .", "mypy ", "lint-imports --no-cache --no-logo"]
TESTS = "pytest -q -n auto --maxprocesses 8 --dist worksteal"
MANUAL = "sphinx-build -q -W --keep-going -b html docs docs/_build/html"


@pytest.fixture
def with_manual(machine):
    """A checkout with a manual."""
    (machine.checkout / "docs").mkdir()
    (machine.checkout / "docs/conf.py").touch()
    return machine


def test_without_words_every_check_is_made_and_the_tests_come_last(with_manual):
    """The manual is made beside the other checks, and is done before the tests begin."""
    done = with_manual.start("test")
    asked = with_manual.asked()

    assert done.returncode == 0
    assert done.stdout.splitlines()[-1] == "pytest speaks"
    assert [one for one in asked if one != MANUAL] == [*SET_UP, *CHECKS, TESTS]
    assert MANUAL in asked[len(SET_UP) : -1]


def test_a_manual_that_fails_is_told_of_under_its_name(with_manual):
    with_manual.breaks("sphinx-build")

    done = with_manual.start("test")
    said = done.stdout.splitlines()

    assert done.returncode == 1
    assert done.stderr.splitlines()[-1] == "Failed: manual"
    assert said[said.index("== manual") + 1] == "sphinx-build speaks"
    assert with_manual.asked()[-1] == TESTS


def test_the_word_long_alone_makes_every_check_with_whole_proofs(machine):
    done = machine.start("test", "--long")

    assert done.returncode == 0
    assert machine.asked() == [*SET_UP, *CHECKS, f"{TESTS} --long"]


def test_the_word_long_among_others_goes_to_the_tests_alone(machine):
    machine.start("test", "--long", "tests/facts")

    assert machine.asked() == [*SET_UP, "pytest --long tests/facts"]


def test_words_go_to_the_tests_alone(machine):
    machine.start("test", "tests/facts", "-k", "two words")

    assert machine.asked() == [*SET_UP, "pytest tests/facts -k two words"]


@pytest.mark.parametrize(
    ("tool", "name"), [("ruff", "style, layout"), ("mypy", "types"), ("lint-imports", "floors"), ("pytest", "tests")]
)
def test_a_check_that_fails_hides_no_other_and_is_named_at_the_end(machine, tool, name):
    machine.breaks(tool)

    done = machine.start("test")

    assert done.returncode == 1
    assert done.stderr.splitlines()[-1] == f"Failed: {name}"
    assert f"{tool} speaks" in done.stdout
    assert machine.asked() == [*SET_UP, *CHECKS, TESTS]


def test_the_exit_code_of_some_tests_only_is_that_of_the_tests(machine):
    machine.breaks("pytest")

    assert machine.start("test", "tests/facts").returncode == 1


def test_the_check_on_a_server_is_the_same_one(machine):
    done = machine.start(".ci/run")

    assert done.returncode == 0
    assert machine.asked() == [*SET_UP, *CHECKS, TESTS]
