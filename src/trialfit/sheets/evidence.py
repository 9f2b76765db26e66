"""Photos and papers of a build, as evidence for its findings.

Answers   evidence_of   the photos and papers about a finding, by number
          known_by      the provenance of the facts behind a finding: the number taped, the number guessed
          photos        each with its preview, its note and the beginning of its content hash
Not here  previews themselves (book/pictures.py)

A preview that is missing in the book, or damaged, is printed as an empty frame that says so.
"""

from __future__ import annotations

from base64 import b64encode
from io import BytesIO
from typing import TYPE_CHECKING

from trialfit.facts.provenance import Provenance
from trialfit.sheets.sheet import Blank, Column, Heading, Paragraph, Picture, Table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.document import AttachmentText
    from trialfit.evaluation.finding import Finding
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NONE = "No photo or paper is attached. Attach one with trialfit attach BOOK PART FILE."
_HASH_SHOWN = 12
_SAID = {
    Provenance.unstated.value: "not stated",
    Provenance.guess.value: "guessed",
    Provenance.catalogue.value: "by catalogue",
    Provenance.manual.value: "by manual",
}
_EMPTY_ROWS = 4


def evidence_of(known: Known, finding: Finding) -> list[str]:
    """The attachments of the part of a finding, or of a part whose facts it depends on: "photo 3"."""
    parts = {finding.about, *(fact.path.partition(".")[0] for fact in finding.facts)}
    return [
        f"{_sort(card)} {number}"
        for number, card in enumerate(known.build.document.attachments.values(), 1)
        if card.about.partition(".")[0] in parts
    ]


def known_by(finding: Finding) -> str:
    """The provenance of the facts of a finding, with the number of each: "3 taped, 1 typical"."""
    words = [fact.provenance for fact in finding.facts]
    return ", ".join(f"{words.count(word)} {_SAID.get(word, word)}" for word in dict.fromkeys(words))


def photos(known: Known) -> Iterator[Block]:
    """A list of all attachments, then every photo."""
    yield Heading(text="Evidence: photos and papers")
    cards = list(enumerate(known.build.document.attachments.values(), 1))
    columns = (
        Column(title="", right=True),
        Column(title="of", share=1.8),
        Column(title="file", share=2.4),
        Column(title="note", share=3),
        Column(title="content", share=1.6),
    )
    rows: list[tuple[Cell, ...]] = [
        (f"{_sort(card)} {number}", card.about, card.file, card.note, card.sha256[:_HASH_SHOWN])
        for number, card in cards
    ]
    if not rows:
        yield Paragraph(text=_NONE, strong=True)
        rows = [(str(row), Blank(), Blank(), Blank(), "") for row in range(1, _EMPTY_ROWS + 1)]
    yield Table(columns=columns, rows=tuple(rows), caption="The beginning of the SHA-256 identifies the content.")
    for number, card in cards:
        if _is_photo(card):
            yield _picture(known, number, card)


def _picture(known: Known, number: int, card: AttachmentText) -> Picture:
    small = (known.previews or {}).get(card.sha256)
    told = f"photo {number}, {card.about}: {card.note or card.file}"
    return Picture(base64=b64encode(small).decode() if small and _can_be_drawn(small) else "", alt=told, caption=told)


def _can_be_drawn(small: bytes) -> bool:
    """Whether a preview is whole: a damaged one must not keep the other pages from being printed."""
    from PIL import Image, UnidentifiedImageError  # here: only a photo needs the library

    try:
        with Image.open(BytesIO(small)) as picture:
            picture.load()
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError):
        return False
    return True


def _is_photo(card: AttachmentText) -> bool:
    return card.media_type.startswith("image/")


def _sort(card: AttachmentText) -> str:
    return "photo" if _is_photo(card) else "paper"
