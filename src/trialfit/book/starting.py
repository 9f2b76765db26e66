"""The few facts worth having first, asked one by one.

Answers   QUESTIONS     what is asked, in order
          answer_read   an answer checked by the part it belongs to, put into the document
Not here  asking (cli/new.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.book.changing import target_of
from trialfit.book.document import Document, PartText
from trialfit.book.problems import BadInput, Located
from trialfit.parts import KINDS
from trialfit.parts.reading import read_value

if TYPE_CHECKING:
    from trialfit.parts.declaring import Spec


@dataclass(frozen=True)
class Question:
    """One fact: its path, the words that ask for it, an example of an answer, and the kind of its part."""

    path: str
    asks: str
    example: str
    kind: str = ""

    @property
    def spec(self) -> Spec | None:
        """What the part says about the fact; None for the name of the build."""
        part, _, key = self.path.partition(".")
        return KINDS[self.kind or part].specs()[key] if key else None


QUESTIONS = (
    Question("name", "What do you call the build?", "hill-climb coupe"),
    Question("car.mass", "What does the car weigh as it drives?", "960 kg, weighed"),
    Question("car.wheelbase", "How long is the wheelbase?", "2.40 m, taped"),
    Question("engine.max_speed", "How fast may the engine turn?", "6500 rpm, manual"),
    Question(
        "gearbox.ratios",
        "The ratios of the gearbox, from first gear up, parted by |?",
        "3.63 | 2.36 | 1.69 | 1.31 | 1.00",
    ),
    Question("final_drive.ratio", "The ratio of the final drive?", "3.54"),
    Question("tyre_rear.size", "The size on the driven tyres?", "205/50 R15", "tyre"),
)


def answer_read(document: Document, question: Question, typed: str) -> Document:
    """The document with the answer in it. Raises BadInput with one sentence where it cannot be read."""
    text = typed.strip()
    spec = question.spec
    if spec is None:
        return document.model_copy(update={"name": text})
    name, _, key = question.path.partition(".")
    part = document.parts.get(name) or PartText(kind=question.kind or name)
    _, entry = target_of(Document(parts={name: part}), question.path, text, "the answer")
    try:
        read_value(spec, entry)
    except ValueError as wrong:
        raise BadInput("the answer", [Located("", f"{question.path} {wrong}")]) from None
    part = part.model_copy(update={"entries": {**part.entries, key: entry}})
    return document.model_copy(update={"parts": {**document.parts, name: part}})
