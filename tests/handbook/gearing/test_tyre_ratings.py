"""Load index and speed symbol against the series that they follow, and what cannot be read."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.gearing.tyre_ratings import (
    TyreService,
    load_capacity,
    load_share,
    rated_speed,
    read_service,
    service_in_size,
    speed_symbols,
)


def test_loads_follow_the_series_of_preferred_numbers() -> None:
    """Eighty steps to ten times the load."""
    for index in range(60, 122):
        assert load_capacity(index) == pytest.approx(45 * 10 ** (index / 80), rel=0.015 if index <= 110 else 0.02)


def test_speeds_rise_with_the_letters_but_for_h() -> None:
    letters = [one for one in speed_symbols() if one != "H"]

    assert letters == sorted(letters)
    assert speed_symbols().index("H") == speed_symbols().index("V") - 1
    assert [rated_speed(one) for one in speed_symbols()] == sorted(rated_speed(one) for one in speed_symbols())


@pytest.mark.parametrize(
    ("symbol", "kmh", "share"),
    [
        ("V", 210, 1),
        ("V", 220, 0.97),
        ("V", 230, 0.94),
        ("V", 240, 0.91),
        ("W", 240, 1),
        ("W", 250, 0.95),
        ("W", 270, 0.85),
        ("H", 210, 1),
    ],
)
def test_load_is_lost_at_high_speed(symbol: str, kmh: float, share: float) -> None:
    assert load_share(kmh / 3.6, symbol) == pytest.approx(share)


def test_above_its_speed_a_tyre_bears_nothing_that_is_known() -> None:
    assert np.isnan(load_share(250 / 3.6, "V"))
    assert np.isnan(load_share(50.0, "?"))
    assert np.isnan(rated_speed("?"))
    assert np.isnan(load_capacity(500))


@pytest.mark.parametrize(
    ("code", "found"),
    [("91", (91, None)), ("91v", (91, "V")), (" (104/102 R) ", (104, "R")), ("104/102R", (104, "R"))],
)
def test_what_is_printed_behind_the_size_reads(code: str, found: tuple[int, str | None]) -> None:
    assert read_service(code) == TyreService(*found)


@pytest.mark.parametrize(
    ("code", "says"),
    [("ninety", "is not a load index: expected"), ("40V", "expected 60 to 121"), ("91B", 'unknown speed symbol "B"')],
)
def test_what_does_not_read_is_refused_in_one_sentence(code: str, says: str) -> None:
    with pytest.raises(ValueError, match=says) as refused:
        read_service(code)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ("205/55 R16 91V", TyreService(91, "V")),
        ("195/70 R15 C 104/102R", TyreService(104, "R")),
        ("205/55R16 91V XL", TyreService(91, "V")),
        ("205/55 R16", None),
        ("31x10.50 R15", None),
    ],
)
def test_behind_a_size(size: str, found: TyreService | None) -> None:
    assert service_in_size(size) == found
