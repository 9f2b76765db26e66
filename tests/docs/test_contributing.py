"""The worked example of CONTRIBUTING.md, put together in a copy of the source and run."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
_BLOCK = re.compile(r"^```python\n# (\S+\.py)([^\n]*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
PIECES = {path: text for path, _, text in _BLOCK.findall((ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8"))}


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the source with the pieces of the example in their places."""
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=shutil.ignore_patterns("__pycache__"))
    for path, piece in PIECES.items():
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(_in_place(file, piece), encoding="utf-8")
    return tmp_path


def _in_place(file: Path, piece: str) -> str:
    """A new file as it is; facts in front of the first method of their class; the new list of subjects for the old one."""
    if not file.exists():
        return piece
    old = file.read_text(encoding="utf-8")
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
