"""`trialfit new`: a new book, from a TOML file or by a few questions."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import Device, Json, device_name

if TYPE_CHECKING:
    from trialfit.book.document import Document
    from trialfit.book.media import Paper
    from trialfit.book.starting import Question

NewFile = Annotated[str, Parameter(help="the file to make, for example garage.book")]
From = Annotated[str | None, Parameter(name="--from", help="the TOML file to start from")]
Empty = Annotated[bool, Parameter(negative="", show_default=False, help="ask nothing")]


def new(book: NewFile, /, *, source: From = None, empty: Empty = False, device: Device = "", json: Json = False) -> int:
    """Makes a book: from a TOML file, or by asking for a few first facts.

    Answer a question as you would write the fact, or leave it empty. The book is made after the last question, so an
    interrupt leaves nothing behind. The answers may also come from a file or a pipe, one per line.
    """
    from pathlib import Path

    from trialfit.book.carrying import read_in
    from trialfit.book.document import Document
    from trialfit.book.journal import Book
    from trialfit.book.reports import Carried
    from trialfit.book.saving import check_free
    from trialfit.cli.pages.book import carried_page
    from trialfit.cli.screen import answer

    path = Path(book)
    check_free(path)
    papers: list[Paper] = []
    if source is not None:
        build, papers = read_in(Path(source))
        document = build.document
    else:
        document = Document() if empty else _asked()
    with Book.create(path, document, device_name(device), papers) as made:
        remarks = (
            f"Next: trialfit measure {book} says what to measure, trialfit set {book} PART.FACT VALUE writes it down.",
        )
        done = Carried(source=source or "", target=book, changes=made.number, attachments=len(papers), remarks=remarks)
    answer(done, carried_page(done), as_json=json)
    return 0


def _asked() -> Document:
    from trialfit.book.document import Document
    from trialfit.book.starting import QUESTIONS

    document = Document()
    sys.stderr.write("A few first facts. An empty line leaves one out for later.\n")
    for question in QUESTIONS:
        answered = _answer(document, question)
        if answered is None:
            break
        document = answered
    return document


def _answer(document: Document, question: Question) -> Document | None:
    """The document with the answer; asked again until it can be read. None where nothing more comes."""
    from trialfit.book.problems import BadInput, Located
    from trialfit.book.starting import answer_read

    while True:
        sys.stderr.write(f"{question.asks} (for example {question.example}) ")
        sys.stderr.flush()
        try:
            typed = sys.stdin.readline()
            typed.encode()
        except UnicodeError:
            raise BadInput("the answer", [Located("", "is not UTF-8 text; nothing was made")]) from None
        if not sys.stdin.isatty():
            sys.stderr.write("\n")
        if not typed:
            return None
        if not typed.strip():
            return document
        try:
            return answer_read(document, question, typed)
        except BadInput as wrong:
            sys.stderr.writelines(f"{sentence}\n" for sentence in wrong.sentences())
