"""Does a tyre code read right, and do the figures from it behave?"""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.tyres import (
    TyreSize,
    free_diameter,
    read_size,
    rolling_circumference,
    static_radius,
)


@pytest.mark.parametrize(
    ("code", "size"),
    [
        ("205/55 R16", (0.205, 0.55, 16, True, True)),
        ("205/55R16 91V", (0.205, 0.55, 16, True, True)),
        ("P205/55 R16", (0.205, 0.55, 16, True, True)),
        ("  195/70  r15 c 104/102r ", (0.195, 0.70, 15, True, True)),
        ("225/40 ZR18 (92Y) XL", (0.225, 0.40, 18, True, True)),
        ("185/70 HR 13", (0.185, 0.70, 13, True, True)),
        ("165 R13", (0.165, 0.82, 13, True, False)),
        ("165 SR 13", (0.165, 0.82, 13, True, False)),
        ("175/80 D13", (0.175, 0.80, 13, False, True)),
        ("175/80-13", (0.175, 0.80, 13, False, True)),
    ],
)
def test_reads_metric_codes(code: str, size: tuple[float, float, float, bool, bool]) -> None:
    """Every way the metric code is printed comes out as width, aspect, rim, build, and whether the aspect is printed."""
    width, aspect, rim, radial, printed = size

    found = read_size(code)

    assert found == TyreSize(pytest.approx(width), pytest.approx(aspect), pytest.approx(rim * 0.0254), radial, printed)


def test_reads_the_inch_code_of_off_road_tyres() -> None:
    """31x10.50 R15 is 31 inches high, whatever its aspect ratio."""
    size = read_size("31x10.50 R15 LT")

    assert size.free_diameter == pytest.approx(31 * 0.0254)
    assert size.section_width == pytest.approx(10.5 * 0.0254)


@pytest.mark.parametrize("code", ["", "tyre", "205", "205/55", "205/55 16", "5.60-13", "205/55 R16 fast", "205/55 R6"])
def test_refuses_other_codes_in_one_sentence(code: str) -> None:
    """The refusal shows what was read and a correct example."""
    expected = f'"{code}" is not a known form of tyre size: expected section width/aspect, R, rim, as in "205/55 R16".'
    with pytest.raises(ValueError, match=f"^{re.escape(expected)}$"):
        read_size(code)


@pytest.mark.parametrize("code", ["905/55 R16", "205/05 R16", "205/55 R99", "15x10.5 R15", "31x0 R15"])
def test_refuses_figures_no_car_tyre_has(code: str) -> None:
    """The form is right, the figures are not."""
    with pytest.raises(
        ValueError,
        match=r"^\".+\" gives impossible figures for a car tyre: expected width in mm, aspect in %, rim in inches",
    ):
        read_size(code)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text brings anything but a size or a ValueError."""
    try:
        size = read_size(text)
    except ValueError:
        return
    assert size.free_diameter > size.rim_diameter


def test_a_taller_sidewall_covers_more_road() -> None:
    """The sign of aspect, width and rim is pinned."""
    assert free_diameter(0.205, 0.60, 0.4) > free_diameter(0.205, 0.55, 0.4)
    assert free_diameter(0.225, 0.55, 0.4) > free_diameter(0.205, 0.55, 0.4)
    assert free_diameter(0.205, 0.55, 0.43) > free_diameter(0.205, 0.55, 0.4)


def test_a_cross_ply_tyre_rolls_on_a_smaller_radius() -> None:
    """It gives way more, and both stand lower than they roll."""
    assert rolling_circumference(0.6, radial=False) < rolling_circumference(0.6)
    assert static_radius(0.6) < rolling_circumference(0.6, radial=False) / (2 * np.pi)


def test_arrays_pass_and_what_cannot_be_is_nan() -> None:
    """One bad draw among many stays alone."""
    found = rolling_circumference(np.array([0.6, -0.6, np.nan]), radial=np.array([True, True, False]))

    np.testing.assert_allclose(found, [1.83, np.nan, np.nan])
    assert np.isnan(free_diameter(0.2, 0.0, 0.4))
    assert np.isnan(static_radius(0.0))
