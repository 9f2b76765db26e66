"""A file written whole or not at all.

Answers   save          bytes under a name; what was there before stays until the new file is whole
          make_folder   a folder, where there is none yet
"""

from __future__ import annotations

import os
from contextlib import suppress
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located

if TYPE_CHECKING:
    from pathlib import Path


def save(content: bytes, file: Path) -> None:
    """Writes a file beside its place and moves it there when it is whole. Raises BadInput where that cannot be done."""
    part = file.with_name(f".{file.name}.{os.getpid()}.part")
    try:
        with part.open("xb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        part.replace(file)
    except IsADirectoryError:
        says = "is a folder: expected a name for the file, for example tightening.pdf"
        raise BadInput(str(file), [Located("", says)]) from None
    except (OSError, ValueError) as wrong:
        raise BadInput(str(file), [Located("", f"cannot be written: {_reason(wrong)}")]) from None
    finally:
        with suppress(OSError, ValueError):
            part.unlink()


def make_folder(folder: Path) -> None:
    """Makes a folder with those above it. Raises BadInput where it cannot be made."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise BadInput(str(folder), [Located("", "is a file: expected a folder, for example sheets")]) from None
    except (OSError, ValueError) as wrong:
        raise BadInput(str(folder), [Located("", f"cannot be made: {_reason(wrong)}")]) from None


def _reason(wrong: OSError | ValueError) -> str:
    return (getattr(wrong, "strerror", None) or str(wrong)).lower()
