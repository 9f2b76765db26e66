"""Text made fit for paper: what could break a line, turn a figure round, or vanish.

Answers   fit         any piece of a sheet's data with every text in it made fit
          NO_GLYPH    what stands for a sign that no font has
          told        the sentence about such signs
Not here  the fonts (fonts.py)

A name may come from anywhere. Three things are done to text, and none changes a figure:
  - a word too long for a column may break after - _ / : ; , = and between letters, never within a number;
  - signs that turn the direction of writing are taken out, and after each run of right-to-left letters writing goes from left
    to right again: else "שם 12 N·m" would print the 12 on the far side of the name, away from its unit;
  - a sign without a glyph is printed as a box, and a line at the end of the sheet says which it was.
"""

from __future__ import annotations

import re
from typing import Any

NO_GLYPH = "□"
_BREAK, _LEFT_TO_RIGHT = "\u200b", "\u200e"
_TURNING = dict.fromkeys((*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200F, 0x061C))
_RIGHT_TO_LEFT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_RUN = re.compile(rf"[{_RIGHT_TO_LEFT}](?:[^\w]*[{_RIGHT_TO_LEFT}])*")
_CONTROLS = re.compile(r"[\x00-\x09\x0b-\x1f\x7f]+")
_LONG = re.compile(r"\S{13,}")
_AFTER = re.compile(r"(?<=[_/:;,=\-])(?=[^\s_/:;,=\-])|(?<=\.)(?=[^\W\d])")
_LETTERS = re.compile(rf"(?:(?![{_RIGHT_TO_LEFT}])[^\W\d_]){{12}}(?=[^\W\d_]{{3}})")


def fit(data: Any, without_glyph: frozenset[str]) -> Any:  # noqa: ANN401 - any piece of JSON
    """Any piece of JSON with the texts in it made fit."""
    if isinstance(data, str):
        return _fit(data, without_glyph)
    if isinstance(data, dict):
        return {_fit(key, without_glyph): fit(value, without_glyph) for key, value in data.items()}
    if isinstance(data, list):
        return [fit(value, without_glyph) for value in data]
    return data


def told(without_glyph: frozenset[str]) -> str:
    """The sentence about signs that no font of the sheets has; empty where there are none.

    >>> told(frozenset("ก"))
    'Printed as □, because the fonts of the sheets lack them: U+0E01.'
    """
    if not without_glyph:
        return ""
    codes = ", ".join(f"U+{ord(sign):04X}" for sign in sorted(without_glyph))
    return f"Printed as {NO_GLYPH}, because the fonts of the sheets lack them: {codes}."


def _fit(text: str, without_glyph: frozenset[str]) -> str:
    text = _CONTROLS.sub(" ", text.translate(_TURNING))
    for sign in without_glyph:
        text = text.replace(sign, NO_GLYPH)
    text = _RUN.sub(lambda run: run[0] + _LEFT_TO_RIGHT, text)
    return _LONG.sub(lambda word: _breakable(word[0]), text)


def _breakable(word: str) -> str:
    return _LETTERS.sub(lambda letters: letters[0] + _BREAK, _AFTER.sub(_BREAK, word))
