"""No number on paper that differs from the screen: each is found in what the other commands print of the same build."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from trialfit.cli.main import main
from trialfit.facts.quantity import TORQUE
from trialfit.facts.units import find_unit, from_si
from trialfit.parts import BoltedJoint
from trialfit.sheets.sheet import Beside, Heading, Sheet, Table, texts_of

from .printing import DEMOS, DRAWS, figures_in

DEMO_NAMES = [file.stem for file in DEMOS]
LBF_FT = 1.3558179483  # N·m in 1 lbf·ft. NIST Special Publication 811, appendix B.8
OWN_SHEETS = ("tightening", "measuring", "driveline-setting", "ports-and-lines")
_LBF_FT = re.compile(r"([\d.]+) lbf·ft")


@pytest.fixture(scope="module")
def screen(demos) -> Callable[[str], set[str]]:
    """Every number that the commands print of a demo, and every number of its file."""
    seen: dict[str, set[str]] = {}

    def numbers(build: str) -> set[str]:
        if build not in seen:
            file = next(file for file in DEMOS if file.stem == build)
            joints = [joint.name for joint in demos[build].build.all(BoltedJoint)]
            commands = [["check", "--figures"], ["measure"], ["facts"], *(["tighten", joint] for joint in joints)]
            text = file.read_text(encoding="utf-8") + "".join(_printed(file, command) for command in commands)
            seen[build] = set(figures_in(text))
        return seen[build]

    return numbers


def _printed(file, command: list[str]) -> str:
    import io
    from contextlib import redirect_stdout

    caught = io.StringIO()
    more = [] if command[0] == "facts" else ["--draws", str(DRAWS)]
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(caught):
        patch.setenv("COLUMNS", "110")
        assert main([command[0], str(file), *command[1:], *more]) in (0, 1)
    return re.sub(r"\s*\n\s*", " ", caught.getvalue())


def _without_numbering(sheet: Sheet) -> Sheet:
    """The sheet without rows' own numbers, and without what stands in the third demo's or the fixed texts anyway."""
    blocks = []
    for block in sheet.blocks:
        if isinstance(block, Table):
            rows = tuple(
                tuple(cell for cell in row if not (isinstance(cell, str) and cell.isdigit())) for row in block.rows
            )
            block = block.model_copy(update={"rows": rows, "columns": ()})  # noqa: PLW2901
        blocks.append(block)
    return sheet.model_copy(update={"blocks": tuple(blocks)})


@pytest.mark.parametrize("build", DEMO_NAMES)
@pytest.mark.parametrize("name", OWN_SHEETS)
def test_every_number_on_the_sheet_is_one_of_the_screen(sheet_of, screen, build, name):
    """Numbers in lbf·ft are left to the next test: the screen shows torques in N·m and in the unit of the wrench."""
    usual = {"the usual readings": _usual_readings()}
    known = screen(build) | usual["the usual readings"]
    strange = {
        (figure, text)
        for text in texts_of(_without_numbering(sheet_of(build, name)))
        for figure in figures_in(_LBF_FT.sub("", re.sub(r"\(([^()]*lbf·ft)\)", "", text)))
        if figure not in known and not text.startswith("Numbers are those of the list")
    }

    assert strange == set()


def _usual_readings() -> set[str]:
    """Numbers of the readings that gates ask for: their table is their source, on the screen and here."""
    from pathlib import Path

    import trialfit.planning

    table = Path(trialfit.planning.__file__).parent / "readings.csv"
    return set(figures_in(table.read_text("utf-8")))


@pytest.mark.parametrize("build", DEMO_NAMES)
def test_foot_pounds_are_newton_metres_by_the_published_factor(sheet_of, build):
    pairs = [
        (float(cells[1].split()[0]), float(cells[2].split()[0]))
        for block in sheet_of(build, "tightening").blocks
        if isinstance(block, Table)
        for cells in block.rows
        if isinstance(cells[2], str) and cells[2].endswith("lbf·ft")
    ]

    assert pairs or build == "automatic"  # which has no bolted joint
    for metres, feet in pairs:
        assert feet == pytest.approx(metres / LBF_FT, rel=5e-3)


def test_the_setting_is_in_the_wrenchs_own_unit_with_the_extension_counted_in(sheet_of):
    """The crow-foot of 52 mm on a wrench of 430 mm: 65 N·m at the bolt are 58 N·m on the scale: T·L/(L + E), by hand."""
    blocks = sheet_of("hillclimb", "tightening").blocks
    start = next(
        place for place, block in enumerate(blocks) if isinstance(block, Heading) and block.text == "prop_flange"
    )
    stages = next(block for block in blocks[start:] if isinstance(block, Table) and block.columns[0].title == "stage")
    settings = [row[3] for row in stages.rows]
    sump = next(place for place, block in enumerate(blocks) if isinstance(block, Heading) and block.text == "sump_rail")
    small = next(block for block in blocks[sump:] if isinstance(block, Table) and block.columns[0].title == "stage")

    assert settings[3] == f"{65 * 430 / (430 + 52):.0f} N·m"
    assert small.rows[3][3] == f"{from_si(10.0, find_unit(TORQUE, 'lbf·in')):.1f} lbf·in"


def test_a_bolt_has_one_number_on_the_sheet_and_it_is_its_turn(sheet_of):
    """Head with eight bolts: boxes, order and loosening all speak of the numbers that stand in the figure."""
    blocks = sheet_of("hillclimb", "tightening").blocks
    start = next(
        place for place, block in enumerate(blocks) if isinstance(block, Heading) and block.text == "head_left"
    )
    pattern = next(block for block in blocks[start:] if isinstance(block, Beside))
    boxes = next(block for block in blocks[start:] if isinstance(block, Table) and block.columns[0].title == "bolt")
    said = {line.label: line.value for line in pattern.lines}

    assert [row[0] for row in boxes.rows] == [str(turn) for turn in range(1, 9)]
    assert (said["order"], said["loosen"]) == ("1 first, 8 last", "8 first, 1 last")
    assert "1 is tightened first" in pattern.drawing.caption


def test_a_joint_that_must_never_be_made_has_no_box_to_tick(sheet_of):
    """A tapered thread in a straight port: the sheet must not invite anybody to finish it."""
    tables = [block for block in sheet_of("hillclimb", "ports-and-lines").blocks if isinstance(block, Table)]
    bad = [row for table in tables for row in table.rows if any("dangerous:" in str(cell) for cell in row)]

    assert [row[-1] for row in bad if len(row) == 5] == ["do not fit"]


def test_an_open_port_is_called_open(sheet_of):
    ports = next(block for block in sheet_of("hillclimb", "ports-and-lines").blocks if isinstance(block, Table))
    closed = {row[1].partition(";")[0]: row[5] for row in ports.rows}

    assert closed["heater_return"].startswith("NO: only a cap is on it")
    assert closed["oil_cooler_feed"] == "yes: cooler_feed_hose closes it"


def test_the_measuring_sheet_numbers_what_measure_numbers(demos, sheet_of):
    tables = [block for block in sheet_of("hillclimb", "measuring").blocks if isinstance(block, Table)]
    listed = demos["hillclimb"].measurements

    for row in tables[0].rows:
        assert str(row[1]).startswith(f"{listed[int(row[0]) - 1].path}: ")


def test_the_driveline_sheet_says_change_and_shim_with_their_side(sheet_of):
    """3.7° on the gearbox and 3.0° on the final drive: the nose goes up by 0.7°, a wedge of 140·tan 0.7° = 1.71 mm."""
    rows = {
        row[0].partition(":")[0]: row
        for block in sheet_of("hillclimb", "driveline-setting").blocks
        if isinstance(block, Table)
        for row in block.rows
    }

    assert rows["driveline.setting.tacked.change"][1].startswith("0.70 ±")
    assert rows["driveline.setting.tacked.shim"][1].startswith("1.71 ±")
    assert "thick end goes to the front on an axle above its springs" in rows["driveline.setting.tacked.shim"][0]
