"""One entry changed in a file: everything else stays as the builder wrote it."""

from __future__ import annotations

import stat

import pytest

from trialfit.book import BadInput, read, read_text
from trialfit.book.rewriting import change_file, with_entry

TEXT = """# my story
name = "mine"

[car]  # the shell
wheelbase = "2.40 m, taped"  # twice
mass = "960 kg"

[gearbox]
ratios = ["3.5", "2.0"]
"""


def test_comments_and_order_stay() -> None:
    """Only the value of the one line differs."""
    changed = with_entry(TEXT, "car.wheelbase", "2.41 m, taped")

    assert changed == TEXT.replace('"2.40 m, taped"', '"2.41 m, taped"')


def test_a_new_fact_goes_to_its_part() -> None:
    """A fact that was not there is added to the table of the part."""
    assert read_text(with_entry(TEXT, "car.rear_track", "1.4 m")).parts["car"].values["rear_track"].si == pytest.approx(
        1.4
    )


def test_a_new_part_can_be_begun() -> None:
    """Setting the kind of a part that is not there begins it."""
    assert read_text(with_entry(TEXT, "hubs.kind", "hub")).parts["hubs"].kind == "hub"


def test_a_limit_keeps_its_dotted_name() -> None:
    """The id of a finding has dots in it: it is one key."""
    changed = with_entry(TEXT, "limit.gearing.time.0_100_kmh", "7 s")

    assert read_text(changed).limits == {"gearing.time.0_100_kmh": "7 s"}


def test_a_choice_can_be_picked() -> None:
    """The pick is one entry like any other."""
    text = '[choice.box]\noptions = ["a", "b"]\npicked = "a"\n[a]\nkind = "gearbox"\n[b]\nkind = "gearbox"\n'

    assert list(read_text(with_entry(text, "choice.box.picked", "b")).parts) == ["b"]


def test_windows_line_ends_stay() -> None:
    """A file from Windows keeps its line ends, in old lines and new ones."""
    changed = with_entry(TEXT.replace("\n", "\r\n"), "car.rear_track", "1.4 m")

    assert "\r\n" in changed
    assert changed.count("\r\n") == changed.count("\n")


def test_a_curve_is_written_over_several_lines() -> None:
    """A text with line ends in it is written as one."""
    changed = with_entry(TEXT, "engine.torque_curve", "rpm : N·m\n1000 : 100\n2000 : 120")

    assert "1000 : 100\n2000 : 120" in changed
    assert read_text(changed).parts["engine"].values["torque_curve"].y == (100.0, 120.0)


def test_a_bad_value_leaves_the_file_untouched(tmp_path) -> None:
    """The file is replaced only by one that can be read again."""
    file = tmp_path / "mine.toml"
    file.write_text(TEXT)

    with pytest.raises(BadInput, match="car.mass"):
        change_file(file, lambda text: with_entry(text, "car.mass", "960 mm"))

    assert file.read_text() == TEXT
    assert list(tmp_path.iterdir()) == [file]


def test_a_change_keeps_the_mode_of_the_file(tmp_path) -> None:
    """Who may read the file is not ours to change."""
    file = tmp_path / "mine umlaut ä.toml"
    file.write_text(TEXT)
    file.chmod(0o640)

    change_file(file, lambda text: with_entry(text, "car.mass", "990 kg, weighed"))

    assert read(file).parts["car"].values["mass"].si == 990
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
