"""Threads, ports and lines against values printed or worked out elsewhere; the source stands beside each."""

from __future__ import annotations

import math

import pytest

from trialfit.handbook.constants import INCH
from trialfit.handbook.ports.boss_walls import boss_tension
from trialfit.handbook.ports.pipe_threads import (
    WHITWORTH_DEPTH,
    effective_length,
    pitch_diameter_at_hand_tight,
    pitch_diameter_at_small_end,
)
from trialfit.handbook.ports.port_ends import hose_bore, read_end, tube_of
from trialfit.handbook.ports.port_threads import read_thread
from trialfit.handbook.ports.sealing import Fit, join_ends
from trialfit.handbook.ports.tapping import (
    inner_thread_height,
    least_pipe_drill,
    pipe_tap_drill,
    plug_torque,
    tap_drill,
    thread_height,
)
from trialfit.handbook.ports.thread_mating import Meeting, meet
from trialfit.handbook.tables import rows


# ASME B1.20.1, tables of the American national pipe thread: E0, E1, L2 in inches; within 0.03 %.
@pytest.mark.parametrize(
    ("pipe", "per_inch", "hand_tight", "small_end", "mouth", "whole"),
    [(0.405, 27, 0.1615, 0.36351, 0.37360, 0.2639), (0.84, 14, 0.320, 0.75843, 0.77843, 0.5337)],
)
def test_american_pipe_threads_as_printed(pipe, per_inch, hand_tight, small_end, mouth, whole):
    pitch = INCH / per_inch

    assert pitch_diameter_at_small_end(pipe * INCH, pitch) / INCH == pytest.approx(small_end, rel=3e-4)
    assert pitch_diameter_at_hand_tight(pipe * INCH, pitch, hand_tight * INCH) / INCH == pytest.approx(mouth, rel=3e-4)
    assert effective_length(pipe * INCH, pitch) / INCH == pytest.approx(whole, rel=3e-4)


# ASME B1.20.1: one page prints L2 of 3/8 as 0.0478, a misprint for 0.4078.
def test_the_effective_length_of_three_eighths_is_the_sound_print():
    assert effective_length(0.675 * INCH, INCH / 18) / INCH == pytest.approx(0.4078, abs=5e-5)


# ISO 7-1 table in Mechanical Engineer's Pocket Book 4.1.38: 1/8, 28 threads per inch; mm, within 0.05 %.
@pytest.mark.parametrize("designation", ["G 1/8", "R 1/8", "Rc 1/8", "Rp 1/8"])
def test_an_eighth_of_the_other_pipe_thread_as_printed(designation):
    thread = read_thread(designation)

    assert thread.major_diameter * 1e3 == pytest.approx(9.728)
    assert thread.pitch * 1e3 == pytest.approx(0.907, rel=5e-4)
    assert WHITWORTH_DEPTH * thread.pitch * 1e3 == pytest.approx(0.581, rel=5e-4)
    assert thread.pitch_diameter * 1e3 == pytest.approx(9.147, rel=5e-4)
    assert thread.minor_diameter * 1e3 == pytest.approx(8.566, rel=5e-4)


# DIN 158 chart of a fitting supplier: d2 at the gauge plane and limits of the diameter at the inspection plane, standard pattern; mm.
@pytest.mark.parametrize(
    ("designation", "pitch_diameter", "largest", "smallest", "along"),
    [
        ("M8×1 keg", 7.35, 8.108, 8.018, 1.0),
        ("M10×1 keg", 9.35, 10.108, 10.018, 1.0),
        ("M12×1.5 keg", 11.026, 12.251, 12.125, 3.0),
        ("M18×1.5 keg", 17.026, 18.251, 18.125, 3.0),
    ],
)
def test_tapered_metric_threads_as_printed(designation, pitch_diameter, largest, smallest, along):
    """The printed limits lie around the taper, 1 and 3 mm from the gauge plane towards the head."""
    thread = read_thread(designation)

    assert thread.pitch_diameter * 1e3 == pytest.approx(pitch_diameter, abs=6e-4)
    assert thread.major_diameter * 1e3 + along / 16 == pytest.approx((largest + smallest) / 2, abs=1e-3)
    assert thread.tolerance * 1e3 == pytest.approx((largest - smallest) / 2, abs=6e-4)


# 1/2-13: drill 0.4219 in leaves 78.2 %, and lies within the minor-diameter limits 0.417 to 0.434 in that a tap maker's
# ASME B1.1 table prints; M10×1.5: drill 8.5 mm, 77.0 %. Heights worked out, within 0.2 %.
def test_thread_height_of_two_drills():
    half = read_thread("1/2-13")

    assert thread_height(half.major_diameter, half.pitch, 0.4219 * INCH) == pytest.approx(0.782, rel=2e-3)
    assert thread_height(10e-3, 1.5e-3, 8.5e-3) == pytest.approx(0.770, rel=2e-3)
    assert 0.417 < tap_drill(half.major_diameter, half.pitch, 0.782) / INCH < 0.434


# Basic profiles of ISO 68-1, ASME B1.1, ISO 228-1: worked out by hand, no print; within 1 %.
@pytest.mark.parametrize(
    ("male", "female", "gap", "turns", "overlap"),
    [
        ("G 1/8", "M10×1", 0.203, 1.14, 0.75),
        ("7/16-20", "M12×1.25", 0.900, 25.99, 0.34),
        ("10-32", "M5×0.8", 0.170, 15.70, 0.80),
    ],
)
def test_pairs_that_nearly_fit(male, female, gap, turns, overlap):
    met = meet(read_thread(male), read_thread(female))

    assert met.gap * 1e3 == pytest.approx(gap, rel=0.01)
    assert met.turns == pytest.approx(turns, rel=0.01)
    assert met.overlap == pytest.approx(overlap, rel=0.02)


# The same profiles, pair by pair: what each is known to do (common practice, no source).
@pytest.mark.parametrize("row", rows("ports", "look_alikes"), ids=lambda row: f"{row['male']} into {row['female']}")
def test_every_look_alike_starts_and_is_called_dangerous(row):
    """What is said to turn in does so, what is said to bind does so."""
    met = meet(read_thread(row["male"]), read_thread(row["female"]))

    assert met.meeting.is_dangerous
    goes_in = row["happens"].startswith("goes")
    assert (met.meeting is not Meeting.binds) == goes_in


# Small ends and mouths by the same profiles: 9.99 mm for 1/8-27 NPT, mouth 10.24 mm; M10×1 is 0.27 mm too large for 1/8-28.
def test_an_eighth_npt_at_its_small_end_and_mouth():
    thread = read_thread("1/8-27 NPT")

    assert (thread.major_diameter - thread.back) * 1e3 == pytest.approx(9.99, abs=0.005)
    assert thread.major_diameter * 1e3 == pytest.approx(10.24, abs=0.005)
    assert 10 - read_thread("G 1/8").major_diameter * 1e3 == pytest.approx(0.27, abs=0.005)
    assert meet(read_thread("M10×1"), read_thread("G 1/8")).meeting is Meeting.no_start


# SAE J514, SAE J512 by fitting identification pages: 37° and 45° flares share threads in these sizes, and not in the others.
@pytest.mark.parametrize("dash", ["-2", "-3", "-4", "-5", "-8", "-10"])
def test_flares_of_one_dash_share_the_thread_and_still_leak(dash):
    male, female = read_end(f"male {dash} 37° flare"), read_end(f"female {dash} 45° flare")

    assert male.thread == female.thread
    assert join_ends(male, female).fit is Fit.dangerous


@pytest.mark.parametrize("dash", ["-6", "-12"])
def test_flares_of_the_other_sizes_differ_in_thread(dash):
    assert read_end(f"male {dash} 37° flare").thread != read_end(f"male {dash} 45° flare").thread


# SAE J514: dash = outside diameter of the tube in sixteenths of an inch.
@pytest.mark.parametrize("row", [row for row in rows("ports", "fitting_sizes") if row["size"].startswith("-")], ids=str)
def test_a_dash_size_is_its_tube_in_sixteenths(row):
    assert tube_of(row["size"]) * 1e3 == pytest.approx(float(row["tube [mm]"]))


# Hose bores by dash: SAE 100R1 and most others; SAE 100R5, R14 and like; mm.
@pytest.mark.parametrize(
    ("dash", "most", "tube"),
    [
        ("-4", 6.4, 4.8),
        ("-5", 7.9, 6.4),
        ("-6", 9.5, 7.9),
        ("-8", 12.7, 10.3),
        ("-10", 15.9, 12.7),
        ("-12", 19.0, 15.9),
        ("-16", 25.4, 22.2),
        ("-20", 31.8, 28.6),
    ],
)
def test_hose_bores_by_dash(dash, most, tube):
    assert hose_bore(dash) * 1e3 == pytest.approx(most)
    assert hose_bore(dash, bore_of_tube=True) * 1e3 == pytest.approx(tube)
    assert hose_bore(dash) == pytest.approx(tube_of(dash), abs=0.15e-3)


# Tap-drill article for G; tap maker's catalogue for Rc; pipe-thread tables (letter R, 7/16, 37/64, 23/32, 59/64 in).
@pytest.mark.parametrize(
    ("designation", "drill"),
    [
        ("G 1/8", 8.8), ("G 1/4", 11.8), ("G 3/8", 15.25), ("G 1/2", 19), ("G 3/4", 24.5), ("G 1", 30.75),
        ("Rc 1/16", 6.2), ("Rc 1/8", 8.2), ("Rc 1/4", 10.9), ("Rc 3/8", 14.4), ("Rc 1/2", 17.9), ("Rc 3/4", 23.3), ("Rc 1", 29.3),
        ("1/8 NPT", 8.6), ("1/4 NPT", 7 / 16 * 25.4), ("3/8 NPT", 37 / 64 * 25.4), ("1/2 NPT", 23 / 32 * 25.4), ("3/4 NPT", 59 / 64 * 25.4),
    ],
)  # fmt: skip
def test_pipe_tap_drills(designation, drill):
    """The drill of a tapered hole is not above its minor diameter at the mouth: its thread would nowhere be whole."""
    thread = read_thread(designation)

    assert pipe_tap_drill(thread) * 1e3 == pytest.approx(drill, abs=6e-4)
    if thread.is_tapered:
        assert least_pipe_drill(thread) <= pipe_tap_drill(thread) <= thread.minor_diameter + 0.05e-3


# Tap maker's catalogue, Rc: minor diameter at the mouth and at the inner end of the thread, and drill with run-out; mm.
@pytest.mark.parametrize(
    ("designation", "mouth", "inner", "run_out", "article", "left"),
    [
        ("Rc 1/8", 8.566, 8.179, 8.1, 8.6, 0.64),
        ("Rc 1/4", 11.445, 10.858, 10.7, 11.5, 0.62),
        ("Rc 3/8", 14.950, 14.344, 14.2, 15.0, 0.62),
        ("Rc 1/2", 18.631, 17.837, 17.6, 18.75, 0.61),
        ("Rc 3/4", 24.117, 23.236, 23.0, 24.25, 0.56),
    ],
)
def test_tapered_holes_as_printed(designation, mouth, inner, run_out, article, left):
    """And what the drills of the article leave at the inner end, worked out by hand from the printed diameters."""
    thread = read_thread(designation)
    depth = thread.major_diameter - thread.minor_diameter

    assert thread.minor_diameter * 1e3 == pytest.approx(mouth, abs=1e-3)
    assert inner_thread_height(thread, inner * 1e-3) == pytest.approx(1.0, abs=1.1e-6 / depth)
    assert least_pipe_drill(thread) * 1e3 == pytest.approx(run_out)
    assert inner_thread_height(thread, article * 1e-3) == pytest.approx(left, abs=0.006)


# Tap maker's catalogue, Rc: minor diameters at the mouth of sizes that no other print was seen for; mm.
@pytest.mark.parametrize(("designation", "mouth"), [("Rc 1/16", 6.561), ("Rc 3/4", 24.117), ("Rc 1", 30.291)])
def test_minor_diameters_of_tapered_holes_as_printed(designation, mouth):
    assert read_thread(designation).minor_diameter * 1e3 == pytest.approx(mouth, abs=1e-3)


# An engine maker's service data for pipe plugs; a machine maker's table for tapered fittings of carbon steel; N·m.
@pytest.mark.parametrize(
    ("designation", "aluminium", "steel"),
    [("1/8 NPT", 8, 16), ("1/4 NPT", 12, 34), ("3/8 NPT", 15, 54), ("1/2 NPT", 24, 73), ("R 3/4", 36, 106)],
)
def test_torques_of_tapered_plugs(designation, aluminium, steel):
    assert plug_torque(read_thread(designation), "aluminium") == aluminium
    assert plug_torque(read_thread(designation), "iron") == steel


# Engine maker's manual, plugs with a washer; N·m in aluminium, and in steel or iron.
@pytest.mark.parametrize(
    ("designation", "aluminium", "steel"),
    [
        ("M10×1", 10, 20),
        ("M12×1.5", 14, 35),
        ("M14×1.5", 15, 45),
        ("M16×1.5", 18, 55),
        ("M18×1.5", 23, 70),
        ("M22×1.5", 33, 100),
    ],
)
def test_plug_torques(designation, aluminium, steel):
    thread = read_thread(designation)

    assert plug_torque(thread, "aluminium") == aluminium
    assert plug_torque(thread, "steel") == plug_torque(thread, "iron") == steel
    assert math.isnan(plug_torque(read_thread("M11×1"), "steel"))


# Pipe-thread tables with make-up; sensor supplier's bulletin; mower maker's service manual (O-ring boss, flats).
def test_make_up_as_printed():
    by_hand = next(
        row for row in rows("ports", "make_up") if (row["joint"], row["size"], row["step"]) == ("NPT", "1/8", "by hand")
    )
    flats = {
        row["size"]: (float(row["least"]) + float(row["most"])) / 2
        for row in rows("ports", "make_up")
        if row["joint"] == "O-ring boss"
    }

    assert (by_hand["least"], by_hand["most"]) == ("4", "4.5")
    assert flats == {"-4": 1.0, "-6": 1.5, "-8": 1.5, "-10": 1.5, "-12": 1.5, "-16": 1.5}


# Textbooks of elasticity, thick cylinder under a pressure from inside, outside twice as wide: 5/3 of the pressure at the hole; and the
# straight edge near a pressed hole, 4·r²/(e² − r²), which is the greater below e = √3·r. From memory.
def test_tension_round_a_pressed_hole_is_that_of_the_textbooks():
    assert boss_tension(1.0, 1.0, 2.0) == pytest.approx(5 / 3)
    assert boss_tension(1.0, 1.0, math.sqrt(3)) == pytest.approx(2.0)
    assert boss_tension(1.0, 1.0, 1.25) == pytest.approx(4 / (1.25**2 - 1))
