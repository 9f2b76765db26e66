"""A file whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book.problems import BadInput
from trialfit.book.saving import PDF, SVG, make_folder, save


def test_a_file_is_replaced_by_the_whole_new_one(tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(b"%PDF-old")
    save(b"%PDF-new", file, PDF)

    assert file.read_bytes() == b"%PDF-new"
    assert [one.name for one in tmp_path.iterdir()] == ["sheet.pdf"]


def test_what_was_there_stays_when_the_disk_is_full(tmp_path, monkeypatch):
    """The name goes over only when every byte is on the disk."""
    file = tmp_path / "sheet.pdf"
    file.write_bytes(b"%PDF-old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("trialfit.book.disk.os.fsync", full)
    with pytest.raises(BadInput) as refused:
        save(b"%PDF-new", file, PDF)

    assert refused.value.sentences() == [f"{file}: cannot be written: no space left on device"]
    assert file.read_bytes() == b"%PDF-old"
    assert [one.name for one in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_folder_is_no_file(tmp_path):
    with pytest.raises(BadInput) as refused:
        save(b"%PDF-new", tmp_path, PDF)

    assert "is a folder: expected a name for the file, for example tightening.pdf" in refused.value.sentences()[0]


def test_a_folder_is_made_with_those_above_it(tmp_path):
    make_folder(tmp_path / "a" / "b")

    assert (tmp_path / "a" / "b").is_dir()


def test_a_file_in_the_way_of_a_folder_is_named(tmp_path):
    file = tmp_path / "sheets"
    file.touch()
    for folder, says in ((file, "is a file: expected a folder"), (file / "b", "cannot be made: not a directory")):
        with pytest.raises(BadInput, match=says):
            make_folder(folder)


def test_a_name_that_no_file_system_takes_is_refused_in_words(tmp_path):
    for name in ("a" * 400, "a\0b"):
        with pytest.raises(BadInput, match="cannot be written"):
            save(b"%PDF-new", tmp_path / name, PDF)
    assert list(Path(tmp_path).iterdir()) == []


def test_a_link_to_a_file_that_is_not_there_is_not_written_through(tmp_path):
    link = tmp_path / "plan.svg"
    link.symlink_to("gone.toml")

    with pytest.raises(BadInput, match="link to a file that is not there"):
        save(b"<svg/>", link, SVG)
    assert not (tmp_path / "gone.toml").exists()
