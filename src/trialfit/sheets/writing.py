"""Text made safe for paper: line breaks, figures beside right-to-left text, missing characters.

Answers   fit         any part of a sheet's data with every text in it made safe
          without     a text with boxes for characters that no font has
          NO_GLYPH    the box for a character that no font has
          told        the sentence about such characters
Not here  the fonts (fonts.py)

A name can hold anything. Four changes are made to text, and none alters a figure:
  - a figure stays on one line with its unit: "1.3 +0.3/-0.2 rad/s²" breaks only before the +;
  - a word too long for a column may break after - _ / : ; , = and between letters, never within a number;
  - characters that turn the direction of writing are removed, and after each run of right-to-left letters writing goes from left
    to right again: else "שם 12 N·m" would print the 12 on the far side of the name, away from its unit;
  - a character without a glyph is printed as a box, and a line at the end of the sheet names it.
"""

from __future__ import annotations

import re
from typing import Any

NO_GLYPH = "□"
_BREAK, _LEFT_TO_RIGHT, _NO_BREAK, _JOINED = "\u200b", "\u200e", "\u00a0", "/\u2060"
_TURNING = dict.fromkeys((*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200F, 0x061C))
_RIGHT_TO_LEFT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_RUN = re.compile(rf"[{_RIGHT_TO_LEFT}](?:[^\w]*[{_RIGHT_TO_LEFT}])*")
_CONTROLS = re.compile(r"[\x00-\x09\x0b-\x1f\x7f]+")
_LONG = re.compile(r"\S{13,}")
_FIGURE = re.compile(r"(?<![\w.,×/·-])[+-]?\d[\d.]*(?:/-\d[\d.]*)?(?: (?=[A-Za-zΩµ°%])[^\s,;:()]{1,9}(?!\w))?")
_SPREAD = re.compile(r"\W*\d[\d.]*/-?[\u2060-]*\d\S*")
_AFTER = re.compile(r"(?<=[_/:;,=\-])(?!\u2060)(?=[^\s_/:;,=\-])|(?<=\.)(?=[^\W\d])")
_LETTERS = re.compile(rf"(?:(?![{_RIGHT_TO_LEFT}])[^\W\d_]){{12}}(?=[^\W\d_]{{3}})")


def fit(data: Any, without_glyph: frozenset[str]) -> Any:  # noqa: ANN401 - any piece of JSON
    """Any part of the data with its texts made safe."""
    if isinstance(data, str):
        return _fit(data, without_glyph)
    if isinstance(data, dict):
        return {_fit(key, without_glyph): fit(value, without_glyph) for key, value in data.items()}
    if isinstance(data, list):
        return [fit(value, without_glyph) for value in data]
    return data


def told(without_glyph: frozenset[str]) -> str:
    """The sentence about characters that no font of the sheets has; empty without any.

    >>> told(frozenset("ก"))
    'Printed as □, because the fonts of the sheets lack them: U+0E01.'
    """
    if not without_glyph:
        return ""
    codes = ", ".join(f"U+{ord(sign):04X}" for sign in sorted(without_glyph))
    return f"Printed as {NO_GLYPH}, because the fonts of the sheets lack them: {codes}."


def without(text: str, without_glyph: frozenset[str]) -> str:
    """The text with a box for each character that no font has."""
    return text.translate({ord(sign): NO_GLYPH for sign in without_glyph})


def _fit(text: str, without_glyph: frozenset[str]) -> str:
    text = _CONTROLS.sub(" ", text.translate(_TURNING))
    text = without(text, without_glyph)
    text = _RUN.sub(lambda run: run[0] + _LEFT_TO_RIGHT, text)
    text = _FIGURE.sub(lambda figure: figure[0].replace(" ", _NO_BREAK).replace("/", _JOINED), text)
    text = text.replace("± ", f"±{_NO_BREAK}")
    return _LONG.sub(lambda word: _breakable(word[0]), text)


def _breakable(word: str) -> str:
    if _NO_BREAK in word or _SPREAD.fullmatch(word):
        return word
    return _LETTERS.sub(lambda letters: letters[0] + _BREAK, _AFTER.sub(_BREAK, word))
