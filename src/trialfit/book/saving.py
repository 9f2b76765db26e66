"""What a command writes for the builder: a file of its kind, whole or not at all, and never over anything else.

Answers   PDF, SVG, TABLE, PICTURE, PAGE, PIECES, TOML   the kinds of file that are written
          check_output   whether a file may be written: raises BadInput before anything is worked out
          save           bytes under a name that may be written
          check_free     whether a new book, or a copy of one, can have a name
          make_folder    a folder, where there is none yet
Not here  how a file comes on the disk (disk.py), write-out with its list (carrying.py)

Every option that names a file to write comes through here. What stands there already is replaced only if it is of the very
kind that is written, by its name and by its content: not what is read from, no book, no build in TOML, no link to nowhere.
"""

from __future__ import annotations

import stat
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.book.disk import is_folder, open_ordinary, write_whole
from trialfit.book.problems import BadInput, Located
from trialfit.book.refusals import Unusable

if TYPE_CHECKING:
    import os
    from collections.abc import Iterable
    from pathlib import Path

_LOOKED_AT = 1000
_BOOK = b"SQLite format 3"


@dataclass(frozen=True)
class Output:
    """A kind of file that is written: its endings, how its content begins, and a name as an example."""

    says: str
    endings: tuple[str, ...]
    begins: bytes
    example: str


PDF = Output("a PDF", (".pdf",), b"%PDF-", "tightening.pdf")
SVG = Output("an SVG drawing", (".svg",), b"<", "arrangement.svg")
TABLE = Output("a table of a plot", (".csv",), b"what,name,", "pull.csv")
PICTURE = Output("a PNG picture", (".png",), b"\x89PNG", "bay.png")
PAGE = Output("an HTML page", (".html", ".htm"), b"<", "bay.html")
PIECES = Output("a file of convex pieces", (".json",), b"{", "sump.solid.json")
TOML = Output("a build in TOML", (".toml",), b"", "garage.toml")
_OF_ANOTHER_KIND = {ending for kind in (PDF, SVG, TABLE, PICTURE, PAGE, PIECES, TOML) for ending in kind.endings} | {
    *(".txt", ".md", ".jpg", ".jpeg", ".gif", ".tif", ".tiff", ".webp", ".heic", ".heif"),
    *(".dxf", ".step", ".stp", ".stl", ".obj", ".ply", ".glb", ".off", ".zip"),
}


def check_output(file: Path, *kinds: Output, reads: Iterable[str | os.PathLike[str]] = ()) -> None:
    """Raises BadInput where a file of one of these kinds may not be written there. A name without an ending is the first kind."""
    kind = _kind_of(file, kinds)
    try:
        mode = file.stat().st_mode
    except (OSError, ValueError):
        if _is_link(file):
            raise _refused(
                file, "is a link to a file that is not there: choose another name; nothing was touched"
            ) from None
        return  # nothing is there; whether it can be written shows when it is
    if stat.S_ISDIR(mode):
        raise _refused(file, f"is a folder: expected a name for the file, for example {kind.example}")
    if not stat.S_ISREG(mode):
        raise _refused(file, f"is a pipe or a device: expected a name for the file, for example {kind.example}")
    for read in reads:
        with suppress(OSError, ValueError):
            if file.samefile(read):
                raise _refused(file, "is what is read from: choose another name; nothing was touched")
    _check_content(file, kind)


def _is_link(file: Path) -> bool:
    try:
        return file.is_symlink()
    except (OSError, ValueError):
        return False


def save(content: bytes, file: Path, *kinds: Output) -> None:
    """Writes a file of one of these kinds. Raises BadInput where that may not or cannot be done."""
    check_output(file, *kinds)
    try:
        write_whole(file, content)
    except (OSError, ValueError) as wrong:
        raise _refused(file, f"cannot be written: {_reason(wrong)}") from None


def _kind_of(file: Path, kinds: tuple[Output, ...]) -> Output:
    ending = file.suffix.lower()
    found = kinds[0] if not ending else next((kind for kind in kinds if ending in kind.endings), None)
    if found is None:
        wanted = " or ".join(f"{kind.says} (such as {kind.example})" for kind in kinds)
        raise _refused(file, f'ends in "{file.suffix}": expected {wanted}; choose another name; nothing was touched')
    return found


def _check_content(file: Path, kind: Output) -> None:
    """Raises BadInput where what is there is not of the kind that replaces it."""
    try:
        with open_ordinary(file) as opened:
            head = opened.read(_LOOKED_AT)
    except OSError as wrong:
        raise _refused(file, f"is there already and cannot be read ({wrong.strerror}): choose another name") from None
    if head and not head.lstrip(b"\xef\xbb\xbf\t\r\n ").startswith(kind.begins):
        what = "is a book" if head.startswith(_BOOK) else f"is there already, and by its content it is not {kind.says}"
        raise _refused(file, f"{what}: choose another name; nothing was touched")


def check_free(path: Path) -> None:
    """Raises Unusable where a new book cannot have this name."""
    if "\0" in str(path):
        raise Unusable(repr(str(path)), "is not a name that a file can have")
    if path.suffix.lower() in _OF_ANOTHER_KIND:
        raise Unusable(path, f'ends in "{path.suffix}", as another kind of file does: name a book NAME.book')
    with suppress(OSError):
        path.lstat()
        raise Unusable(path, "is there already: choose another name; nothing was touched")
    if not is_folder(path.absolute().parent):
        raise Unusable(path, f"has no place: there is no folder {path.parent}")


def make_folder(folder: Path) -> None:
    """Makes a folder with those above it. Raises BadInput where it cannot be made."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise _refused(folder, "is a file: expected a folder, for example sheets") from None
    except (OSError, ValueError) as wrong:
        raise _refused(folder, f"cannot be made: {_reason(wrong)}") from None


def _reason(wrong: OSError | ValueError) -> str:
    return (getattr(wrong, "strerror", None) or str(wrong)).lower()


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
