"""Help comes at once and fits the screen."""

from __future__ import annotations

import pytest

from trialfit import __version__
from trialfit.cli.commands import COMMANDS, overview

HEAVY = ("numpy", "pint", "scipy", "pydantic", "cyclopts", "rich", "tomlkit")


@pytest.mark.parametrize("words", [(), ("--help",), ("-h",), ("help",)])
def test_help_lists_every_command(trialfit, words):
    ran = trialfit(*words)

    assert ran.code == 0
    for name, (_, says, _) in COMMANDS.items():
        assert name in ran.out
        assert says in ran.out


def test_help_imports_none_of_the_large_libraries(process):
    """Over sys.modules instead of a clock: fast on every machine."""
    code = (
        "import sys; from trialfit.cli.main import main; main(['--help']);"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)"
    )
    ran = process("-c", code)

    assert (ran.returncode, ran.stderr) == (0, "[]\n")


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_one_command_imports_no_formulas_and_no_models(process, name):
    code = (
        f"import sys; from trialfit.cli.main import main; main([{name!r}, '--help']);"
        "print([name for name in ('numpy', 'scipy', 'pint', 'pydantic', 'trialfit.book') if name in sys.modules], file=sys.stderr)"
    )
    ran = process("-c", code)

    assert (ran.returncode, ran.stderr) == (0, "[]\n")


def test_help_fits_eighty_columns():
    assert max(map(len, overview().splitlines())) <= 80


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_of_its_own(trialfit, name):
    ran = trialfit(name, "--help")

    assert ran.code == 0
    assert ran.out.startswith(f"Usage: trialfit {name}")
    assert len(ran.out.splitlines()) > 3
    assert max(map(len, ran.out.splitlines())) <= 81


def test_the_version_is_that_of_the_package(trialfit):
    assert trialfit("--version").out == f"trialfit {__version__}\n"
