"""`trialfit remove` and `trialfit move`: an entry removed from a book, a value of a list moved to another place."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BookFile, Device, Json, Note, device_name

OldPath = Annotated[str, Parameter(help="a part, part.fact, limit.finding, choice.name or attachment.name")]
ItemPath = Annotated[str, Parameter(help="part.list.number, for example gearbox.ratios.2")]
Place = Annotated[int, Parameter(help="its new number")]


def remove(book: BookFile, path: OldPath, /, *, note: Note = "", device: Device = "", json: Json = False) -> int:
    """Removes a part, a fact, a limit, a choice or an attachment from the build.

    The journal keeps it, and undo brings it back. An entry that others refer to stays, and these are named. To delete a
    photo for good use forget-attachment.
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
