"""`trialfit attach` and `trialfit forget-attachment`: photos, certificates and drawings of a build."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BookFile, Device, Json, Note, device_name

About = Annotated[str, Parameter(help="the part it shows, or job.NAME")]
PaperFile = Annotated[str, Parameter(help="a picture, a PDF, a STEP or text drawing, up to 50 MB")]
Name = Annotated[str, Parameter(help="name of the attachment, as journal and write-out show it")]


def attach(
    book: BookFile, about: About, file: PaperFile, /, *, note: Note = "", device: Device = "", json: Json = False
) -> int:
    """Keeps a photo, certificate or drawing with a part or job.

    The file is kept unchanged, and once only, however often it is attached. A picture also gets a small copy, upright
    and without position data. The photo itself keeps the position data that the phone wrote. A file whose content does
    not match the ending of its name is refused.
    """
    from pathlib import Path

    from trialfit.book.editing import attach as attach_to
    from trialfit.book.media import read_paper
    from trialfit.cli.books import answer_made, open_book

    paper = read_paper(Path(file))
    with open_book(book) as opened:
        made = attach_to(opened, about, paper, note=note, device=device_name(device))
        return answer_made(opened, made, as_json=json)


def forget(book: BookFile, name: Name, /, *, note: Note = "", device: Device = "", json: Json = False) -> int:
    """Deletes an attachment for good: its bytes are overwritten in the book.

    All other changes keep what they replace. The journal keeps the entry: the name, when the file came and went, its
    SHA-256. Earlier copies of the book still hold the file.
    """
    from trialfit.cli.books import answer_made, open_book

    with open_book(book) as opened:
        made = opened.forget(name.removeprefix("attachment."), device_name(device), note)
        return answer_made(opened, made, as_json=json, remarks=("Earlier copies of the book still hold it.",))
