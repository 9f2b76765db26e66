"""A proof over many inputs: a fixed tenth by default, whole with --long, seen by a small run of pytest in its own process."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).parents[1] / "conftest.py"
PROOF = """
from pathlib import Path
import pytest
from hypothesis import given, settings, strategies as st
from thorough import some

DRAWN = Path(__file__).parent / "drawn"

@pytest.mark.parametrize("number", some(range(0, 300, 10)))
def test_each(number):
    print("took", number)

def test_counts():
    print("loop", some(2000), "few", some(3))

@settings(max_examples=some(200))
@given(st.integers())
def test_drawn(number):
    with DRAWN.open("a") as drawn:
        drawn.write(f"{number}\\n")
"""


@pytest.fixture
def run(tmp_path):
    """Runs the proof; what it printed, and the examples that were drawn."""
    for name in ("conftest.py", "thorough.py", "thrift.py"):
        (tmp_path / name).write_text((CONFTEST.parent / name).read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "test_proof.py").write_text(PROOF, encoding="utf-8")

    def done(*words):
        drawn = tmp_path / "drawn"
        drawn.unlink(missing_ok=True)
        ran = subprocess.run(
            [sys.executable, "-m", "pytest", "-q", "-rP", "-p", "no:cacheprovider", *words, str(tmp_path)],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stdout + ran.stderr
        took = [int(line.split()[1]) for line in ran.stdout.splitlines() if line.startswith("took")]
        return ran.stdout, took, drawn.read_text(encoding="utf-8").split()

    return done


def test_by_default_a_fixed_tenth_is_taken_the_same_every_time(run):
    said, took, drawn = run()

    assert took == [0, 100, 200]
    assert "loop 200 few 1" in said
    assert 0 < len(drawn) <= 20
    assert run()[2] == drawn


def test_the_long_run_takes_all_and_draws_anew(run):
    said, took, drawn = run("--long")

    assert took == list(range(0, 300, 10))
    assert "loop 2000 few 3" in said
    assert len(drawn) == 200


def test_several_processes_take_the_same_tenth(run):
    """Each of them reads the tests by itself, and all must read the same ones."""
    assert sorted(run("-n", "2")[1]) == [0, 100, 200]
    assert len(run("-n", "2", "--long")[1]) == 30
