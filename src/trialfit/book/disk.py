"""Files on the disk: only ordinary ones are read or replaced, and what is written is there whole or not at all.

Answers   mode_of, is_file, is_folder   what is under a name, whatever the name is
          open_ordinary, read_bytes   an ordinary file: no folder, no pipe that would keep us waiting, no device
          write_whole    bytes under a name; what was there before stays until the new file is whole; a link stays a link
          unfinished     a folder beside a file in which something comes about before it gets its name
          turn           one writer of a file at a time
          flush          has the disk write what it holds of a file or folder
Not here  what may be written where (saving.py), books (store/)

A process that is killed leaves its folder of unfinished things. It is locked as long as the process lives, so the next that
writes beside it knows that nobody needs it any more, and takes it away.
"""

from __future__ import annotations

import os
import shutil
import stat
import tempfile
import time
from contextlib import contextmanager, suppress
from errno import EBUSY, EINVAL, EISDIR, ELOOP
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

if TYPE_CHECKING:
    from collections.abc import Iterator

try:
    import fcntl
except ImportError:  # Windows: nothing is locked there, and nothing that was left behind is taken away
    fcntl = None  # type: ignore[assignment]

BUSY_SECONDS = 10.0
PREFIX = ".trialfit-"
_HOW = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0)
_BETWEEN_TRIES = 0.01


def mode_of(file: str | os.PathLike[str]) -> int:
    """What is under a name, as `stat` tells; 0 where nothing is, where nobody may look, and for what no file can be called."""
    try:
        return Path(file).stat().st_mode
    except (OSError, ValueError):
        return 0


def is_file(file: str | os.PathLike[str]) -> bool:
    """Whether an ordinary file is there."""
    return stat.S_ISREG(mode_of(file))


def is_folder(file: str | os.PathLike[str]) -> bool:
    """Whether a folder is there."""
    return stat.S_ISDIR(mode_of(file))


def open_ordinary(file: str | os.PathLike[str]) -> BinaryIO:
    """An ordinary file, open to read. Raises OSError where it is none, ValueError where the name can be none."""
    _check_ordinary(Path(file).stat().st_mode)  # first: to open a device may already do something
    handle = os.open(file, _HOW)
    try:
        _check_ordinary(os.fstat(handle).st_mode)
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


def read_bytes(file: str | os.PathLike[str]) -> bytes:
    """The bytes of an ordinary file. Raises as `open_ordinary`."""
    with open_ordinary(file) as opened:
        return opened.read()


def _check_ordinary(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(EISDIR, os.strerror(EISDIR))
    if not stat.S_ISREG(mode):
        raise OSError(EINVAL, "it is a pipe or a device")


def write_whole(file: Path, data: bytes) -> None:
    """A file written whole or not at all, and durable, with the mode of the one that it replaces. Raises OSError."""
    place = Path(os.path.realpath(file))
    if place.is_symlink():
        raise OSError(ELOOP, os.strerror(ELOOP))
    mode = None
    with suppress(FileNotFoundError):
        mode = place.stat().st_mode
    if mode is not None:
        _check_ordinary(mode)
    with unfinished(place) as folder:
        part = folder / "part"
        with part.open("xb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        if mode is not None:
            part.chmod(stat.S_IMODE(mode))
        part.replace(place)
    with suppress(OSError):  # it stands there; not every disk writes a folder when it is told to
        flush(place.parent)


@contextmanager
def unfinished(file: Path) -> Iterator[Path]:
    """A folder beside a file in which something comes about; it goes at the end with what is still in it. Raises OSError."""
    parent = file.absolute().parent
    clear_unfinished(parent)
    folder, lock = _own_folder(parent)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if lock is not None:
            os.close(lock)


def clear_unfinished(parent: Path) -> None:
    """Takes away what killed processes left in a folder: nobody holds the lock of it."""
    try:
        left = [Path(entry.path) for entry in os.scandir(parent) if entry.name.startswith(PREFIX)]
    except (OSError, ValueError):
        return
    for folder in left:
        with suppress(OSError):
            if folder.is_symlink() or not folder.is_dir():
                continue
            lock = _lock(folder)
            if lock is not None:
                shutil.rmtree(folder, ignore_errors=True)
                os.close(lock)


def _own_folder(parent: Path) -> tuple[Path, int | None]:
    """A new folder with its lock; made again where somebody has taken it for left behind before it was locked."""
    while True:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=parent))
        with suppress(OSError):
            lock = _lock(folder)
            if folder.is_dir():
                return folder, lock


def _lock(path: Path) -> int | None:
    """A lock that ends with the process; None where somebody else has it, or the disk knows no locks."""
    if fcntl is None:
        return None
    handle = os.open(path, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


@contextmanager
def turn(file: Path) -> Iterator[None]:
    """One writer of a file at a time, as long as all of them ask for their turn. Raises OSError where it never comes.

    The file is replaced as a whole by each, so that one who waited looks whether what it has locked still has the name.
    """
    until = time.monotonic() + BUSY_SECONDS
    while True:
        opened = open_ordinary(file)
        try:
            if _has_turn(opened, file):
                yield
                return
        finally:
            opened.close()
        if time.monotonic() > until:
            raise OSError(EBUSY, f"somebody else has been writing for more than {BUSY_SECONDS:.0f} seconds")
        time.sleep(_BETWEEN_TRIES)


def _has_turn(opened: BinaryIO, file: Path) -> bool:
    if fcntl is None:
        return True
    try:
        fcntl.flock(opened.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True  # a disk without locks is taken as it is
    return os.path.samestat(os.fstat(opened.fileno()), file.stat())


def flush(path: Path) -> None:
    """Has the disk write what it holds of a file or folder."""
    if os.name == "nt" and path.is_dir():
        return  # Windows opens no folders
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
