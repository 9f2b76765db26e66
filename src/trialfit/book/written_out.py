"""The files that write-out wrote earlier, from its own list, and so the files it may replace.

Answers   sealed        a text as written out, with a seal that shows later changes
          check_place   refuses to replace other files, before any change
          clear_away    removes files written earlier that are no longer needed
          folder_of     the folder of the attachments: `mine.files` beside `mine.toml`
          file_name, older_place   the name of an attachment in it; its name in older versions
Not here  writing out and reading in (carrying.py)

The first line of a written-out file holds the SHA-256 of the lines after it. If it is right, the file was written by
trialfit and is unchanged. Its attachments, each with its SHA-256, are the list of files written into the folder beside it.
All other files there belong to the builder: they stay, and a message names any that is in the way.
"""

from __future__ import annotations

import re
import stat
from contextlib import suppress
from hashlib import sha256
from typing import TYPE_CHECKING

from trialfit.book.disk import OTHER_NAMES, has_other_names, is_file, read_bytes
from trialfit.book.media import extension_of
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import document_of

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from trialfit.book.document import AttachmentText

_SEAL = re.compile(rb"# written out by trialfit; SHA-256 of what follows: ([0-9a-f]{64})\n")
_UNTOUCHED = "choose another name, or move it away; nothing was changed"


def folder_of(file: Path) -> Path:
    """The folder beside a TOML file for its attachments."""
    return file.with_name(f"{file.stem}.files")


def file_name(name: str, card: AttachmentText) -> str:
    """The attachment's own name (unique in the build and safe), with the ending for its content."""
    return f"{name}{extension_of(card.media_type, card.file)}"


def older_place(folder: Path, name: str, card: AttachmentText) -> Path:
    """The place of an attachment written out by an older program: all texts ended in .txt."""
    older = folder / f"{name}{extension_of(card.media_type)}"
    return older if is_file(older) else folder / file_name(name, card)


def sealed(text: str) -> bytes:
    """The text as written out."""
    body = text.encode()
    return f"# written out by trialfit; SHA-256 of what follows: {sha256(body).hexdigest()}\n".encode() + body


def check_place(file: Path, folder: Path, papers: Mapping[str, bytes], *, replace: bool) -> dict[str, str]:
    """The files written there earlier: the SHA-256 of each file in the folder, by name. Raises BadInput, OSError.

    Without `replace` the place must be empty. With it, the file must be unchanged since it was written out. Each file in
    the way in the folder must be unchanged too, or equal to the new file.
    """
    for taken in (file, folder):
        if not replace and _mode(taken) is not None:
            raise _refused(taken, "exists already: choose another name, or write --replace; nothing was changed")
    own = _own(file)
    mode = _mode(folder)
    if mode is not None and not stat.S_ISDIR(mode):
        raise _refused(folder, f"is a folder that trialfit did not write: {_UNTOUCHED}")
    for name, whole in papers.items():
        place = folder / name
        if _mode(place) is not None and _digest(place) not in (own.get(name), sha256(whole).hexdigest()):
            raise _refused(
                place, f"was changed or was not written by trialfit, and another file needs its name: {_UNTOUCHED}"
            )
    return own


def clear_away(folder: Path, own: Mapping[str, str]) -> None:
    """Removes the files that are unchanged since they were written out, and the folder if it is then empty."""
    for name, digest in own.items():
        with suppress(OSError):
            if _digest(folder / name) == digest:
                (folder / name).unlink()
    if own:
        with suppress(OSError):
            folder.rmdir()


def _own(file: Path) -> dict[str, str]:
    """The list of files written out with a file; empty if there is no file. Raises BadInput if trialfit did not write it."""
    mode = _mode(file)
    if mode is None:
        return {}
    if not stat.S_ISREG(mode):
        what = "is a folder" if stat.S_ISDIR(mode) else "is a link, a pipe or a device"
        raise _refused(file, f"{what}: expected the name of a TOML file; nothing was changed")
    if has_other_names(file):
        raise _refused(file, f"{OTHER_NAMES}: {_UNTOUCHED}")
    data = read_bytes(file)
    found = _SEAL.match(data)
    if not found or sha256(data[found.end() :]).hexdigest().encode() != found[1]:
        raise _refused(file, f"was not written by trialfit, or was changed since: {_UNTOUCHED}")
    document, _ = document_of(data.decode(), str(file))
    return {file_name(name, card): card.sha256 for name, card in document.attachments.items()}


def _digest(file: Path) -> str | None:
    """The SHA-256 of an ordinary file; None for a link and any file that cannot be read."""
    try:
        return None if file.is_symlink() else sha256(read_bytes(file)).hexdigest()
    except OSError:
        return None


def _mode(path: Path) -> int | None:
    """The file status, a link as a link; None if there is no file."""
    try:
        return path.lstat().st_mode
    except FileNotFoundError:
        return None
    except ValueError:
        raise BadInput(repr(str(path)), [Located("", "is not a valid file name")]) from None


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
