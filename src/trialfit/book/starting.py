"""The first facts of a build, asked one by one.

Answers   QUESTIONS     the questions in order
          answer_read   an answer, checked by its part and put into the document
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
    """One fact: its path, the question, an example answer, and the kind of its part."""

    path: str
    asks: str
    example: str
    kind: str = ""

    @property
    def spec(self) -> Spec | None:
        """The part's description of the fact; None for the name of the build."""
        part, _, key = self.path.partition(".")
        return KINDS[self.kind or part].specs()[key] if key else None


QUESTIONS = (
    Question("name", "Name of the build?", "hill-climb coupe"),
    Question("car.mass", "Mass of the car ready to drive?", "960 kg, weighed"),
    Question("car.wheelbase", "Wheelbase?", "2.40 m, taped"),
    Question("engine.max_speed", "Maximum engine speed?", "6500 rpm, manual"),
    Question(
        "gearbox.ratios",
        "Gearbox ratios, from first gear up, separated by |?",
        "3.63 | 2.36 | 1.69 | 1.31 | 1.00",
    ),
    Question("final_drive.ratio", "Final drive ratio?", "3.54"),
    Question("tyre_rear.size", "Size of the driven tyres?", "205/50 R15", "tyre"),
)


def answer_read(document: Document, question: Question, typed: str) -> Document:
    """The document with the answer in it. Raises BadInput with one sentence if it cannot be read."""
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
