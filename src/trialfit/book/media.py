"""The type of a photo or paper, by its content. A file whose content and name do not agree is refused.

Answers   read_paper    a file as a Paper: its bytes, its type, a preview if it is a picture
          Paper         a file to be attached
          paper_of      earlier attached bytes as a Paper
          extension_of  the file ending for a media type
          LARGEST       the largest size of one file
Not here  previews (pictures.py); where the bytes are kept (store/files.py)

Sources   the first bytes of each format as its standard or registration gives them: JPEG ITU-T T.81, PNG ISO/IEC 15948,
          TIFF 6.0, GIF89a, WebP RFC 9649, PDF ISO 32000, HEIF ISO/IEC 23008-12, STEP ISO 10303-21.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

from trialfit.book.disk import read_bytes
from trialfit.book.problems import BadInput, Located

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from trialfit.book.document import AttachmentText

LARGEST = 50_000_000
_HEIF = {b"heic", b"heix", b"heim", b"heis", b"mif1", b"msf1"}


@dataclass(frozen=True)
class Kind:
    """A type of file that can be attached."""

    media_type: str
    says: str
    endings: tuple[str, ...]
    begins: Callable[[bytes], bool]
    is_picture: bool = False


@dataclass(frozen=True)
class Paper:
    """A file to be attached: its name without the folder, its bytes, its media type, and a preview in JPEG or None."""

    file: str
    whole: bytes
    media_type: str
    preview: bytes | None = None


def _is_text(data: bytes) -> bool:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return False
    for sign in "\t\r\n\f":
        text = text.replace(sign, "")
    return text.isprintable()


def _says(*starts: bytes) -> Callable[[bytes], bool]:
    return lambda data: data.startswith(starts)


KINDS_OF_FILE = (
    Kind("image/jpeg", "a JPEG picture", (".jpg", ".jpeg"), _says(b"\xff\xd8\xff"), is_picture=True),
    Kind("image/png", "a PNG picture", (".png",), _says(b"\x89PNG\r\n\x1a\n"), is_picture=True),
    Kind("image/gif", "a GIF picture", (".gif",), _says(b"GIF87a", b"GIF89a"), is_picture=True),
    Kind("image/tiff", "a TIFF picture", (".tif", ".tiff"), _says(b"II*\0", b"MM\0*"), is_picture=True),
    Kind(
        "image/webp",
        "a WebP picture",
        (".webp",),
        lambda data: data.startswith(b"RIFF") and data[8:12] == b"WEBP",
        is_picture=True,
    ),
    Kind("image/heic", "a HEIC picture", (".heic", ".heif"), lambda data: data[4:8] == b"ftyp" and data[8:12] in _HEIF),
    Kind("application/pdf", "a PDF document", (".pdf",), _says(b"%PDF-")),
    Kind("model/step", "a STEP drawing", (".step", ".stp"), _says(b"ISO-10303-21;")),
    Kind("text/plain", "a text", (".txt", ".md", ".csv", ".dxf", ".svg"), _is_text),
)
"""In order: the first type whose beginning fits is used; text is the last resort."""


def read_paper(file: Path) -> Paper:
    """The file, with a preview if it is a picture. Raises BadInput with one sentence."""
    whole = _bytes_of(file)
    if not file.name.isprintable():  # bytes that are not UTF-8 cannot be printed either
        raise _refused(file, "has a name that is not UTF-8 or cannot be printed: rename the file")
    named = next((kind for kind in KINDS_OF_FILE if file.suffix.lower() in kind.endings), None)
    found = next((kind for kind in KINDS_OF_FILE if kind.begins(whole)), None)
    if named is None:
        known = ", ".join(ending for kind in KINDS_OF_FILE for ending in kind.endings)
        raise _refused(file, f'ends in "{file.suffix}": expected a photo, certificate or drawing ({known})')
    if found is not named:
        what = found.says if found else "an unknown type of file"
        raise _refused(
            file,
            f"has the name of {named.says}, but its content is {what}: give it the right name, or save it again",
        )
    return Paper(file.name, whole, named.media_type, _preview(file, whole) if named.is_picture else None)


def paper_of(card: AttachmentText, whole: bytes) -> Paper | None:
    """Earlier attached bytes, as described on their card, with a new preview; None if they do not match the card."""
    from trialfit.book.pictures import NotDrawable, preview_of

    kind = next((kind for kind in KINDS_OF_FILE if kind.begins(whole)), None)
    if kind is None or kind.media_type != card.media_type or sha256(whole).hexdigest() != card.sha256:
        return None
    try:
        return Paper(card.file, whole, kind.media_type, preview_of(whole) if kind.is_picture else None)
    except NotDrawable:
        return None


def extension_of(media_type: str, file: str = "") -> str:
    """The file ending for a media type: the ending of `file` if it fits; ".bin" for an unknown type."""
    kind = next((kind for kind in KINDS_OF_FILE if kind.media_type == media_type), None)
    if kind is None:
        return ".bin"
    return next((ending for ending in kind.endings if file.lower().endswith(ending)), kind.endings[0])


def _bytes_of(file: Path) -> bytes:
    try:
        size = file.stat().st_size
        if not file.is_file():
            raise _refused(file, "is not a file: expected a photo, certificate or drawing")
        if size > LARGEST:
            raise _refused(file, f"is {size / 1e6:.0f} MB: expected at most {LARGEST // 1_000_000} MB; make it smaller")
        if not size:
            raise _refused(file, "is empty: expected a photo, certificate or drawing")
        return read_bytes(file)
    except FileNotFoundError:
        raise _refused(file, "does not exist: expected a photo, certificate or drawing") from None
    except OSError as wrong:
        raise _refused(file, f"cannot be read ({wrong.strerror}): expected a photo, certificate or drawing") from None
    except ValueError:
        raise BadInput(repr(str(file)), [Located("", "is not a file name")]) from None


def _preview(file: Path, whole: bytes) -> bytes:
    from trialfit.book.pictures import NotDrawable, preview_of  # imported here: only a picture needs the library

    try:
        return preview_of(whole)
    except NotDrawable as wrong:
        raise _refused(file, str(wrong)) from None


def _refused(file: Path, says: str) -> BadInput:
    return BadInput(str(file), [Located("", says)])
