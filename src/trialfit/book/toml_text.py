"""A build as TOML text, read.

Answers   read, read_text   a file or a text into a Build; BadInput lists every problem
          read_in_part      a text into a Build and its problems, for a text that has some
          document_of       a text into a Document
          text_of, parsed   a file into text; a text into tables
Not here  changing it (rewriting.py); what an entry means (build.py, parts/reading.py)

Layout    format, name and story stand first. Each table is a part, named as the builder likes, with its `kind` (left out
          where the table's name is a kind). [choice.NAME] holds options and the one picked. [limit] holds limits by the
          id of the finding, [attachment.NAME] a photo or paper (attachment_text.py), and work_text.py says where jobs are.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from textwrap import shorten
from typing import TYPE_CHECKING, Any

from trialfit.book.attachment_text import attachments_in
from trialfit.book.build import Build
from trialfit.book.disk import open_ordinary
from trialfit.book.document import FORMAT, ChoiceText, Document, PartText
from trialfit.book.lines import line_of
from trialfit.book.problems import BadInput, Located
from trialfit.book.renaming import as_written
from trialfit.book.work_text import GROUPS, work_in
from trialfit.parts import KINDS
from trialfit.parts.old_names import kind_now

if TYPE_CHECKING:
    import os
    from collections.abc import Iterable, Mapping

LARGEST_FILE = 4_000_000
_DEEPEST = 20
_PLACE = re.compile(r"line (\d+), column (\d+)")
_HEAD = {"format", "name", "story"}
_NUMBER_HINT = 'put it in quotes with its unit, for example "38 N·m"'


def read(path: str | os.PathLike[str]) -> Build:
    """The build written in a TOML file. Raises BadInput."""
    file = Path(path)
    return read_text(text_of(file), str(path))


def read_text(text: str, where: str = "the text") -> Build:
    """The build written in a TOML text; `where` is its name in messages. Raises BadInput."""
    build, problems = read_in_part(text, where)
    if problems:
        raise BadInput(where, problems)
    return build


def read_in_part(text: str, where: str) -> tuple[Build, list[Located]]:
    """The build in a TOML text as far as it can be read, and every problem in it. Raises BadInput if it is not TOML."""
    document, problems = document_of(text, where)
    build, more = Build.from_document(document)
    return build, [_located(text, document, problem) for problem in (*problems, *more)]


def text_of(file: Path) -> str:
    """The text of a file, line ends kept. Raises BadInput if it cannot be read as text."""
    try:
        with open_ordinary(file) as opened:
            raw = opened.read(LARGEST_FILE + 1)
        if len(raw) > LARGEST_FILE:
            raise BadInput(
                str(file), [Located("", f"is larger than {LARGEST_FILE // 1_000_000} MB: expected a build in TOML")]
            )
    except FileNotFoundError:
        raise BadInput(str(file), [Located("", "does not exist: expected the TOML file of a build")]) from None
    except OSError as wrong:
        raise BadInput(str(file), [Located("", f"cannot be read ({wrong.strerror}): expected a TOML file")]) from None
    except ValueError:
        raise BadInput(repr(str(file)), [Located("", "is not a file name: expected a path to a TOML file")]) from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = raw[: wrong.start].count(b"\n") + 1
        raise BadInput(str(file), [Located("", "is not UTF-8 text: expected a TOML file", line)]) from None


def document_of(text: str, where: str) -> tuple[Document, list[Located]]:
    """The document in a TOML text, and its entries of wrong shape as problems. Raises BadInput if it is not TOML."""
    data = parsed(text, where)
    problems: list[Located] = []
    head = {key: data[key] for key in _HEAD & data.keys()}
    version = head.get("format", FORMAT)
    if not isinstance(version, int) or isinstance(version, bool) or not 1 <= version <= FORMAT:
        wanted = f"this program reads format {FORMAT}; a newer build needs a newer program"
        raise BadInput(where, [Located("format", f"is {version!r}: {wanted}", line_of(text, "format"))])
    for key in _HEAD - {"format"}:
        if key in head and not isinstance(head[key], str):
            said = f"is {head.pop(key)!r}: expected text in quotes, for example"
            problems += [Located(key, f'{said} {key} = "my build"')]
    choices = _choices(data, problems)
    limits = _limits(data, problems)
    attachments = attachments_in(data, problems)
    parts = {}
    for name, table in data.items():
        if name in _HEAD or name in ("choice", "limit", "attachment", *GROUPS.values()):
            continue
        if not isinstance(table, dict):
            problems.append(
                Located(name, f"is outside a part: begin a part before it, for example [car], {_NUMBER_HINT}")
            )
        else:
            parts[name] = _part(name, table, problems)
    groups = {"parts": parts, "choices": choices, "limits": limits, "attachments": attachments}
    document = Document.model_validate({**head, **groups, **work_in(data, problems)})
    return document, problems


def parsed(text: str, where: str) -> dict[str, Any]:
    """The tables of a TOML text. Raises BadInput if it is not TOML, or nested deeper than any build."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise BadInput(where, [_syntax(text, str(wrong))]) from None
    except (RecursionError, ValueError):  # nested too deep; a number with more digits than Python reads
        raise BadInput(where, [Located("", "not sound TOML: nested too deep, or a number too long")]) from None
    if _is_deep(data):
        raise BadInput(
            where, [Located("", f"is nested more than {_DEEPEST} levels deep: expected [part], then fact = value")]
        )
    return data


def _is_deep(data: object) -> bool:
    """Whether tables and lists are nested deeper than in any build; a loop, because recursion would be too deep itself."""
    level = [data]
    for _ in range(_DEEPEST):
        level = [inner for outer in level for inner in _inside(outer)]
        if not level:
            return False
    return True


def _inside(outer: object) -> Iterable[object]:
    return outer.values() if isinstance(outer, dict) else outer if isinstance(outer, list) else ()


def _syntax(text: str, said: str) -> Located:
    """The reader's error with its place; an early end is placed at the end of the text."""
    what, _, place = said.partition(" (at ")
    found = _PLACE.search(place)
    rows = text.splitlines() or [""]
    line, column = (int(found[1]), int(found[2])) if found else (len(rows), len(rows[-1]) + 1)
    return Located("", f"not sound TOML: {what}", line, column)


def _part(name: str, table: Mapping[str, Any], problems: list[Located]) -> PartText:
    kind = table.get("kind", name if kind_now(name) in KINDS else "")
    note = table.get("note", "")
    for key, text in (("kind", kind), ("note", note)):
        if not isinstance(text, str):
            problems.append(Located(f"{name}.{key}", f"is {text!r}: expected text in quotes"))
    entries: dict[str, str | tuple[str, ...]] = {}
    for key, value in table.items():
        if key in ("kind", "note"):
            continue
        entry = _entry(value)
        if entry is None:
            problems.append(Located(f"{name}.{key}", f"is {_short(value)}: expected text, {_NUMBER_HINT}"))
        else:
            entries[key] = entry
    return PartText(kind=str(kind), note=str(note), entries=entries)


def _entry(value: object) -> str | tuple[str, ...] | None:
    """Text unchanged; a bare number as text (a ratio may be written without quotes); None for anything else."""
    if isinstance(value, str):
        return value
    if isinstance(value, int | float) and not isinstance(value, bool):
        return repr(value)
    if isinstance(value, list):
        items = [_entry(item) for item in value]
        if all(isinstance(item, str) for item in items):
            return tuple(items)  # type: ignore[arg-type]
    return None


def _choices(data: Mapping[str, Any], problems: list[Located]) -> dict[str, ChoiceText]:
    choices = {}
    tables = data.get("choice", {})
    if not isinstance(tables, dict):
        problems.append(Located("choice", "is not a table: write [choice.final_drive] with options and picked"))
        return {}
    for name, table in tables.items():
        entries = table if isinstance(table, dict) else {}
        options, picked, note = entries.get("options"), entries.get("picked", ""), entries.get("note", "")
        if isinstance(options, list) and all(isinstance(text, str) for text in (*options, picked, note)):
            listed = tuple(map(str, options))
            choices[name] = ChoiceText(options=listed, picked=picked, note=note)
        else:
            hint = 'write options = ["one", "other"], picked = "one"'
            problems.append(Located(f"choice.{name}", f"has no list of options: {hint}"))
    return choices


def _limits(data: Mapping[str, Any], problems: list[Located]) -> dict[str, str]:
    limits: dict[str, str] = {}
    tables = data.get("limit", {})
    if not isinstance(tables, dict):
        problems.append(
            Located("limit", 'is not a table: write [limit], then "driveline.whirl.shaft" = "0.65, manual"')
        )
        return {}
    for name, value in tables.items():
        entry = _entry(value)
        if isinstance(entry, str):
            limits[name] = entry
        else:
            hint = f'write the finding in quotes, for example "gearing.speedometer" = "3 %", not {_short(value)}'
            problems.append(Located(f"limit.{name}", f"is not a limit: {hint}"))
    return limits


def _short(value: object) -> str:
    text = repr(value)
    return shorten(text, 40, placeholder="...") if " " in text else text[:40]


def _located(text: str, document: Document, problem: Located) -> Located:
    line = problem.line or line_of(text, as_written(document, problem.path))
    return Located(problem.path, problem.says, line, problem.column)
