"""The fonts of the sheets, and characters that none of them has.

Answers   FAMILIES      the fonts in the order of preference
          folders       the folders of their files
          signs_without_glyph    the characters of a text that would vanish
Not here  text made safe for paper (writing.py)

The fonts are in this folder and in a package from PyPI that is only a font, so a sheet looks the same on every machine; the fonts of the system are never used.

    DejaVu Sans          dejavu/, version 2.35, regular and bold: Latin, Greek, Cyrillic, Hebrew, Arabic, and the signs of the
                         trade (± · ° Ω ⌀ → ☐). Bitstream Vera licence, beside them. The only package with just these
                         fonts needs a typesetting program, and has another version.
    Noto Sans CJK JP     in noto-cjk-sans-jp-regular: Chinese (in the shapes used in Japan), Japanese, Korean; one weight.
                         SIL Open Font License 1.1. 16 MB.

Sources   signs.csv      the signs of each font, of DejaVu Sans those that both weights have; see SOURCES.md
"""

from __future__ import annotations

import csv
import unicodedata
from functools import cache
from importlib.resources import files
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

FAMILIES = ("DejaVu Sans", "Noto Sans CJK JP")
_LATIN_ENDS = 0x250  # DejaVu Sans has every letter before this
_DEJAVU = "DejaVuSans.ttf"
_CJK = "NotoSansCJKjp-Regular.otf"
_INVISIBLE = ("Cc", "Cf", "Zl", "Zp", "Zs")


@cache
def folders() -> tuple[Path, ...]:
    """The folders of the font files. Raises FileNotFoundError if a package is incomplete."""
    found = (
        Path(__file__).parent / "dejavu",
        _package("noto_cjk_sans_jp_regular"),
    )
    for folder, file in zip(found, (_DEJAVU, _CJK), strict=True):
        if not (folder / file).is_file():
            raise FileNotFoundError(f"{folder} has no {file}: the installed packages are incomplete")
    return found


def signs_without_glyph(texts: Iterable[str]) -> frozenset[str]:
    """The visible characters of some texts that no font of the sheets has.

    >>> signs_without_glyph(["M10×1, 65 N·m ± 4 %"])
    frozenset()
    """
    strange = {sign for text in texts for sign in text if ord(sign) >= _LATIN_ENDS}
    visible = {sign for sign in strange if unicodedata.category(sign) not in _INVISIBLE}
    if not visible:
        return frozenset()
    return frozenset(sign for sign in visible if not any(ord(sign) in signs for signs in _signs().values()))


def _package(name: str) -> Path:
    spec = find_spec(name)  # the package is found, not imported: that would cost more than a whole sheet
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError(f"the package {name}, which brings a font of the sheets, is not installed")
    return Path(spec.submodule_search_locations[0])


@cache
def _signs() -> dict[str, frozenset[int]]:
    """The code points that each font has."""
    found: dict[str, set[int]] = {family: set() for family in FAMILIES}
    for row in csv.DictReader(files("trialfit.sheets").joinpath("signs.csv").read_text(encoding="utf-8").splitlines()):
        for span in row["code_points"].split():
            first, _, last = span.partition("-")
            found[row["font"]].update(range(int(first, 16), int(last or first, 16) + 1))
    return {family: frozenset(points) for family, points in found.items()}
