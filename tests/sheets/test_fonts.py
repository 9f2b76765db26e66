"""The table of signs against the fonts' own files."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from trialfit.sheets.fonts import FAMILIES, _signs, folders

FILES = dict(zip(FAMILIES, (("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"), ("NotoSansCJKjp-Regular.otf",)), strict=True))


@pytest.mark.parametrize(("family", "folder"), list(zip(FAMILIES, folders(), strict=True)))
def test_the_table_holds_the_signs_of_the_font_and_no_others(family, folder):
    """Of DejaVu Sans those that both weights have: a heading is bold."""
    of_files = []
    for file in FILES[family]:
        with TTFont(folder / file, lazy=True) as font:
            of_files.append(set(font.getBestCmap()))

    assert _signs()[family] == set.intersection(*of_files)


def test_the_licence_lies_beside_the_font():
    assert "Bitstream" in (folders()[0] / "LICENSE").read_text(encoding="utf-8")
