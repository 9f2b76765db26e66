"""Bad input: what was read, where, and what was expected. One sentence for each problem."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


@dataclass(frozen=True)
class Located:
    """One problem: `path` in the build ("" for the whole file), the sentence, and line and column if known."""

    path: str
    says: str
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        return f"{self.path} {self.says}" if self.path else self.says


class BadInput(Exception):
    """Raised when a build cannot be used as it is written. `problems` holds every problem found."""

    def __init__(self, where: str, problems: Iterable[Located]) -> None:
        self.where = where
        self.problems = tuple(problems)
        super().__init__("\n".join(self.sentences()))

    def sentences(self) -> list[str]:
        """Each problem as one line of text that begins with the place: "build.toml, line 41: ...". Safe for a terminal."""
        return [
            harmless(", ".join(filter(None, [self.where, *_place(problem)])) + f": {problem}")
            for problem in self.problems
        ]


def harmless(text: str) -> str:
    """The text without control characters; names and entries of a build may come from an unknown source."""
    return text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)


def _place(problem: Located) -> Iterator[str]:
    if problem.line:
        yield f"line {problem.line}"
    if problem.column:
        yield f"column {problem.column}"
