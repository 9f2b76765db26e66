"""`trialfit remove` and `trialfit move`: something taken out of a book, a value of a list put in another place."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BookFile, Device, Json, Note, device_name

OldPath = Annotated[str, Parameter(help="a part, part.fact, limit.finding, choice.name or attachment.name")]
ItemPath = Annotated[str, Parameter(help="part.list.number, for example gearbox.ratios.2")]
Place = Annotated[int, Parameter(help="the number it is to have")]


def remove(book: BookFile, path: OldPath, /, *, note: Note = "", device: Device = "", json: Json = False) -> int:
    """Takes a part, a fact, a limit, a choice or an attachment out of the build.

    The journal keeps what it was, and undo brings it back. What other parts, choices or attachments refer to stays: they
    are named. A photo that is to be deleted for good is a case for forget-attachment.
    """
    from trialfit.book.editing import remove as remove_from
    from trialfit.cli.books import answer_made, open_book

    with open_book(book) as opened:
        made = remove_from(opened, path, note=note, device=device_name(device))
        return answer_made(opened, made, as_json=json)


def move(
    book: BookFile, path: ItemPath, to: Place, /, *, note: Note = "", device: Device = "", json: Json = False
) -> int:
    """Moves one value of a list to another place in it.

    The others keep their order: with gearbox.ratios.2 and 4 the second ratio becomes the fourth, the third the second.
    """
    from trialfit.book.editing import move_item
    from trialfit.cli.books import answer_made, open_book

    with open_book(book) as opened:
        made = move_item(opened, path, to, note=note, device=device_name(device))
        return answer_made(opened, made, as_json=json)
