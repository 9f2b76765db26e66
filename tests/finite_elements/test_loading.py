"""The large libraries are loaded when a build has parts that need them, and not before."""

from __future__ import annotations

import subprocess
import sys

import pytest

MOUNT = '[m]\nkind = "mount"\nx = "0 m"\ny = "0 m"\nz = "0 m"\n'
WALLS = """[m]
kind = "reinforcement"
shape = "walls"
corner_y = ["0 mm", "40 mm", "0 mm"]
corner_z = ["0 mm", "0 mm", "40 mm"]
walls = "1-2, 2-3, 3-1"
wall_thicknesses = ["2 mm", "2 mm", "2 mm"]
"""


@pytest.mark.parametrize(("text", "loaded"), [(MOUNT, []), (WALLS, ["skfem"])])
def test_only_a_build_that_needs_finite_elements_loads_them(text: str, loaded: list[str]) -> None:
    """Over sys.modules instead of a clock: the same on every machine."""
    code = (
        "import sys; from trialfit.book import read_text; from trialfit.subjects.catalogue import evaluate;"
        f"evaluate(read_text({text!r}), 16, ('structure', 'lifting'));"
        "print([name for name in ('skfem',) if name in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)  # noqa: S603 - our own

    assert ran.stdout.strip() == str(loaded)
