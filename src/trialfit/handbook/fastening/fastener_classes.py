"""Property classes and grades of bolts and nuts, nut factors by the state of the threads, hexagon heads: the tables.

Answers   strength_of        tensile, yield and proof stress of a bolt of a class and size
          nut_goes_with      the strongest bolts that a nut of a class goes with
          nut_against_bolt   what a nut bears and what a bolt asks of it, across systems too
          nut_factor_of      the range of nut factors for threads in a state
          scatter_of         usual range of largest over smallest preload
          head_of            bearing face and hole of a hexagon head
          BOLT_CLASSES, NUT_CLASSES, THREAD_STATES   the words there are
Not here  what follows from them (fasteners.py)
Symbols   R_m tensile strength, R_p yield (0.2 %), S_p proof stress, K nut factor, d_w bearing face, d_h hole
Sources   tables/SOURCES.md: ISO 898-1, ISO 898-2, SAE J429, SAE J995, ISO 3506, fastener suppliers' nut-factor table, VDI 2230
"""

from __future__ import annotations

from dataclasses import dataclass

from trialfit.handbook.tables import rows

_MEGA = 1e6
_MILLI = 1e-3
_STRESSES = ("tensile", "yield", "proof", "nut_goes_with", "greatest")
_SAME_SIZE = 0.011  # 5/16 and 5/8 in lie within this of M8 and M16, and so do their heads


@dataclass(frozen=True)
class Strength:
    """R_m `tensile`, R_p `yielding`, S_p `proof`, the strength that its nut needs, `wants`, and the `greatest` R_m that such a bolt
    may have [Pa]; `shear_share` τ/R_m of its threads; the `system`, metric or inch; and the `source`.
    """

    tensile: float
    yielding: float
    proof: float
    wants: float
    greatest: float
    shear_share: float
    system: str
    source: str


@dataclass(frozen=True)
class NutFactor:
    """K of threads in a state: `low` to `high`, `usual` in between; whether they count as `oiled`; and the `source`."""

    low: float
    high: float
    usual: float
    oiled: bool
    source: str


@dataclass(frozen=True)
class Head:
    """`bearing_diameter` d_w and `hole_diameter` d_h [m] of a hexagon head in a medium hole, and its flat washer's thickness."""

    bearing_diameter: float
    hole_diameter: float
    washer_thickness: float


def strength_of(bolt_class: str, diameter: float) -> Strength | None:
    """Tensile, yield and proof stress of a bolt.

    bolt_class   one of BOLT_CLASSES
    diameter     d, nominal     m
    returns      Strength, or None where the table has no such size of that class

    Errors: KeyError for an unknown class. Source: ISO 898-1, SAE J429, ISO 3506-1, see tables/SOURCES.md.

    >>> strength_of("8.8", 0.010).proof / 1e6
    580.0
    """
    if bolt_class not in BOLT_CLASSES:
        raise KeyError(bolt_class)
    for row in rows("fastening", "bolt_classes"):
        low, high = float(row["from_diameter_mm"]) * _MILLI, float(row["to_diameter_mm"]) * _MILLI
        if row["class"] == bolt_class and low < diameter <= high * (1 + 1e-9):
            tensile, yielding, proof, wants, greatest = (float(row[f"{name}_MPa"]) * _MEGA for name in _STRESSES)
            share = float(row["shear_share"])
            return Strength(tensile, yielding, proof, wants, greatest, share, row["system"], row["source"])
    return None


def nut_goes_with(nut_class: str) -> tuple[float, str]:
    """Nominal tensile strength of the strongest bolts of its own system that a nut goes with, and the source.

    nut_class   one of NUT_CLASSES
    returns     Pa, text

    Errors: KeyError for an unknown class. Source: ISO 898-2, SAE J995, ISO 3506-2, from memory.

    >>> nut_goes_with("8")[0] / 1e6
    800.0
    """
    row = _nut(nut_class)
    return float(row["goes_with_MPa"]) * _MEGA, row["source"]


def nut_against_bolt(nut_class: str, bolt: Strength) -> tuple[float, float]:
    """What a nut bears and what a bolt asks of it: by class within one system, by stress across metric and inch.

    nut_class   one of NUT_CLASSES
    bolt        as strength_of gives it
    returns     Pa, Pa

    Across systems the proof stress of the nut is held against the nominal strength of the bolt. Errors: KeyError for an unknown
    class. Source: ISO 898-2, SAE J995, ISO 3506-2, from memory; across the systems common practice, no source.

    >>> [stress / 1e6 for stress in nut_against_bolt("8", strength_of("grade 5", 0.010))]
    [855.0, 827.0]
    """
    row = _nut(nut_class)
    if row["system"] == bolt.system:
        return float(row["goes_with_MPa"]) * _MEGA, bolt.wants
    return float(row["proof_MPa"]) * _MEGA, bolt.wants


def _nut(nut_class: str) -> dict[str, str]:
    for row in rows("fastening", "nut_classes"):
        if row["class"] == nut_class:
            return row
    raise KeyError(nut_class)


def nut_factor_of(state: str) -> NutFactor:
    """Range of the nut factor for threads in a state.

    state      one of THREAD_STATES
    returns    NutFactor

    Errors: KeyError for an unknown state. Source: fastener suppliers' nut-factor table.

    >>> nut_factor_of("dry").low, nut_factor_of("oiled").usual
    (0.18, 0.15)
    """
    for row in rows("fastening", "nut_factors"):
        if row["threads"] == state:
            return NutFactor(
                float(row["low"]), float(row["high"]), float(row["usual"]), row["oiled"] == "yes", row["source"]
            )
    raise KeyError(state)


def head_of(diameter: float) -> Head | None:
    """Bearing face and hole of a hexagon head, medium fit.

    diameter   d, nominal     m
    returns    Head, or None where the table has no such size

    Source: VDI 2230 as a tool maker's catalogue quotes it; M6 from memory.

    >>> head_of(0.010)
    Head(bearing_diameter=0.01463, hole_diameter=0.011, washer_thickness=0.002)
    """
    for row in rows("fastening", "hexagon_heads"):
        size = float(row["diameter_mm"]) * _MILLI
        if abs(diameter - size) < _SAME_SIZE * size:
            names = ("bearing_diameter", "hole_diameter", "washer_thickness")
            return Head(*(float(row[f"{name}_mm"]) * _MILLI for name in names))
    return None


def scatter_of(way: str) -> tuple[float, float, str]:
    """Usual range of largest over smallest preload by a way of tightening, and the source.

    way        torque wrench and known friction, torque wrench and guessed friction, or angle or yield
    returns    low, high, text

    Errors: KeyError for another way. Source: VDI 2230, from memory.

    >>> scatter_of("angle or yield")[:2]
    (1.2, 1.4)
    """
    for row in rows("fastening", "preload_scatter"):
        if row["tightened"] == way:
            return float(row["low"]), float(row["high"]), row["source"]
    raise KeyError(way)


BOLT_CLASSES = tuple(dict.fromkeys(row["class"] for row in rows("fastening", "bolt_classes")))
NUT_CLASSES = tuple(row["class"] for row in rows("fastening", "nut_classes"))
THREAD_STATES = tuple(row["threads"] for row in rows("fastening", "nut_factors"))
