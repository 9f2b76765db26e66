"""write-out --replace: only what it wrote itself, known by a list of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book.carrying import folder_of, read_in, write_out_any
from trialfit.book.editing import attach, remove
from trialfit.book.media import Paper
from trialfit.book.opening import open_build
from trialfit.book.problems import BadInput


@pytest.fixture
def out(tmp_path, book):
    """A book with a plan, written out."""
    attach(book, "car", Paper("plan.pdf", b"%PDF-1.4 plan", "application/pdf"))
    file = tmp_path / "out" / "mine.toml"
    file.parent.mkdir()
    write_out_any(book.path, file)
    return file


def everything(folder: Path) -> dict[str, bytes]:
    """All files below a folder."""
    return {str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def test_what_was_written_out_is_replaced(book, out, put):
    attach(book, "car", Paper("other.txt", b"other", "text/plain"))
    remove(book, "attachment.plan")
    put(book, "car.mass", "970 kg")
    write_out_any(book.path, out, replace=True)

    assert open_build(out).document == book.document
    assert sorted(everything(out.parent)) == ["mine.files/other.txt", "mine.toml"]


def test_the_folder_goes_with_the_last_attachment(book, out):
    remove(book, "attachment.plan")
    write_out_any(book.path, out, replace=True)

    assert list(everything(out.parent)) == ["mine.toml"]
    assert not folder_of(out).exists()


def test_what_the_builder_has_put_into_the_folder_stays(book, out):
    (folder_of(out) / "precious.txt").write_bytes(b"precious")
    remove(book, "attachment.plan")
    write_out_any(book.path, out, replace=True)

    assert sorted(everything(out.parent)) == ["mine.files/precious.txt", "mine.toml"]


def _edited(out: Path) -> None:
    out.write_text(out.read_text().replace("960 kg", "961 kg"))


def _by_hand(out: Path) -> None:
    out.write_text('[car]\nmass = "960 kg"  # my own\n')


def _a_photo_in_the_way(out: Path) -> None:
    (folder_of(out) / "plan.pdf").write_bytes(b"%PDF-1.4 another plan")


def _a_link_in_the_way(out: Path) -> None:
    (out.parent / "elsewhere.pdf").write_bytes(b"%PDF-1.4 plan")
    (folder_of(out) / "plan.pdf").unlink()
    (folder_of(out) / "plan.pdf").symlink_to(out.parent / "elsewhere.pdf")


def _file_is_a_link(out: Path) -> None:
    out.rename(out.with_name("real.toml"))
    out.symlink_to("real.toml")


def _link_to_nowhere(out: Path) -> None:
    out.unlink()
    out.symlink_to("nowhere.toml")


def _folder_is_a_link(out: Path) -> None:
    folder_of(out).rename(out.parent / "photos")
    folder_of(out).symlink_to("photos")


def _another_folder(out: Path) -> None:
    out.unlink()
    (folder_of(out) / "plan.pdf").write_bytes(b"%PDF-1.4 mine")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (_edited, "was not written by trialfit, or was changed since"),
        (_by_hand, "was not written by trialfit, or was changed since"),
        (_a_photo_in_the_way, "plan.pdf: was changed or was not written by trialfit"),
        (_a_link_in_the_way, "plan.pdf: was changed or was not written by trialfit"),
        (_file_is_a_link, "is a link, a pipe or a device"),
        (_link_to_nowhere, "is a link to a file that is not there"),
        (_folder_is_a_link, "is a folder that trialfit did not write"),
        (_another_folder, "plan.pdf: was changed or was not written by trialfit"),
    ],
)
def test_what_is_not_its_own_is_never_replaced(book, out, put, change, says):
    change(out)
    put(book, "car.mass", "970 kg")
    before = everything(out.parent)
    with pytest.raises(BadInput, match=says):
        write_out_any(book.path, out, replace=True)

    assert everything(out.parent) == before
    assert not (out.parent / "nowhere.toml").exists()


def test_a_drawing_comes_back_under_the_ending_that_it_had(tmp_path, book):
    attach(book, "car", Paper("bracket.SVG", b"<svg/>", "text/plain"))
    file = tmp_path / "mine.toml"
    write_out_any(book.path, file)

    assert list(everything(folder_of(file))) == ["bracket.svg"]
    assert read_in(file)[0].document == book.document


def test_texts_that_an_older_program_wrote_out_are_still_found(tmp_path, book):
    attach(book, "car", Paper("bracket.svg", b"<svg/>", "text/plain"))
    file = tmp_path / "mine.toml"
    write_out_any(book.path, file)
    (folder_of(file) / "bracket.svg").rename(folder_of(file) / "bracket.txt")

    assert [paper.whole for paper in read_in(file)[1]] == [b"<svg/>"]
