"""A build carried out of a book as TOML with its attachments beside it, and in again, without loss.

Answers   write_out     a document as a TOML file, its attachments in a folder beside it
          write_out_any   the same with the build of a book, sound or damaged, or of a TOML file
          read_in       both again
          folder_of     that folder: `mine.files` beside `mine.toml`
Not here  the text itself (writing.py, toml_text.py); a damaged book (salvage.py)
"""

from __future__ import annotations

import os
import shutil
import tempfile
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.book.media import extension_of, paper_of
from trialfit.book.opening import is_book, number_at, open_build
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import LARGEST_FILE, read
from trialfit.book.writing import text_of_document

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.book.document import AttachmentText, Document
    from trialfit.book.media import Paper
    from trialfit.book.opening import Moment


@dataclass(frozen=True)
class Written:
    """What was written out: how many attachments, and what the builder should know, one sentence each."""

    attachments: int
    remarks: tuple[str, ...]


def folder_of(file: Path) -> Path:
    """The folder beside a TOML file in which its attachments stand."""
    return file.with_name(f"{file.stem}.files")


def write_out(
    document: Document,
    file: Path,
    bytes_of: Callable[[str], bytes | None],
    *,
    remarks: tuple[str, ...] = (),
    replace: bool = False,
) -> Path | None:
    """Writes a document into a TOML file, and its attachments, which `bytes_of` gives by SHA-256, into the folder beside it.

    The folder is returned, None where there are no attachments. Raises BadInput where something is there already and is
    not to be replaced, where the disk cannot be written, and where the bytes of an attachment are missing.
    """
    if file.is_dir() or not file.name:
        raise _refused(file, "is a folder: expected the name of a TOML file")
    text = text_of_document(document, remarks).encode()
    if len(text) > LARGEST_FILE:
        raise _refused(
            file, f"would be {len(text) / 1e6:.1f} MB: up to {LARGEST_FILE // 1_000_000} MB could be read again"
        )
    folder = folder_of(file)
    for taken in (file, folder):
        if taken.exists() and not replace:
            raise _refused(taken, "is there already: choose another name, or write --replace; nothing was touched")
    try:
        if document.attachments:
            _write_files(document, folder, bytes_of)
        write_whole(file, text)
    except OSError as wrong:
        raise _refused(file, f"cannot be written ({wrong.strerror}): expected a folder that can be written") from None
    return folder if document.attachments else None


def write_out_any(
    source: Path, file: Path, moment: Moment | None = None, *, salvage: bool = False, replace: bool = False
) -> Written:
    """Writes out the build in a book or a TOML file; with `salvage` what can be read of a damaged book. Raises BadInput."""
    if salvage:
        from trialfit.book.salvage import salvage as brought_out

        saved = brought_out(str(source))
        remarks = (f"Brought out of {source}, which is damaged.", *saved.remarks)
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
        return _written(document, file, book.file, (), replace=replace)


def _written(
    document: Document,
    file: Path,
    bytes_of: Callable[[str], bytes | None],
    remarks: tuple[str, ...],
    *,
    replace: bool,
) -> Written:
    folder = write_out(document, file, bytes_of, remarks=remarks, replace=replace)
    also = (f"The photos and papers stand in {folder}.",) if folder else ()
    return Written(len(document.attachments), (*remarks, *also))


def read_in(file: Path, is_kept: Callable[[str], bool] = lambda _: False) -> tuple[Build, list[Paper]]:
    """The build in a TOML file, and its attachments, without those that `is_kept` says are there already. Raises BadInput."""
    build = read(file)
    papers: list[Paper] = []
    problems: list[Located] = []
    for name, card in build.document.attachments.items():
        if is_kept(card.sha256):
            continue
        place = folder_of(file) / _file_name(name, card)
        try:
            whole = place.read_bytes()
        except OSError:
            problems.append(Located(f"attachment.{name}", f"is not beside the build: expected {place}"))
            continue
        paper = paper_of(card, whole)
        if paper is None:
            problems.append(
                Located(f"attachment.{name}", f"is not what it was: {place} is not the file that was attached")
            )
        else:
            papers.append(paper)
    if problems:
        raise BadInput(str(file), problems)
    return build, papers


def write_whole(file: Path, data: bytes) -> None:
    """A file written whole or not at all, and durable. Raises OSError."""
    handle, name = tempfile.mkstemp(dir=file.absolute().parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        Path(name).chmod(file.stat().st_mode & 0o7777 if file.exists() else 0o666 & ~_umask())
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _write_files(document: Document, folder: Path, bytes_of: Callable[[str], bytes | None]) -> None:
    unfinished = Path(tempfile.mkdtemp(dir=folder.absolute().parent, prefix=f".{folder.name}."))
    try:
        for name, card in document.attachments.items():
            whole = _bytes(folder, name, bytes_of(card.sha256))
            write_whole(unfinished / _file_name(name, card), whole)
        unfinished.chmod(0o777 & ~_umask())
        if folder.exists():
            shutil.rmtree(folder)
        unfinished.rename(folder)
    except BaseException:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise


def _bytes(folder: Path, name: str, whole: bytes | None) -> bytes:
    if whole is None:
        says = "has no bytes in the book: `trialfit verify` says more"
        raise BadInput(str(folder), [Located(f"attachment.{name}", says)])
    return whole


def _file_name(name: str, card: AttachmentText) -> str:
    """The attachment's own name, which is unique in the build and safe, with the ending that belongs to its content."""
    return f"{name}{extension_of(card.media_type)}"


def _umask() -> int:
    """What new files may not be; asking is only possible by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
