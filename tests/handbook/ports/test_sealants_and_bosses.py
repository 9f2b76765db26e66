"""Sealants, torques and boss walls: the tables are whole, the signs are right."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.ports.boss_walls import boss_tension, edge_for_tension, taper_pressure, washer_pressure
from trialfit.handbook.tables import rows
from trialfit.parts.ports.lines_and_fittings import MEDIA, SEALANTS


def test_every_medium_and_sealant_of_the_table_can_be_written():
    assert {row["medium"] for row in rows("ports", "sealants")} <= set(MEDIA)
    assert {row["sealant"] for row in rows("ports", "sealants")} <= set(SEALANTS)


def test_torques_rise_with_the_size_and_steel_bears_more():
    """Tapered plugs, inch and metric apart."""
    for inch in (True, False):
        figures = [
            (float(row["in aluminium [N·m]"]), float(row["in steel or iron [N·m]"]))
            for row in rows("ports", "taper_torques")
            if row["size"].startswith("M") is not inch
        ]
        assert figures == sorted(figures)
        assert all(soft < hard for soft, hard in figures)


@pytest.mark.parametrize("table", ["sealants", "taper_torques", "boss_metals", "keg_threads", "tap_drills"])
def test_every_row_names_its_source(table):
    assert all(row["source"] for row in rows("ports", table))


def test_less_friction_presses_more_and_a_nearer_edge_pulls_more():
    """What makes a plug turn easily makes it wedge harder."""
    slick, dry = (taper_pressure(10.0, 9.5e-3, 6e-3, friction, np.radians(60)) for friction in (0.08, 0.2))
    near, far = (boss_tension(30e6, 5e-3, edge) for edge in (6e-3, 12e-3))

    assert slick > dry
    assert near > far > 30e6


def test_the_least_edge_gives_the_allowed_tension_back():
    for allowed in (32e6, 60e6, 400e6):
        edge = edge_for_tension(30e6, 5e-3, allowed)
        assert boss_tension(30e6, 5e-3, edge) == pytest.approx(allowed)


@pytest.mark.parametrize(
    "value",
    [
        taper_pressure(-1.0, 9e-3, 6e-3, 0.1, 1.0),
        taper_pressure(1.0, 9e-3, 6e-3, 0.0, 1.0),
        washer_pressure(1.0, 0.0, 9e-3, 6e-3, 0.2, 1.0),
        boss_tension(1e6, 5e-3, 5e-3),
        edge_for_tension(30e6, 5e-3, 30e6),
    ],
)
def test_outside_its_range_a_formula_is_undefined(value):
    assert np.isnan(value)
