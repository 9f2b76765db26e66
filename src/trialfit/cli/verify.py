"""`trialfit verify`: a book read from beginning to end."""

from __future__ import annotations

from trialfit.cli.options import BookFile, Json  # noqa: TC001 - read when the command is run


def verify(book: BookFile, /, *, json: Json = False) -> int:
    """Reads a book from beginning to end and names everything that is not as it was written.

    The file, each change against its seal, each attachment against its SHA-256. Nothing is written. The exit code is 1
    when something is damaged, else 0.
    """
    from trialfit.book.salvage import verification
    from trialfit.cli.pages.book import verification_page
    from trialfit.cli.screen import answer

    found = verification(book)
    answer(found, verification_page(found), as_json=json)
    return int(bool(found.damages))
