"""Old names in a file, rewritten to the present ones.

Answers   update_names   in a TOML file, comments and order kept; in a book, its journal unchanged
          new_text       the same for a TOML text
          Updated        the rewritten names, in the shape that `update-names --json` prints
Not here  which names are old (parts/old_names.py); reading them (renaming.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import Field

from trialfit.book.opening import is_book
from trialfit.book.problems import BadInput, Located
from trialfit.book.renaming import document_now
from trialfit.book.rewriting import rewrite
from trialfit.book.toml_text import document_of, read_text
from trialfit.facts.frozen import Frozen

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from trialfit.book.renaming import Renamed


class NewName(Frozen):
    """One rewritten name."""

    path: str = Field(description="path of the name, as it was written")
    old: str
    new: str


class Updated(Frozen):
    """The rewritten names in a file; empty if all its names are present ones."""

    file: str
    names: tuple[NewName, ...]
    remark: str = Field(default="", description="further remarks")


def update_names(file: Path) -> Updated:
    """Rewrites the old names in a TOML file or a book. Raises BadInput if the build is not sound; then nothing changes."""
    if is_book(file):
        from trialfit.book.journal import Book  # imported here: a TOML file does not need it

        with Book.open(file) as book:
            met = book.keep_new_names()
        remark = "The journal keeps the old names; the build is read under the present names." if met else ""
        return Updated(file=str(file), names=_names(met), remark=remark)
    seen: list[tuple[Renamed, ...]] = []

    def made(text: str) -> str:
        changed, found = new_text(text, str(file))
        seen.append(found)
        return changed

    rewrite(file, made)
    return Updated(file=str(file), names=_names(seen[-1]))


def new_text(text: str, where: str = "the text") -> tuple[str, tuple[Renamed, ...]]:
    """The text of a build with the present names, and the old names found. Raises BadInput."""
    met = read_text(text, where).renamed
    if not met:
        return text, ()
    changed = _rewritten(text, met)
    old, new = document_now(document_of(text, where)[0])[0], document_now(document_of(changed, where)[0])
    if new != (old, ()):
        left = ", ".join(one.path for one in new[1] or met)
        raise BadInput(where, [Located("", f"cannot be rewritten by this command: rename {left} by hand")])
    return changed, met


def _names(met: Iterable[Renamed]) -> tuple[NewName, ...]:
    return tuple(NewName(path=one.path, old=one.old, new=one.new) for one in met)


def _rewritten(text: str, met: Iterable[Renamed]) -> str:
    """Values first, while their names are still the old ones; then the names."""
    import tomlkit  # imported here: only a change needs it

    written = tomlkit.parse(text)
    keys = []
    for one in met:
        if one.path.endswith(f".{one.old}"):
            keys.append(one)
        else:
            _new_value(written, one)
    for one in keys:
        table = written["limit"] if one.path.startswith("limit.") else written[one.path.partition(".")[0]]
        _new_key(table, one)
    changed = tomlkit.dumps(written)
    return changed.replace("\r\n", "\n").replace("\n", "\r\n") if "\r\n" in text else changed


def _new_value(written: Any, one: Renamed) -> None:  # noqa: ANN401 - a table of the library
    import tomlkit

    first, _, key = one.path.partition(".")
    if first == "work":
        done = written[first][key]
        relied = done["relied"]
        done["relied"] = (
            one.new if isinstance(relied, str) else [one.new if item == one.old else item for item in relied]
        )
        return
    table = written[first]
    if key == "kind" and key not in table:  # the name of the table gives the kind
        _body(table).insert(0, (tomlkit.key(key), tomlkit.item(one.new)))
        return
    item, old = tomlkit.item(one.new), table[key]
    item.trivia.comment, item.trivia.comment_ws = old.trivia.comment, old.trivia.comment_ws
    table[key] = item


def _new_key(table: Any, one: Renamed) -> None:  # noqa: ANN401
    """Renames the key in place: its position, its spacing and the text after it stay."""
    import tomlkit

    body = _body(table)
    for place, (key, item) in enumerate(body):
        if key is not None and key.key == one.old:
            new = tomlkit.key(one.new)
            old = key.as_string()
            new.sep = old[len(old.rstrip()) :] + key.sep
            body[place] = (new, item)


def _body(table: Any) -> Any:  # noqa: ANN401
    return table.value.body
