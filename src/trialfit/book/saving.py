"""The files that commands write for the builder: whole or not at all, and never over another kind of file.

Answers   PDF, SVG, TABLE, PICTURE, PAGE, PIECES, TOML   the kinds of output file
          check_output   raises BadInput if a file must not be written, before any calculation
          save           writes bytes under an allowed name
          check_free     checks the name for a new book or a copy of one
          make_folder    makes a folder if there is none yet
Not here  how a file gets onto the disk (disk.py), write-out with its list (carrying.py)

Every option that names an output file uses this module. An old file is replaced only if it is of the same kind as the new
one, by name and by content. The input file, a book, a build in TOML and a broken link are never replaced.
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
_BOOK_ENDING = ".book"
_ONLY_ENDING = "is an ending without a name: expected a name before it"


@dataclass(frozen=True)
class Output:
    """A kind of output file: its endings, the beginning of its content, and an example name."""

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
_ENDINGS = {ending for kind in (PDF, SVG, TABLE, PICTURE, PAGE, PIECES, TOML) for ending in kind.endings} | {
    *(".txt", ".md", ".jpg", ".jpeg", ".gif", ".tif", ".tiff", ".webp", ".heic", ".heif"),
    *(".dxf", ".step", ".stp", ".stl", ".obj", ".ply", ".glb", ".off", ".zip"),
}


def check_output(file: Path, *kinds: Output, reads: Iterable[str | os.PathLike[str]] = ()) -> None:
    """Raises BadInput if a file of one of these kinds must not be written there. A name without an ending is the first kind."""
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
                raise _refused(file, "is the input file: choose another name; nothing was changed")
    _check_content(file, kind)


def _is_link(file: Path) -> bool:
    try:
        return file.is_symlink()
    except (OSError, ValueError):
        return False


def save(content: bytes, file: Path, *kinds: Output) -> None:
    """Writes a file of one of these kinds. Raises BadInput if that is not allowed or not possible."""
    check_output(file, *kinds)
    try:
        write_whole(file, content)
    except (OSError, ValueError) as wrong:
        raise _refused(file, f"cannot be written: {_reason(wrong)}") from None


def _kind_of(file: Path, kinds: tuple[Output, ...]) -> Output:
    ending = file.suffix.lower()
    if file.name.lower() in _ENDINGS:
        raise _refused(file, f"{_ONLY_ENDING}, for example {kinds[0].example}; nothing was written")
    found = kinds[0] if not ending else next((kind for kind in kinds if ending in kind.endings), None)
    if found is None:
        wanted = " or ".join(f"{kind.says} (such as {kind.example})" for kind in kinds)
        raise _refused(file, f'ends in "{file.suffix}": expected {wanted}; choose another name; nothing was changed')
    return found


def _check_content(file: Path, kind: Output) -> None:
    """Raises BadInput if the old file is not of the kind that replaces it."""
    try:
        with open_ordinary(file) as opened:
            head = opened.read(_LOOKED_AT)
    except OSError as wrong:
        raise _refused(file, f"exists already and cannot be read ({wrong.strerror}): choose another name") from None
    if head and not head.lstrip(b"\xef\xbb\xbf\t\r\n ").startswith(kind.begins):
        what = "is a book" if head.startswith(_BOOK) else f"exists already, and its content is not {kind.says}"
        raise _refused(file, f"{what}: choose another name; nothing was changed")


def check_free(path: Path) -> None:
    """Raises Unusable if a new book cannot have this name."""
    if "\0" in str(path):
        raise Unusable(repr(str(path)), "is not a valid file name")
    if path.name.lower() in {*_ENDINGS, _BOOK_ENDING}:
        raise Unusable(path, f"{_ONLY_ENDING}, for example garage{_BOOK_ENDING}; nothing was written")
    if path.suffix.lower() in _ENDINGS:
        raise Unusable(path, f'ends in "{path.suffix}", the ending of another kind of file: name a book NAME.book')
    with suppress(OSError):
        path.lstat()
        raise Unusable(path, "exists already: choose another name; nothing was changed")
    if not is_folder(path.absolute().parent):
        raise Unusable(path, f"cannot be made: the folder {path.parent} does not exist")


def make_folder(folder: Path) -> None:
    """Makes a folder and its parent folders. Raises BadInput if it cannot be made."""
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
