"""Small pictures of photos, for lists and sheets.

Answers   preview_of    a picture as a JPEG of at most 1024 pixels a side, upright, without position data
Not here  what may be attached (media.py)

The preview is turned as the phone's EXIF data say, then all EXIF is removed, so the preview does not show where the photo
was taken. The photo itself is kept unchanged, with its position data.
"""

from __future__ import annotations

import warnings
from io import BytesIO

from PIL import Image, ImageOps

LONGEST_SIDE = 1024
MOST_PIXELS = 150_000_000
_QUALITY = 80
_WHITE = (255, 255, 255)
_FORMATS = ("JPEG", "PNG", "GIF", "TIFF", "WEBP")


class NotDrawable(ValueError):
    """A picture that cannot be drawn: the reason in one sentence."""


def preview_of(whole: bytes) -> bytes:
    """The preview of a picture, in JPEG. Raises NotDrawable.

    Valid up to 150 million pixels: a small file with a false size could fill the memory.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # the library warns of odd files, and of large files below our own limit
            with Image.open(BytesIO(whole), formats=_FORMATS) as picture:
                _check_size(*picture.size)
                picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
                return _drawn(picture)
    except NotDrawable:
        raise
    except Exception:  # noqa: BLE001 - the library raises many kinds of error on damaged pictures
        raise NotDrawable("is a damaged picture: open it in another program and save it again") from None


def _check_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        most = f"expected at most {MOST_PIXELS // 1_000_000} million"
        raise NotDrawable(f"is {width} × {height} pixels: {most}; make it smaller")


def _drawn(picture: Image.Image) -> bytes:
    upright = ImageOps.exif_transpose(picture)
    if upright.mode.startswith("I") or upright.mode == "F":
        upright = upright.point(lambda value: value / 256).convert("L")  # 16 bits of grey to the 8 of a preview
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    plain = Image.new("RGB", upright.size, _WHITE)
    colours = upright.convert("RGBA")
    plain.paste(colours, mask=colours.getchannel("A"))
    out = BytesIO()
    plain.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue()
