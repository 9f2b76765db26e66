"""The fonts of the sheets, and what becomes of a sign that none of them has.

Answers   FAMILIES      in the order in which a sign is looked for
          folders       where their files lie
          signs_without_glyph    the signs of a text that would vanish
Not here  how text is made fit for paper (writing.py)

The fonts come inside packages from PyPI that are installed with everything else, so a sheet looks the same on a bare machine
and on any other; the fonts of the system are never used.

    DejaVu Sans          in the wheel of matplotlib, which is here for another package anyway: Latin, Greek, Cyrillic, Hebrew,
                         Arabic, and the signs of the trade (± · ° Ω ⌀ → ☐). Bitstream Vera licence.
    Noto Sans CJK JP     in noto-cjk-sans-jp-regular: Chinese (in the shapes used in Japan), Japanese, Korean; one weight.
                         SIL Open Font License 1.1. 16 MB.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

FAMILIES = ("DejaVu Sans", "Noto Sans CJK JP")
_LATIN_ENDS = 0x250  # DejaVu Sans has every letter before this
_DEJAVU = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_CJK = "NotoSansCJKjp-Regular.otf"
_INVISIBLE = ("Cc", "Cf", "Zl", "Zp", "Zs")


@cache
def folders() -> tuple[Path, ...]:
    """Where the files of the fonts lie. Raises FileNotFoundError where a package is not whole."""
    found = (
        _package("matplotlib") / "mpl-data" / "fonts" / "ttf",
        _package("noto_cjk_sans_jp_regular"),
    )
    for folder, file in zip(found, (_DEJAVU[0], _CJK), strict=True):
        if not (folder / file).is_file():
            raise FileNotFoundError(f"{folder} has no {file}: the installed packages are not whole")
    return found


def signs_without_glyph(texts: Iterable[str]) -> frozenset[str]:
    """The visible signs of some texts that no font of the sheets has.

    >>> signs_without_glyph(["M10×1, 65 N·m ± 4 %"])
    frozenset()
    """
    strange = {sign for text in texts for sign in text if ord(sign) >= _LATIN_ENDS}
    visible = {sign for sign in strange if unicodedata.category(sign) not in _INVISIBLE}
    if not visible:
        return frozenset()
    left = {sign for sign in visible if ord(sign) not in _dejavu_signs()}
    return frozenset(sign for sign in left if ord(sign) not in _cjk_signs()) if left else frozenset()


def _package(name: str) -> Path:
    spec = find_spec(name)  # the package is found, not imported: that would cost more than a whole sheet
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError(f"the package {name}, which brings a font of the sheets, is not installed")
    return Path(spec.submodule_search_locations[0])


@cache
def _dejavu_signs() -> frozenset[int]:
    regular, bold = (_signs_in(folders()[0] / file) for file in _DEJAVU)
    return regular & bold


@cache
def _cjk_signs() -> frozenset[int]:
    return _signs_in(folders()[1] / _CJK)


def _signs_in(file: Path) -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(file, lazy=True) as font:
        return frozenset(font.getBestCmap())
