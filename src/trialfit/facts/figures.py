"""Figures in running text: a number and its unit stay on one line.

Answers   held   the text with a joint in place of each space within a figure
Not here  how a figure is written (showing.py); paper, where fonts and writing directions count too (sheets/writing.py)
"""

from __future__ import annotations

import re
from functools import lru_cache

from trialfit.facts.unit_table import all_rows

_NUMBER = r"\d[\d.,]*(?<![.,])"
_SPREAD = rf"(?: ± {_NUMBER}| \+{_NUMBER}/-{_NUMBER})?"


def held(text: str, joint: str, room: int | None = None) -> str:
    """The text with a joint, one sign that no line breaks at, in place of each space within a figure.

    A figure longer than `room` signs is left as it is.

    >>> held("8.3 +4.1/-3.3 mm short, 13 ± 4 %, to ± 2 mm, 3 hold", "_")
    '8.3_+4.1/-3.3_mm short, 13_±_4_%, to ±_2_mm, 3 hold'
    """

    def joined(figure: re.Match[str]) -> str:
        return figure[0] if room is not None and len(figure[0]) > room else figure[0].replace(" ", joint)

    return _figures().sub(joined, text)


@lru_cache(maxsize=1)
def _figures() -> re.Pattern[str]:
    symbols = sorted({row.symbol for row in all_rows() if row.symbol}, key=len, reverse=True)
    unit = rf"(?: (?:{'|'.join(map(re.escape, symbols))})(?![\w/·²³^]))?"
    return re.compile(rf"(?:± |(?<![\w.,])){_NUMBER}{_SPREAD}{unit}")
