"""What write-out has written before, known by a list of its own, and what it may therefore replace.

Answers   sealed        a text as it is written out, with the seal that shows whether it still is as it was written
          check_place   refuses what may not be replaced, before anything is touched
          clear_away    takes out what was written before and has no place any more
          folder_of     the folder of the attachments: `mine.files` beside `mine.toml`
          file_name, older_place   the name of an attachment in it; the name that it was given before
Not here  carrying itself (carrying.py)

The first line of a file that was written out holds the SHA-256 of what follows. As long as it is right, the file is our own,
and the attachments that it names, each with its SHA-256, are the list of what was written into the folder beside it. All
else there is the builder's: it stays, and where it is in the way, it is named.
"""

from __future__ import annotations

import re
import stat
from contextlib import suppress
from hashlib import sha256
from typing import TYPE_CHECKING

from trialfit.book.disk import is_file, read_bytes
from trialfit.book.media import extension_of
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import document_of

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from trialfit.book.document import AttachmentText

_SEAL = re.compile(rb"# written out by trialfit; SHA-256 of what follows: ([0-9a-f]{64})\n")
_UNTOUCHED = "choose another name, or move it away; nothing was touched"


def folder_of(file: Path) -> Path:
    """The folder beside a TOML file in which its attachments stand."""
    return file.with_name(f"{file.stem}.files")


def file_name(name: str, card: AttachmentText) -> str:
    """The attachment's own name, which is unique in the build and safe, with the ending that belongs to its content."""
    return f"{name}{extension_of(card.media_type, card.file)}"


def older_place(folder: Path, name: str, card: AttachmentText) -> Path:
    """Where an attachment stands that an older program wrote out: all texts ended in .txt."""
    older = folder / f"{name}{extension_of(card.media_type)}"
    return older if is_file(older) else folder / file_name(name, card)


def sealed(text: str) -> bytes:
    """The text as it is written out."""
    body = text.encode()
    return f"# written out by trialfit; SHA-256 of what follows: {sha256(body).hexdigest()}\n".encode() + body


def check_place(file: Path, folder: Path, papers: Mapping[str, bytes], *, replace: bool) -> dict[str, str]:
    """What was written there before: the SHA-256 of each file in the folder, by name. Raises BadInput, OSError.

    Without `replace` nothing may be there. With it the file must be as it was written out, and each file in the folder that
    is in the way must be, too, or be what is written now.
    """
    for taken in (file, folder):
        if not replace and _mode(taken) is not None:
            raise _refused(taken, "is there already: choose another name, or write --replace; nothing was touched")
    own = _own(file)
    mode = _mode(folder)
    if mode is not None and not stat.S_ISDIR(mode):
        raise _refused(folder, f"is not a folder that was written out: {_UNTOUCHED}")
    for name, whole in papers.items():
        place = folder / name
        if _mode(place) is not None and _digest(place) not in (own.get(name), sha256(whole).hexdigest()):
            raise _refused(place, f"was not written out as it is, and another file is to stand there: {_UNTOUCHED}")
    return own


def clear_away(folder: Path, own: Mapping[str, str]) -> None:
    """Takes out the files that are as they were written out, and the folder where nothing else is left in it."""
    for name, digest in own.items():
        with suppress(OSError):
            if _digest(folder / name) == digest:
                (folder / name).unlink()
    if own:
        with suppress(OSError):
            folder.rmdir()


def _own(file: Path) -> dict[str, str]:
    """The list of what was written out with a file; empty where there is no file. Raises BadInput where it is not our own."""
    mode = _mode(file)
    if mode is None:
        return {}
    if not stat.S_ISREG(mode):
        what = "is a folder" if stat.S_ISDIR(mode) else "is a link, a pipe or a device"
        raise _refused(file, f"{what}: expected the name of a TOML file; nothing was touched")
    data = read_bytes(file)
    found = _SEAL.match(data)
    if not found or sha256(data[found.end() :]).hexdigest().encode() != found[1]:
        raise _refused(file, f"was not written out by trialfit, or was changed since: {_UNTOUCHED}")
    document, _ = document_of(data.decode(), str(file))
    return {file_name(name, card): card.sha256 for name, card in document.attachments.items()}


def _digest(file: Path) -> str | None:
    """The SHA-256 of an ordinary file; None for a link and whatever else cannot be read."""
    try:
        return None if file.is_symlink() else sha256(read_bytes(file)).hexdigest()
    except OSError:
        return None


def _mode(path: Path) -> int | None:
    """What is there, a link as a link; None where nothing is."""
    try:
        return path.lstat().st_mode
    except FileNotFoundError:
        return None
    except ValueError:
        raise BadInput(repr(str(path)), [Located("", "is not a name that a file can have")]) from None


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
