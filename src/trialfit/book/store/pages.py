"""Rows of a damaged book: through SQLite as far as possible, then page by page from its bytes, without SQLite.

Answers   rows_by_asking   the columns of every row that SQLite can read
          numbers_on       the keys of the rows on one page
          rows_in          the columns of every row still on a page
Not here  which of them are sound, and what they mean (book/salvage.py)

SQLite stops where its tree is torn. The leaves below are mostly whole: each has the positions of its rows, and each row has
its length. So rows are found even if the beginning of the file, the tree or its root is lost. A row may be found twice, and
old rows of a page may be found too.

Source    the public description of the SQLite database file format: leaf pages of tables, record format, overflow chains
"""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from trialfit.book.store.rows import COLUMNS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_TABLES = {
    "change": ", ".join(COLUMNS),
    "snapshot": "number, size, state, seal",
    "file": "sha256, size, media_type, whole, preview",
}
_USUAL_PAGE = 4096
_LEAF_OF_TABLE = 13
_FILE_HEAD = 100
_PAGE_HEAD = 8
_WAL_HEAD, _FRAME_HEAD = 32, 24
_LARGEST = 200_000_000
_MOST_COLUMNS = 20
_WIDTHS = (0, 1, 2, 3, 4, 6, 8)
_FLOAT, _ZERO, _ONE, _FIRST_SIZED = 7, 8, 9, 12
_LONGEST_VARINT = 9


class _Torn(Exception):
    """The bytes read are not a row."""


def rows_by_asking(copy: Path) -> Iterator[tuple[Any, ...]]:
    """The columns of every row that SQLite can still read in a copy of a book. The copy may be written to."""
    with suppress(sqlite3.Error):
        db = sqlite3.connect(copy)
        try:
            for table, columns in _TABLES.items():
                with suppress(sqlite3.Error):
                    yield from db.execute(f"select {columns} from {table}")  # noqa: S608 - names of our own
        finally:
            db.close()


def rows_in(book: bytes, waiting: bytes = b"") -> Iterator[tuple[Any, ...]]:
    """The columns of every row found in a book's bytes and in the bytes of the WAL beside it."""
    size = page_size(book)
    pages = [book[start : start + size] for start in range(0, len(book), size)]
    for number in range(len(pages)):
        yield from _rows_of(pages, number, size)
    newer = dict(_frames(waiting, size))
    if newer:
        latest = [newer.get(number, page) for number, page in enumerate(pages)]
        latest += [newer.get(number, b"") for number in range(len(pages), max(newer) + 1)]
        for number in newer:
            yield from _rows_of(latest, number, size)


def page_size(book: bytes) -> int:
    """The page size in the header of a book; the usual size if the header's value is impossible."""
    said = int.from_bytes(book[16:18], "big")
    said = 65536 if said == 1 else said
    is_sound = said >= 512 and said & (said - 1) == 0  # noqa: PLR2004 - the smallest page size; a power of two
    return said if is_sound else _USUAL_PAGE


def _frames(waiting: bytes, size: int) -> Iterator[tuple[int, bytes]]:
    for start in range(_WAL_HEAD, len(waiting) - _FRAME_HEAD - size + 1, _FRAME_HEAD + size):
        number = int.from_bytes(waiting[start : start + 4], "big")
        if 0 < number < _LARGEST // size:
            yield number - 1, waiting[start + _FRAME_HEAD : start + _FRAME_HEAD + size]


def numbers_on(page: bytes, columns: int) -> list[int]:
    """The integer keys of the rows on a page, for a table with this number of columns; empty for any other page."""
    numbers = []
    if len(page) > _PAGE_HEAD and page[0] == _LEAF_OF_TABLE:
        for cell in range(min(int.from_bytes(page[3:5], "big"), len(page) // 2)):
            place = _PAGE_HEAD + 2 * cell
            with suppress(IndexError, ValueError):
                _, start = _varint(page, int.from_bytes(page[place : place + 2], "big"))
                key, start = _varint(page, start)
                end, at = _varint(page, start)
                end += start
                count = 0
                while at < end:
                    _, at = _varint(page, at)
                    count += 1
                if count == columns:
                    numbers.append(key)
    return numbers


def _rows_of(pages: list[bytes], number: int, size: int) -> Iterator[tuple[Any, ...]]:
    page = pages[number]
    head = _FILE_HEAD if number == 0 else 0
    if len(page) < head + _PAGE_HEAD or page[head] != _LEAF_OF_TABLE:
        return
    count = int.from_bytes(page[head + 3 : head + 5], "big")
    for cell in range(min(count, size // 2)):
        place = head + _PAGE_HEAD + 2 * cell
        try:
            yield _row_at(pages, page, int.from_bytes(page[place : place + 2], "big"), size)
        except (_Torn, IndexError, ValueError):
            continue


def _row_at(pages: list[bytes], page: bytes, start: int, size: int) -> tuple[Any, ...]:
    length, start = _varint(page, start)
    key, start = _varint(page, start)
    if not 0 < length < _LARGEST:
        raise _Torn
    payload = _payload(pages, page, start, length, size)
    columns = list(_columns(payload))
    if columns and columns[0] is None:
        columns[0] = key  # an integer key is stored beside the row, not in it
    return tuple(columns)


def _payload(pages: list[bytes], page: bytes, start: int, length: int, size: int) -> bytes:
    """The bytes of a row: those on the page, and those on the chain of overflow pages."""
    most = size - 35
    if length <= most:
        return page[start : start + length]
    least = (size - 12) * 32 // 255 - 23
    local = least + (length - least) % (size - 4)
    local = local if local <= most else least
    pieces = [page[start : start + local]]
    following = int.from_bytes(page[start + local : start + local + 4], "big")
    got = local
    while got < length:
        if not 0 < following <= len(pages):
            raise _Torn
        overflow = pages[following - 1]
        following = int.from_bytes(overflow[:4], "big")
        pieces.append(overflow[4:])
        got += size - 4
    return b"".join(pieces)[:length]


def _columns(payload: bytes) -> Iterator[Any]:
    end, at = _varint(payload, 0)
    kinds = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    if at != end or not 0 < len(kinds) <= _MOST_COLUMNS:
        raise _Torn
    for kind in kinds:
        width = _width(kind)
        if at + width > len(payload):
            raise _Torn
        yield _value(kind, payload[at : at + width])
        at += width


def _width(kind: int) -> int:
    if kind < len(_WIDTHS):
        return _WIDTHS[kind]
    if kind == _FLOAT:
        return 8
    return 0 if kind < _FIRST_SIZED else (kind - _FIRST_SIZED) // 2


def _value(kind: int, data: bytes) -> int | str | bytes | None:
    if kind == 0:
        return None
    if kind < _FLOAT:
        return int.from_bytes(data, "big", signed=True)
    if kind in (_ZERO, _ONE):
        return kind - _ZERO
    if kind < _FIRST_SIZED:
        raise _Torn  # a book does not have such columns
    return data.decode() if kind % 2 else data


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """An integer of one to nine bytes, and the position after it."""
    value = 0
    for place in range(at, at + _LONGEST_VARINT - 1):
        byte = data[place]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:  # noqa: PLR2004 - the top bit: another byte follows
            return value, place + 1
    return value << 8 | data[at + _LONGEST_VARINT - 1], at + _LONGEST_VARINT
