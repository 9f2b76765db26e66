"""What the demo builds come to: every finding and figure with its side, stake, value and limit, as it was when it was last looked at.

A change that is meant is written down anew by `.setup/venv/bin/python tests/subjects/test_demo_figures.py`; look at the difference.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import pytest

import trialfit as tf

DEMOS = Path(__file__).parents[2] / "demos"
NUMBERS = ("value", "limit")
COLUMNS = ("id", "stake", "side", *NUMBERS, "unit", "missing")


def worked_out(demo: str) -> list[dict[str, str]]:
    """A row for each finding and figure, by id; the nominal values, which are the same however many draws are carried."""
    report = tf.evaluate(tf.read(DEMOS / f"{demo}.toml"), 8)
    rows = []
    for one in (*report.findings, *report.figures):
        value, limit = one.value, getattr(one, "limit", None)
        rows.append(
            {
                "id": one.id,
                "stake": getattr(one, "stake", ""),
                "side": getattr(one, "side", ""),
                "value": "" if value is None else f"{value.nominal:.9g}",
                "limit": "" if limit is None else f"{limit.nominal:.9g}",
                "unit": value.unit if value else "",
                "missing": " ".join(sorted(one.missing)),
            }
        )
    return sorted(rows, key=lambda row: row["id"])


def place(demo: str) -> Path:
    return Path(__file__).with_name(f"demo_figures_{demo}.csv")


def kept(demo: str) -> list[dict[str, str]]:
    with place(demo).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("demo", sorted(one.stem for one in DEMOS.glob("*.toml")))
def test_the_demo_builds_come_to_what_they_came_to(demo: str) -> None:
    """To six digits."""
    found, expected = worked_out(demo), kept(demo)

    assert [row["id"] for row in found] == [row["id"] for row in expected]
    for row, was in zip(found, expected, strict=True):
        words = {name: row[name] for name in COLUMNS if name not in NUMBERS}
        assert words == {name: was[name] for name in words}
        for name in NUMBERS:
            assert bool(row[name]) == bool(was[name]), (row["id"], name)
            if was[name]:
                assert float(row[name]) == pytest.approx(float(was[name]), rel=1e-6, abs=1e-9, nan_ok=True), row["id"]


if __name__ == "__main__":
    for path in sorted(DEMOS.glob("*.toml")):
        with place(path.stem).open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
            writer.writeheader()
            writer.writerows(worked_out(path.stem))
        sys.stdout.write(f"written: {place(path.stem)}\n")
