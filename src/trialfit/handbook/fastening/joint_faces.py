"""The faces of a clamped joint: pressure under head and nut, and what is lost as thread and faces bed in.

Answers   bearing_pressure     under a head, a nut or a washer
          washer_face          the face that a washer of a thickness really presses on
          bedding_in           how far thread, heads and faces bed in, by finish and number of faces
          bedding_loss         preload that this takes off
          bolt_compliance      of a bolt with its head and its thread, which counts in short grips
          bearing_limit, FINISHES   the tables
Not here  stiffness of the parts (bolted_joints.py)
Symbols   p pressure, d_w bearing face, d_h hole, F preload, f_Z bedding in, δ compliance
Sources   tables/SOURCES.md: VDI 2230
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

FINISHES = ("smooth", "machined", "rough")
_MICRO, _MEGA = 1e-6, 1e6
_PAINT, _PAINT_SPREAD = "paint film", 7.5e-6
_SPREAD = 0.4  # of the guide values: common practice, no source
_WIDER = 1.6  # VDI 2230: a washer's face grows by 1.6 of its thickness, from memory


def bearing_pressure(force: Numbers, bearing_diameter: Numbers, hole_diameter: Numbers) -> Numbers:
    """Pressure under a head, nut or washer.

        p = F/((π/4)·(d_w² − d_h²))

    force              F      N     ≥ 0
    bearing_diameter   d_w    m     > d_h
    hole_diameter      d_h    m     > 0
    returns            p      Pa    nan outside that range

    Source: VDI 2230.

    >>> f"{bearing_pressure(27e3, 14.6e-3, 11e-3) / 1e6:.0f} MPa"
    '373 MPa'
    """
    force, face, hole = as_floats(force, bearing_diameter, hole_diameter)
    sound = (force >= 0) & (hole > 0) & (face > hole)
    return where(sound, force / np.where(sound, np.pi / 4 * (face**2 - hole**2), 1.0))


def washer_face(bearing_diameter: Numbers, washer_diameter: Numbers, washer_thickness: Numbers) -> Numbers:
    """Outside diameter of the face that a washer under a head presses on: a thin one bends up at its rim.

        the smaller of D and d_w + 1.6·h

    bearing_diameter   d_w, of the head    m    > 0
    washer_diameter    D                   m    > 0
    washer_thickness   h                   m    ≥ 0
    returns            diameter            m    nan outside that range

    A steel washer as hard as the head. Source: VDI 2230, from memory.

    >>> f"{washer_face(14.6e-3, 20e-3, 2e-3) * 1e3:.1f} mm"
    '17.8 mm'
    """
    head, washer, thick = as_floats(bearing_diameter, washer_diameter, washer_thickness)
    sound = (head > 0) & (washer > 0) & (thick >= 0)
    return where(sound, np.maximum(np.minimum(washer, head + _WIDER * thick), np.minimum(head, washer)))


def bedding_in(finish: str, inner_faces: Numbers, paint_films: Numbers, *, sideways: bool) -> tuple[Numbers, Numbers]:
    """How far thread, head, nut and the faces between them bed in, and how far that may be off either way.

        f_Z = f_thread + 2·f_head + n·f_inner + m·f_paint

    finish         one of FINISHES
    inner_faces    n, pairs of faces between head and nut                 1    ≥ 0
    paint_films    m, films of paint between head and nut                 1    ≥ 0
    sideways       whether the load is across the bolt
    returns        f_Z and its half-width                                 m    nan outside that range

    Guide values; 40 % either way is common practice, no source. Errors: KeyError for another finish.
    Source: VDI 2230 table 5; paint 5 to 20 µm a film, common practice, no source.

    >>> f"{bedding_in('machined', 1, 0, sideways=False)[0] * 1e6:.1f} µm, {bedding_in('machined', 1, 0, sideways=True)[0] * 1e6:.1f} µm"
    '11.0 µm, 14.5 µm'
    """
    table = {row["finish"]: row for row in rows("fastening", "embedment")}
    if finish not in FINISHES:
        raise KeyError(finish)
    end = "_sideways_um" if sideways else "_um"
    inner, films = as_floats(inner_faces, paint_films)
    sound = (inner >= 0) & (films >= 0)
    of = {name: float(table[finish][name + end]) * _MICRO for name in ("thread", "head", "inner")}
    paint = float(table[_PAINT]["inner" + end]) * _MICRO
    metal = of["thread"] + 2 * of["head"] + inner * of["inner"]
    return where(sound, metal + films * paint), where(sound, _SPREAD * metal + films * _PAINT_SPREAD)


def bolt_compliance(
    diameter: Numbers,
    root_area: Numbers,
    shank_length: Numbers,
    thread_length: Numbers,
    modulus: Numbers,
) -> Numbers:
    """How much a bolt gives per newton, with its head and its engaged thread.

        δ = [0.4·d/A_N + l_d/A_N + l_t/A_3 + 0.5·d/A_3 + 0.4·d/A_N]/E,   A_N = (π/4)·d²

    diameter        d, nominal             m      > 0
    root_area       A_3, or A_s            m²     > 0
    shank_length    l_d, in the grip       m      ≥ 0
    thread_length   l_t, in the grip       m      ≥ 0
    modulus         E                      Pa     > 0
    returns         δ                      m/N    nan outside that range

    Head 0.4 d (hexagon 0.5 in some issues), engaged thread 0.5 d on its root, nut 0.4 d. Source: VDI 2230, from memory.

    >>> f"{bolt_compliance(10e-3, 52.3e-6, 6e-3, 0.0, 205e9) * 1e9:.2f} µm/kN"
    '1.34 µm/kN'
    """
    diameter, root, plain, threaded, modulus = as_floats(diameter, root_area, shank_length, thread_length, modulus)
    sound = (diameter > 0) & (root > 0) & (plain >= 0) & (threaded >= 0) & (modulus > 0)
    area = np.where(sound, np.pi / 4 * diameter**2, 1.0)
    ends = 0.8 * diameter / area + 0.5 * diameter / np.where(sound, root, 1.0)
    grip = plain / area + threaded / np.where(sound, root, 1.0)
    return where(sound, (ends + grip) / np.where(sound, modulus, 1.0))


def bedding_loss(bedded: Numbers, bolt_compliance: Numbers, member_compliance: Numbers) -> Numbers:
    """Preload lost as thread and faces bed in.

        F_Z = f_Z/(δ_S + δ_P)

    bedded              f_Z    m      ≥ 0
    bolt_compliance     δ_S    m/N    > 0
    member_compliance   δ_P    m/N    ≥ 0
    returns             F_Z    N      nan outside that range

    Source: VDI 2230.

    >>> f"{bedding_loss(11e-6, 1.365e-9, 0.2 * 1.365e-9) / 1e3:.1f} kN"
    '6.7 kN'
    """
    bedded, bolt, members = as_floats(bedded, bolt_compliance, member_compliance)
    sound = (bedded >= 0) & (bolt > 0) & (members >= 0)
    return where(sound, bedded / np.where(sound, bolt + members, 1.0))


def bearing_limit(material: str) -> tuple[float, float, str]:
    """Least and greatest allowed pressure under a head that is found for a material, and the source.

    material   steel, iron or aluminium
    returns    Pa, Pa, text

    Errors: KeyError for another material. Source: VDI 2230, tables/SOURCES.md.

    >>> [bound / 1e6 for bound in bearing_limit("aluminium")[:2]]
    [220.0, 290.0]
    """
    return _range(material, "bearing")


def shear_share(material: str) -> tuple[float, float, str]:
    """Least and greatest shear strength over tensile strength that is found for a material, and the source.

    material   steel, iron or aluminium
    returns    1, 1, text

    Errors: KeyError for another material. Source: VDI 2230 and others, tables/SOURCES.md.

    >>> shear_share("steel")[:2]
    (0.58, 0.8)
    """
    low, high, source = _range(material, "shear_share", 1.0)
    return low, high, source


def yield_of(material: str) -> tuple[float, float, str]:
    """Least and greatest yield strength that is found for a material of brackets, and the source.

    material   steel, iron or aluminium
    returns    Pa, Pa, text

    Errors: KeyError for another material. Source: from memory, tables/SOURCES.md.

    >>> [bound / 1e6 for bound in yield_of("steel")[:2]]
    [200.0, 355.0]
    """
    return _range(material, "yield")


def _range(material: str, what: str, times: float = _MEGA) -> tuple[float, float, str]:
    unit = "_MPa" if times == _MEGA else ""
    for row in rows("fastening", "bearing_and_shear"):
        if row["material"] == material:
            return float(row[f"{what}_low{unit}"]) * times, float(row[f"{what}_high{unit}"]) * times, row["source"]
    raise KeyError(material)
