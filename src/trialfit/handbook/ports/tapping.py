"""Cutting a thread into a boss: drill, depth, wall left round it, and how tight a plug may be.

Answers   tap_drill        drill for a target thread height
          thread_height    the height that a drill leaves
          pipe_tap_drill   the printed drill of G, Rc and NPT
          least_pipe_drill  that of a tapered hole whose thread runs out inside; inner_thread_height what a drill leaves there
          port_thread_needed   how much thread a plug or fitting needs in a port
          hole_depth       how deep a blind hole is drilled for it
          wall_left        the wall round the thread
          least_wall       how much there must be for drill and tap; rule_of_thumb_wall what the trade asks
          plug_torque      torque of a plug with a washer, or of a tapered one
          plug_torque_range   of a plug with a washer in aluminium: makers do not agree
Not here  what the wall bears (boss_walls.py); stripping strength and bolt preload (fasteners); which thread (port_threads.py)
Symbols   d major diameter, P pitch, h share of the full thread height
Sources   [1] ISO 2306, from memory: drill = d − P   [2] tap maker's catalogue; tap-drill article for 55° pipe threads; pipe-thread tables
          [3] engine maker's service notes: engagement   [4] engine makers' manuals: plug torques
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.ports.pipe_threads import TAPER
from trialfit.handbook.ports.port_threads import System, read_thread
from trialfit.handbook.tables import rows

if TYPE_CHECKING:
    from trialfit.handbook.ports.port_threads import Thread

SHARP_HEIGHT = 1.299038
"""Twice the height of the 60° profile over its pitch, √3·¾: full thread height h = (d − drill)/(1.299·P)."""

USUAL_HEIGHT = 0.77
"""Thread height of the drill d − P [1]."""

LEAST_HEIGHT, MOST_HEIGHT = 0.60, 0.83
"""Below it the thread strips, above it the tap breaks: common practice, no source."""

PORT_ENGAGEMENT = {"steel": 0.8, "iron": 0.8, "aluminium": 1.0}
"""Thread over major diameter of a plug or fitting, which holds back pressure alone: common practice, no source."""

MAKE_UP_TURNS = 3.0
"""Turns by wrench beyond hand-tight of a tapered thread, the most of the printed 2½ to 3: pipe-thread tables."""

WALL = {"steel": 0.3, "iron": 0.4, "aluminium": 0.5}
"""Wall round a thread over its major diameter: common practice, no source."""

TAPERED_WALL = 1.5
"""Extra wall for a tapered thread, because it wedges its boss open: common practice, no source."""

TAP_LEAD = 4.0
"""Pitches that a plug tap cuts short of the bottom of a blind hole: common practice, no source."""


def tap_drill(major_diameter: Numbers, pitch: Numbers, height: Numbers = USUAL_HEIGHT) -> Numbers:
    """Drill for a parallel 60° thread.

        drill = d − 1.299·h·P

    major_diameter  d                      m    > 0
    pitch           P                      m    > 0
    height          h, share of the full thread height, 0 < h ≤ 1; 0.77 is the usual d − P
    returns         drill                  m    nan outside that range

    Source: geometry of ISO 68-1; ISO 2306 (from memory) for d − P.

    >>> f"{tap_drill(10e-3, 1.5e-3) * 1e3:.2f} mm"
    '8.50 mm'
    """
    major_diameter, pitch, height = as_floats(major_diameter, pitch, height)
    sound = (major_diameter > 0) & (pitch > 0) & (height > 0) & (height <= 1)
    return where(sound, major_diameter - SHARP_HEIGHT * height * pitch)


def thread_height(major_diameter: Numbers, pitch: Numbers, drill: Numbers) -> Numbers:
    """Share of the full thread height that a drill leaves.

        h = 0.7698·(d − drill)/P

    major_diameter  d                      m    > 0
    pitch           P                      m    > 0
    drill                                  m    0 < drill < d
    returns         h                      1    nan outside that range

    Parallel 60° threads. Source: geometry of ISO 68-1.

    >>> f"{thread_height(10e-3, 1.5e-3, 8.5e-3):.1%}"
    '77.0%'
    """
    major_diameter, pitch, drill = as_floats(major_diameter, pitch, drill)
    sound = (pitch > 0) & (drill > 0) & (drill < major_diameter)
    return where(sound, (major_diameter - drill) / (SHARP_HEIGHT * np.where(pitch > 0, pitch, 1)))


def pipe_tap_drill(thread: Thread) -> float:
    """Printed drill of a pipe thread; the formula's where the thread is metric or unified.

    thread    Thread; R and Rc are one thread here
    returns   drill, m; nan for a pipe thread that the table does not have

    For a parallel bore and a taper tap. Source: tap maker's catalogue for Rc by ISO 7-1; tap-drill article for G; pipe-thread
    tables with tap drills for NPT.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> round(pipe_tap_drill(read_thread("G 1/4")) * 1e3, 2)
    11.8
    """
    if thread.system in (System.metric, System.unified, System.keg):
        return float(tap_drill(thread.major_diameter, thread.pitch))
    row = _drill_row(thread)
    return float(row["drill [mm]"]) * 1e-3 if row else np.nan


def least_pipe_drill(thread: Thread) -> float:
    """Printed drill of a tapered hole whose thread runs out inside: a little smaller than that of a thread that is whole throughout.

    thread    Thread
    returns   drill, m; that of pipe_tap_drill where the table prints one alone

    Source: tap maker's catalogue for Rc by ISO 7-1.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> f"{least_pipe_drill(read_thread('Rc 1/4')) * 1e3:.1f} mm, {pipe_tap_drill(read_thread('Rc 1/4')) * 1e3:.1f} mm"
    '10.7 mm, 10.9 mm'
    """
    row = _drill_row(thread)
    return float(row["with run-out [mm]"]) * 1e-3 if row and row["with run-out [mm]"] else pipe_tap_drill(thread)


def inner_thread_height(thread: Thread, drill: Numbers) -> Numbers:
    """Share of the full thread height that a drill leaves at the inner end of a tapered hole, where the taper leaves the least.

        h = (d − ℓ/16 − drill)/(d − D₁)

    thread    Thread, Rc
    drill                                  m    > 0
    returns   h                            1    nan where the table does not print the length ℓ of the hole's thread

    Source: geometry of ISO 7-1; ℓ from a tap maker's catalogue.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> f"{inner_thread_height(read_thread('Rc 1/8'), 8.6e-3):.0%} {inner_thread_height(read_thread('Rc 1/8'), 8.2e-3):.0%}"
    '64% 98%'
    """
    (drill,) = as_floats(drill)
    row = _drill_row(thread)
    length = float(row["thread length [mm]"]) * 1e-3 if row and row["thread length [mm]"] else np.nan
    inner = thread.major_diameter - TAPER * length
    return where(drill > 0, (inner - drill) / (thread.major_diameter - thread.minor_diameter))


def _drill_row(thread: Thread) -> dict[str, str] | None:
    name = thread.designation.replace("NPTF", "NPT")
    if thread.system in (System.taper, System.parallel):
        name = f"{'Rc' if thread.system is System.taper else 'G'} {name.split()[1]}"
    return next((row for row in rows("ports", "tap_drills") if row["thread"] == name), None)


def port_thread_needed(thread: Thread, material: str) -> float:
    """How much thread a plug or fitting needs in a port.

        0.8·d in steel and iron, 1·d in aluminium; tapered: L₁ + 3·P

    thread    Thread
    material  "steel", "iron" or "aluminium"
    returns   length of thread, m

    Source: common practice, no source; hand-tight length of ASME B1.20.1 and 3 turns by wrench (pipe-thread tables).

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> f"{port_thread_needed(read_thread('1/8-27 NPT'), 'steel') * 1e3:.1f} mm"
    '6.9 mm'
    """
    if thread.is_tapered:
        return thread.gauge_length + MAKE_UP_TURNS * thread.pitch
    return PORT_ENGAGEMENT[material] * thread.major_diameter


def hole_depth(thread_depth: Numbers, pitch: Numbers) -> Numbers:
    """How deep a blind hole is drilled for a depth of whole thread.

        depth = thread + 4·P

    thread_depth  whole thread             m    > 0
    pitch         P                        m    > 0
    returns       depth                    m    nan outside that range

    Source: common practice, no source.

    >>> f"{hole_depth(20e-3, 1.5e-3) * 1e3:.0f} mm"
    '26 mm'
    """
    thread_depth, pitch = as_floats(thread_depth, pitch)
    return where((thread_depth > 0) & (pitch > 0), thread_depth + TAP_LEAD * pitch)


def wall_left(edge_distance: Numbers, major_diameter: Numbers) -> Numbers:
    """Wall between a thread and the nearest edge of its boss.

        wall = e − d/2

    edge_distance   e, from the middle of the hole to the nearest edge, m    ≥ 0
    major_diameter  d                                                  m     > 0
    returns         wall                                               m     negative: the hole breaks out; nan outside

    Source: geometry.

    >>> f"{wall_left(11e-3, 10e-3) * 1e3:.0f} mm"
    '6 mm'
    """
    edge_distance, major_diameter = as_floats(edge_distance, major_diameter)
    return where((edge_distance >= 0) & (major_diameter > 0), edge_distance - major_diameter / 2)


def least_wall(pitch: Numbers) -> Numbers:
    """The least wall beside a thread, so that drill and tap do not break out.

        wall = max(2·P, 2 mm)

    pitch     P       m    > 0
    returns   wall    m    nan outside that range

    What the wall bears is another matter: boss_walls.py. Source: common practice, no source.

    >>> f"{least_wall(1.5e-3) * 1e3:.1f} mm"
    '3.0 mm'
    """
    (pitch,) = as_floats(pitch)
    return where(pitch > 0, np.maximum(2 * pitch, 2e-3))


def rule_of_thumb_wall(thread: Thread, material: str) -> float:
    """How much wall the rule of thumb asks round a thread.

        0.3·d steel, 0.4·d iron, 0.5·d aluminium; half as much again for a tapered thread

    thread    Thread
    material  "steel", "iron" or "aluminium"
    returns   wall, m

    Source: common practice, no source.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> f"{rule_of_thumb_wall(read_thread('M10×1'), 'aluminium') * 1e3:.1f} mm"
    '5.0 mm'
    """
    return WALL[material] * thread.major_diameter * (TAPERED_WALL if thread.is_tapered else 1.0)


PLUG_RANGE = "the lowest by engine makers' manuals, the highest from memory: drain plugs of light alloy sumps"


def plug_torque(thread: Thread, material: str) -> float:
    """Largest torque of a plug with a new washer, or of a tapered one with sealant.

    thread    Thread
    material  of the hole: "steel", "iron" or "aluminium"
    returns   torque, N·m; nan for a thread that the tables do not have

    The maker's own figure outranks it. Source: engine makers' manuals; a machine maker's table for tapered fittings.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> float(plug_torque(read_thread("M14×1.5"), "aluminium")), plug_torque(read_thread("1/8-27 NPT"), "iron")
    (15.0, 16.0)
    """
    column = "in aluminium [N·m]" if material == "aluminium" else "in steel or iron [N·m]"
    name, table, key = thread.designation, "plug_torques", "thread"
    if thread.is_tapered:
        table, key = "taper_torques", "size"
        name = name.removesuffix(" keg") if thread.system is System.keg else _pipe_size(name)
    return next((float(row[column]) for row in rows("ports", table) if row[key] == name), np.nan)


def _pipe_size(designation: str) -> str:
    """The size alone: 1/8 of a thread such as 1/8-27 NPT or R 1/8."""
    return next(word.partition("-")[0] for word in designation.split() if word[0].isdigit())


def plug_torque_range(size: str) -> tuple[float, float]:
    """Lowest and highest torque that makers give for a plug with a new washer in aluminium.

    size      as it is written: "M14×1.5", "M14x1.5"
    returns   torques, N·m; nan for a thread that the table does not have

    Source: the lowest, engine makers' manuals; the highest, from memory: drain plugs of light alloy sumps.

    >>> plug_torque_range("M14×1.5")
    (15.0, 30.0)
    """
    try:
        name = read_thread(size).designation
    except ValueError:
        return np.nan, np.nan
    for row in rows("ports", "plug_torques"):
        if row["thread"] == name:
            return float(row["in aluminium [N·m]"]), float(row["most in aluminium [N·m]"])
    return np.nan, np.nan
