"""Typed text with one character for each sign: minus signs, spaces, primes, dots between units.

Answers   plain      the text in the characters that the readers accept
          excerpt    the text shortened for use in a sentence
"""

from __future__ import annotations

_SAME = {
    "-": "−‐‑‒–—﹣－",
    " ": "\t\n\r\f\v\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000",
    "'": "′’‘ʹ＇´`",
    '"': "″”“ʺ＂〃",
    "·": "⋅∙•‧・",
    "°": "º˚",
    "/": "⁄∕／",
    "%": "％﹪",
    "": "\u200b\ufeff\u2060",
}
_LONGER = {"℃": "°C", "℉": "°F", "㎜": "mm", "㎏": "kg", "㎥": "m³", "㎡": "m²"}
_TABLE = str.maketrans({shape: sign for sign, shapes in _SAME.items() for shape in shapes} | _LONGER)
_EXCERPT = 60


def plain(text: str) -> str:
    """The text in plain characters, with single spaces and no spaces at its ends."""
    signs = " ".join(text.translate(_TABLE).split())
    for written, sign in (("''", '"'), ("+/-", "±"), ("+ / -", "±"), ("+-", "±")):
        signs = signs.replace(written, sign)
    return signs


def excerpt(text: str) -> str:
    """The text on one line, cut after 60 characters."""
    line = " ".join(text.split())
    return line if len(line) <= _EXCERPT else line[: _EXCERPT - 1] + "…"
