"""A build as TOML text, changed: one entry at a time, or a file as a whole; comments and order stay.

Answers   with_entry    the text with one entry changed
          change_file   the same in a file, replaced whole or not at all; refused if it would have a new fault
          rewrite       replaces a file by a new text made from the old one; writers take turns
Not here  reading it (toml_text.py); which entry a path leads to (changing.py)

A file with faults can be mended by changes: a change is written if it leaves fewer faults and adds none.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from trialfit.book.disk import OTHER_NAMES, has_other_names, turn, write_whole
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import parsed, read_in_part, text_of

if TYPE_CHECKING:
    from collections.abc import Callable, MutableMapping, Sequence
    from pathlib import Path

    from trialfit.book.build import Build

_MOST_TRIES = 20
_MOST_LISTED = 5


def with_entry(text: str, path: str, entry: str | tuple[str, ...], where: str = "the text") -> str:
    """The text with one entry changed or added, its comments, order and line ends kept. `path` is "part.fact"."""
    import tomlkit  # imported here: only a change needs it

    parsed(text, where)
    written = tomlkit.parse(text)
    table, _, key = path.rpartition(".")
    steps = ["limit"] if table == "limit" or path.startswith("limit.") else [step for step in table.split(".") if step]
    key = path.removeprefix("limit.") if steps == ["limit"] else key
    inner: Any = written
    for step in steps:
        if step.isdigit() or isinstance(inner, list):
            raise BadInput(where, [Located(path, "cannot be set: expected a path such as engine.max_speed")])
        if step not in inner:
            inner[step] = tomlkit.table()
        inner = inner[step]
    value = list(entry) if isinstance(entry, tuple) else entry
    if isinstance(value, str) and "\n" in value:
        inner[key] = tomlkit.string(value, multiline=True)
    else:
        _replace(inner, key, value)
    changed = tomlkit.dumps(written)
    return changed.replace("\r\n", "\n").replace("\n", "\r\n") if "\r\n" in text else changed


def _replace(table: MutableMapping[str, Any], key: str, value: str | list[str]) -> None:
    """Puts the value in; an end-of-line comment on the old value stays."""
    import tomlkit

    item = tomlkit.item(value)
    old = table.get(key)
    if old is not None and hasattr(old, "trivia"):
        item.trivia.comment = old.trivia.comment
        item.trivia.comment_ws = old.trivia.comment_ws
    table[key] = item


def change_file(
    file: Path, change: Callable[[str], str], check: Callable[[Build], None] | None = None
) -> tuple[Build, int]:
    """A TOML file changed: the changed build, and how many faults are left in it. Raises BadInput; then the file is unchanged.

    The build is read anew first. The file changes if it is sound with the change, or has fewer faults than before and
    no new one. `change` makes the new text of the one that stands there. `check` may raise BadInput to refuse the
    changed build for reasons that only a higher floor knows.
    """
    built: list[tuple[Build, int]] = []

    def made(text: str) -> str:
        changed = change(text)
        build, left = read_in_part(changed, str(file))
        if left:
            _, before = read_in_part(text, str(file))
            _refuse_worse(str(file), before, left)
        built.append((build, len(left)))
        if check:
            check(build)
        return changed

    rewrite(file, made)
    return built[-1]


def _refuse_worse(where: str, before: Sequence[Located], after: Sequence[Located]) -> None:
    """Raises BadInput if a change adds a fault, or mends none of those that are there."""
    if len(after) < len(before) and not Counter(one.path for one in after) - Counter(one.path for one in before):
        return  # by their places: the words of an old fault may change, for example with the names that it suggests
    known = {(fault.path, fault.says) for fault in before}
    fresh = [fault for fault in after if (fault.path, fault.says) not in known]
    if not before:
        raise BadInput(where, _some(fresh, ""))
    if fresh:
        says = f"nothing was changed: with this change the file would have {_faults(fresh, 'new ')}"
        there = f"has {_faults(before)} already: `trialfit check {where}` lists all"
        raise BadInput(where, [Located("", says), *_some(fresh, ""), Located("", there)])
    says = f"nothing was changed: the file has {_faults(before)}, and this change mends none; mend these first"
    raise BadInput(where, [Located("", says), *_some(before, f": `trialfit check {where}` lists all")])


def _faults(faults: Sequence[Located], word: str = "") -> str:
    return f"{len(faults)} {word}fault{'s' if len(faults) != 1 else ''}"


def _some(faults: Sequence[Located], command: str) -> list[Located]:
    """The first faults, and how many more there are."""
    more = len(faults) - _MOST_LISTED
    return [*faults[:_MOST_LISTED], *([Located("", f"and {more} more{command}")] if more > 0 else [])]


def rewrite(file: Path, made: Callable[[str], str]) -> None:
    """Replaces a TOML file by a new text made from the old one. Raises BadInput and whatever `made` raises; then the file is
    unchanged.

    Writers take turns. `made` may be called again: the file is written only if it is unchanged since it was read, so
    changes saved by an editor meanwhile stay too.
    """
    text_of(file)  # reports a file that cannot be read
    if has_other_names(file):
        says = f"{OTHER_NAMES}: make a file of its own (`cp {file} NAME.toml`) and use that; nothing was changed"
        raise BadInput(str(file), [Located("", says)])
    try:
        with turn(file):
            for _ in range(_MOST_TRIES):
                text = text_of(file)
                changed = made(text)
                if text_of(file) == text:
                    if changed != text:
                        write_whole(file, changed.encode())
                    return
    except OSError as wrong:
        raise BadInput(str(file), [Located("", f"cannot be written ({wrong.strerror}); nothing was changed")]) from None
    raise BadInput(
        str(file),
        [
            Located(
                "", "is written by another program all the time; nothing was changed: close that program and try again"
            )
        ],
    )
