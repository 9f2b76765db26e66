"""Files on the disk: only ordinary files are read or replaced, and a file is written whole or not at all.

Answers   mode_of, is_file, is_folder   the type of file under a name; any name is accepted
          open_ordinary, read_bytes   an ordinary file: no folder, no device, no pipe (it could block)
          write_whole    bytes under a name; the old file stays until the new one is whole; a link stays a link
          unfinished     a temporary folder beside a file, for work that is not finished
          turn           allows one writer of a file at a time
          flush          forces a file or folder onto the disk
          has_other_names   whether a file has a second name (a hard link); OTHER_NAMES says what that means
Not here  what may be written where (saving.py), books (store/)

A killed process leaves its temporary folder behind. The folder is locked as long as the process lives. The next process
that writes beside it finds it unlocked and removes it.
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
except ImportError:  # Windows: no locks there, and temporary folders left behind are not removed
    fcntl = None  # type: ignore[assignment]

BUSY_SECONDS = 10.0
PREFIX = ".trialfit-"
_HOW = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0)
_BETWEEN_TRIES = 0.01
_TRIES = 10
OTHER_NAMES = "has a second name on the disk (a hard link), and a change would be missing or lost under one of the two"


def mode_of(file: str | os.PathLike[str]) -> int:
    """The file mode from `stat`; 0 if there is no file, if access is refused, or if the name is not valid."""
    try:
        return Path(file).stat().st_mode
    except (OSError, ValueError):
        return 0


def is_file(file: str | os.PathLike[str]) -> bool:
    """Whether an ordinary file exists."""
    return stat.S_ISREG(mode_of(file))


def is_folder(file: str | os.PathLike[str]) -> bool:
    """Whether a folder exists."""
    return stat.S_ISDIR(mode_of(file))


def open_ordinary(file: str | os.PathLike[str]) -> BinaryIO:
    """An ordinary file, open to read. Raises OSError if it is not one, ValueError if the name is not valid."""
    _check_ordinary(Path(file).stat().st_mode)  # check first: opening a device may already act on it
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


def has_other_names(file: str | os.PathLike[str]) -> bool:
    """Whether a file has a second name on the disk, a hard link. A new name takes the place of one only: the names part.

    A book gets its name by a hard link, so it has two names for a moment, and for good if the process is killed just then.
    """
    place = Path(os.path.realpath(file))
    for _ in range(_TRIES):
        try:
            if place.stat().st_nlink <= 1:
                return False
        except (OSError, ValueError):
            return False
        clear_unfinished(place.parent)
        time.sleep(_BETWEEN_TRIES)
    return True


def write_whole(file: Path, data: bytes) -> None:
    """Writes a file whole or not at all, durable, with the mode of the file it replaces. Raises OSError."""
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
    with suppress(OSError):  # the file is in place; not every disk can flush a folder
        flush(place.parent)


@contextmanager
def unfinished(file: Path) -> Iterator[Path]:
    """A temporary folder beside a file; it is removed at the end with its contents. Raises OSError."""
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
    """Removes what killed processes left in a folder: their locks are free."""
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
    """A new folder with its lock; made again if another process removed it before it was locked."""
    while True:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=parent))
        with suppress(OSError):
            lock = _lock(folder)
            if folder.is_dir():
                return folder, lock


def _lock(path: Path) -> int | None:
    """A lock that ends with the process; None if another process holds it, or the disk has no locks."""
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
    """Allows one writer of a file at a time, if all writers use it. Raises OSError if the wait is too long.

    Each writer replaces the whole file. So after waiting, check that the locked file still has the name.
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
            raise OSError(EBUSY, f"another program has been writing to it for more than {BUSY_SECONDS:.0f} seconds")
        time.sleep(_BETWEEN_TRIES)


def _has_turn(opened: BinaryIO, file: Path) -> bool:
    if fcntl is None:
        return True
    try:
        fcntl.flock(opened.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True  # a disk without locks: go on without a lock
    return os.path.samestat(os.fstat(opened.fileno()), file.stat())


def flush(path: Path) -> None:
    """Forces a file or folder onto the disk."""
    if os.name == "nt" and path.is_dir():
        return  # Windows cannot open folders
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
