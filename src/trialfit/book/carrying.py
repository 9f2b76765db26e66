"""A build written out of a book as TOML, with its attachments in a folder beside it, and read in again without loss.

Answers   write_out     a document as a TOML file, its attachments in a folder beside it
          write_out_any   the same for the build in a book (sound or damaged) or in a TOML file
          read_in       reads both back
Not here  which files it may replace (written_out.py), the text itself (writing.py, toml_text.py); a damaged book (salvage.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

from trialfit.book.disk import is_file, is_folder, read_bytes, unfinished, write_whole
from trialfit.book.media import paper_of
from trialfit.book.opening import is_book, number_at, open_build
from trialfit.book.problems import BadInput, Located
from trialfit.book.saving import TOML, check_output
from trialfit.book.toml_text import LARGEST_FILE, read
from trialfit.book.writing import text_of_document
from trialfit.book.written_out import check_place, clear_away, file_name, folder_of, older_place, sealed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from trialfit.book.build import Build
    from trialfit.book.document import Document
    from trialfit.book.media import Paper
    from trialfit.book.opening import Moment


@dataclass(frozen=True)
class Written:
    """The result of writing out: the number of attachments, and remarks for the builder, one sentence each."""

    attachments: int
    remarks: tuple[str, ...]


def write_out(
    document: Document,
    file: Path,
    bytes_of: Callable[[str], bytes | None],
    *,
    remarks: tuple[str, ...] = (),
    replace: bool = False,
) -> Path | None:
    """Writes a document into a TOML file and its attachments into the folder beside it. `bytes_of` gives bytes by SHA-256.

    Returns the folder, or None if there are no attachments. Raises BadInput if a file that must not be replaced is in the
    way, if the disk cannot be written, or if the bytes of an attachment are missing.
    """
    if not file.name:
        raise _refused(file, "is a folder: expected the name of a TOML file")
    text = sealed(text_of_document(document, remarks))
    if len(text) > LARGEST_FILE:
        raise _refused(
            file, f"would be {len(text) / 1e6:.1f} MB: at most {LARGEST_FILE // 1_000_000} MB can be read again"
        )
    folder = folder_of(file)
    papers = {
        file_name(name, card): _bytes(folder, name, bytes_of(card.sha256))
        for name, card in document.attachments.items()
    }
    try:
        own = check_place(file, folder, papers, replace=replace)
        if papers:
            _write_files(papers, folder)
        write_whole(file, text)
        clear_away(folder, {name: digest for name, digest in own.items() if name not in papers})
    except OSError as wrong:
        raise _refused(file, f"cannot be written ({wrong.strerror}): expected a folder that can be written") from None
    return folder if papers else None


def write_out_any(
    source: Path, file: Path, moment: Moment | None = None, *, salvage: bool = False, replace: bool = False
) -> Written:
    """Writes out the build in a book or a TOML file; with `salvage`, the readable part of a damaged book. Raises BadInput."""
    check_output(file, TOML, reads=[source])
    if salvage and not _is_sound(source):
        from trialfit.book.salvage import salvage as brought_out

        saved = brought_out(str(source))
        remarks = (f"Recovered from {source}, which is damaged.", *saved.remarks)
        return _written(saved.document, file, saved.bytes_of, remarks, replace=replace)
    if not is_book(source):
        if moment is not None:
            open_build(source, moment)  # says that a TOML file has no history
        build, papers = read_in(source)
        kept = {sha256(paper.whole).hexdigest(): paper.whole for paper in papers}
        return _written(build.document, file, kept.get, (), replace=replace)
    from trialfit.book.journal import Book

    with Book.open(source, read_only=True) as book:
        document = book.document if moment is None else book.document_after(number_at(book, moment))
        sound = (f"{source} is sound: no salvage was needed.",) if salvage else ()
        return _written(document, file, book.file, (), replace=replace, also=sound)


def _is_sound(source: Path) -> bool:
    """Whether a file is a book without damage."""
    from trialfit.book.salvage import verification

    try:
        return not verification(str(source)).damages
    except BadInput:
        return False


def _written(
    document: Document,
    file: Path,
    bytes_of: Callable[[str], bytes | None],
    remarks: tuple[str, ...],
    *,
    replace: bool,
    also: tuple[str, ...] = (),
) -> Written:
    folder = write_out(document, file, bytes_of, remarks=remarks, replace=replace)
    also += (f"The photos and papers are in {folder}.",) if folder else ()
    return Written(len(document.attachments), (*remarks, *also))


def read_in(file: Path, is_kept: Callable[[str], bool] = lambda _: False) -> tuple[Build, list[Paper]]:
    """The build in a TOML file, and those of its attachments that `is_kept` does not report as kept already. Raises BadInput."""
    build = read(file)
    papers: list[Paper] = []
    problems: list[Located] = []
    for name, card in build.document.attachments.items():
        if is_kept(card.sha256):
            continue
        place = folder_of(file) / file_name(name, card)
        if not is_file(place):
            place = older_place(folder_of(file), name, card)
        try:
            whole = read_bytes(place)
        except OSError:
            problems.append(Located(f"attachment.{name}", f"is missing beside the build: expected {place}"))
            continue
        paper = paper_of(card, whole)
        if paper is None:
            problems.append(Located(f"attachment.{name}", f"was changed: {place} is not the file that was attached"))
        else:
            papers.append(paper)
    if problems:
        raise BadInput(str(file), problems)
    return build, papers


def _write_files(papers: dict[str, bytes], folder: Path) -> None:
    """Puts the files into the folder. A new folder gets its name when all files are in it; an old one gets each file whole."""
    if is_folder(folder):
        for name, whole in papers.items():
            write_whole(folder / name, whole)
        return
    with unfinished(folder) as work:
        new = work / "files"
        new.mkdir()
        for name, whole in papers.items():
            write_whole(new / name, whole)
        new.rename(folder)


def _bytes(folder: Path, name: str, whole: bytes | None) -> bytes:
    if whole is None:
        says = "has no bytes in the book: run `trialfit verify` for details"
        raise BadInput(str(folder), [Located(f"attachment.{name}", says)])
    return whole


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
