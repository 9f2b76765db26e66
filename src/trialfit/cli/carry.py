"""`trialfit write-out`, `read-in` and `keep-copy`: a build carried out of a book, into one, and a copy of the whole book."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import MOMENT, BookFile, BuildFile, Device, Json, Note, device_name

if TYPE_CHECKING:
    from trialfit.book.reports import Carried

Target = Annotated[str, Parameter(help="the TOML file to write; attachments go into NAME.files beside it")]
TomlFile = Annotated[str, Parameter(help="the TOML file, with its attachments in NAME.files beside it")]
Folder = Annotated[str, Parameter(help="a folder, or the name of a new file")]
Salvage = Annotated[bool, Parameter(negative="", show_default=False, help="recover what can be read of a damaged book")]
Replace = Annotated[bool, Parameter(negative="", show_default=False, help="replace a file that exists")]


def write_out(
    build: BuildFile, file: Target, /, *, salvage: Salvage = False, replace: Replace = False, json: Json = False
) -> int:
    """Writes the build as a TOML file, with its photos and papers in a folder beside it.

    Read in again, it gives the same build; the history stays in the book. With --salvage a damaged book is read as far
    as possible. What is lost is listed here and at the beginning of the file. The damaged book is not changed.
    """
    from pathlib import Path

    from trialfit.book.carrying import write_out_any
    from trialfit.book.reports import Carried

    source = Path(build)
    done = write_out_any(source, Path(file), MOMENT.get(), salvage=salvage, replace=replace)
    report = Carried(source=build, target=file, changes=0, attachments=done.attachments, remarks=done.remarks)
    return _answer(report, as_json=json)


def read_in(file: TomlFile, book: BookFile, /, *, note: Note = "", device: Device = "", json: Json = False) -> int:
    """Makes the build in a book equal to the one in a TOML file: all changes are made, or none.

    Entries that the file does not have are removed from the build; the journal keeps them. The file must be a sound
    build. Each attachment that it names must be in the book, or in the folder beside the file.
    """
    from pathlib import Path

    from trialfit.book.carrying import read_in as read_in_file
    from trialfit.book.checking import check_sound
    from trialfit.book.reports import Carried
    from trialfit.cli.books import open_book

    with open_book(book) as opened:
        build, papers = read_in_file(Path(file), lambda digest: opened.file(digest) is not None)
        said = note or f"read in from {Path(file).name}"
        made = opened.take_in(build.document, device_name(device), said, check_sound(opened.path), papers)
    return _answer(Carried(source=file, target=book, changes=len(made), attachments=len(papers)), as_json=json)


def keep_copy(book: BookFile, folder: Folder, /, *, json: Json = False) -> int:
    """Keeps a consistent copy of a book, also while others write in it, and reads the copy from end to end.

    In a folder the copy is named after the book and the time. Do not copy the file of a book in use by other means:
    the newest changes are in a second file beside it.
    """
    from datetime import datetime
    from pathlib import Path

    from trialfit.book.disk import is_folder
    from trialfit.book.problems import BadInput, Located
    from trialfit.book.reports import Carried
    from trialfit.book.salvage import verification
    from trialfit.cli.books import open_book

    target = Path(folder)
    with open_book(book, read_only=True) as opened:
        if is_folder(target):
            target /= f"{opened.path.stem}-{datetime.now().astimezone():%Y-%m-%d-%H%M%S}{opened.path.suffix or '.book'}"
        opened.keep_copy(target)
    found = verification(str(target))
    if found.damages:
        says = f"was copied, but the copy is damaged as the book is: {found.damages[0].where} {found.damages[0].says}"
        raise BadInput(book, [Located("", says)])
    return _answer(
        Carried(source=book, target=str(target), changes=found.changes, attachments=found.attachments), as_json=json
    )


def _answer(done: Carried, *, as_json: bool) -> int:
    from trialfit.cli.pages.book import carried_page
    from trialfit.cli.screen import answer

    answer(done, carried_page(done), as_json=as_json)
    return 0
