"""CONTRIBUTING.md: its worked example is put together in a copy of the source and run; its floors are those of the contract."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
_BLOCK = re.compile(r"^```(?:python|text)\n# ([^\s,]+\.(?:py|csv))([^\n]*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
PIECES = {path: text for path, _, text in _BLOCK.findall(TEXT)}
QUANTITY_READ = """
from trialfit.facts.quantity import DAMPING
from trialfit.facts.reading import read_fact
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
fact = read_fact(DAMPING.example, DAMPING)
print(fact.si, show(fact.si, display_unit(DAMPING), 2), read_fact("1800 N s/m", DAMPING).si)
"""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the source with the pieces of the example in their places, and the factors of its units worked out."""
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=shutil.ignore_patterns("__pycache__"))
    for path, piece in PIECES.items():
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(_in_place(file, piece), encoding="utf-8")
    ran = _run(tmp_path, "-m", "trialfit.facts.factors")
    assert (ran.returncode, ran.stderr) == (0, "")
    return tmp_path


def _in_place(file: Path, piece: str) -> str:
    """A new file as it is; a piece of an old one where the text says it belongs."""
    if not file.exists():
        return piece
    old = file.read_text(encoding="utf-8")
    if file.suffix == ".csv":
        return old + piece
    if file.name == "quantity.py":
        name = piece.partition(" ")[0]
        new, replaced = re.subn(
            r"^(QUANTITIES.*?\n    for quantity in \(\n)",
            rf"{piece}\n\1        {name},\n",
            old,
            flags=re.MULTILINE | re.DOTALL,
        )
        assert replaced == 1
        return new
    if file.name == "catalogue.py":
        new, replaced = re.subn(r"^OURS = \(.*?\)\n", piece, old, flags=re.MULTILINE | re.DOTALL)
        assert replaced == 1
        return new
    imports = "from trialfit.facts.quantity import LENGTH, STIFFNESS\nfrom trialfit.facts.quantity"
    return old.replace("\n    def faults", f"\n{piece}\n    def faults", 1).replace(
        "from trialfit.facts.quantity", imports, 1
    )


def _run(copied: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - our own example
        [sys.executable, *words],
        cwd=copied,
        env={**os.environ, "PYTHONPATH": str(copied / "src")},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_example_names_its_files():
    assert list(PIECES) == [
        "src/trialfit/parts/engine.py",
        "src/trialfit/facts/quantity.py",
        "src/trialfit/facts/units.csv",
        "src/trialfit/handbook/engine_mounts.py",
        "src/trialfit/subjects/rocking.py",
        "src/trialfit/subjects/catalogue.py",
        "tests/subjects/test_rocking.py",
    ]


def test_the_example_works_as_it_stands(copied):
    """Its test and its doctest pass against the copy."""
    options = ["-q", "-p", "no:cacheprovider", "-W", "error", "--doctest-modules", "--import-mode=importlib"]
    places = ["--rootdir", str(copied), "tests/subjects/test_rocking.py", "src/trialfit/handbook/engine_mounts.py"]
    ran = _run(copied, "-m", "pytest", *options, *places)

    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "4 passed" in ran.stdout


def test_the_new_fact_can_be_looked_up(copied):
    assert "sump_gap" in _run(copied, "-m", "trialfit", "kinds", "engine").stdout


def test_the_new_quantity_is_read_shown_and_converted(copied):
    """1.8 kN·s/m are 1800 N·s/m; what is there already keeps its factors."""
    factors = (copied / "src/trialfit/facts/unit_factors.csv").read_text(encoding="utf-8")
    before = (ROOT / "src/trialfit/facts/unit_factors.csv").read_text(encoding="utf-8")

    assert factors == before + "damping,N·s/m,1,0.0\ndamping,kN·s/m,1000,0.0\n"
    assert _run(copied, "-c", QUANTITY_READ).stdout == "1800.0 1.8 kN·s/m 1800.0\n"


def test_the_floors_are_those_of_the_contract_and_of_the_source():
    """In the order of the contract; those in parentheses there are not built yet."""
    house = TEXT.partition("## The house")[2].partition("Each folder has")[0]
    told = re.findall(r"^    (\w+) {2,}\S", house, flags=re.MULTILINE)
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"][
        "contracts"
    ][0]
    floors = [name.strip() for layer in contract["layers"] for name in layer.split("|")]
    folders = {path.parent.name for path in (ROOT / "src/trialfit").glob("*/__init__.py")}

    assert told == [name for name in floors if not name.startswith("(")]
    assert set(told) == folders
