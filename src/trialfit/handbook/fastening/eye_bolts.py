"""Eye bolts: what they bear along their axis, and what is left at an angle.

Answers   axial_rating    mass along the axis of a collar eye bolt by its thread
          rating_without_a_mark   of an eye of which nothing is known
          share_at_angle  of that, by the make and the angle between pull and axis
          MAKES           the words there are
Not here  the pull of a sling leg and its angle (lifting/hoisting.py)
Symbols   β angle between pull and axis
Sources   tables/SOURCES.md: DIN 580, inch practice
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

MAKES = ("collar", "plain")
_SIZES = {row["thread"]: float(row["axial_kg"]) for row in rows("fastening", "eye_bolts")}
_COLLAR_TO = 45.0  # degrees: DIN 580 gives no load beyond
_LEAST_OF_DIN = 0.2  # of an eye without a mark: common practice, no source
_DIN = next(
    float(row["share"])
    for row in rows("fastening", "eye_bolt_angles")
    if row["angle_deg"] == "45" and row["make"] == "collar"
)


def axial_rating(thread: str) -> float | None:
    """Mass that a collar eye bolt of DIN 580 bears along its axis.

    thread     "M10", coarse
    returns    kg, or None where the table has no such size

    Screwed home, with its collar flat on the face. Source: DIN 580 annex A, table A.1.

    >>> axial_rating("M10")
    230.0
    """
    return _SIZES.get(thread.partition("×")[0])


def share_at_angle(make: str, angle: Numbers, share_at_45: Numbers = _DIN) -> Numbers:
    """Share of its axial rating that an eye bolt bears at an angle, pulled in the plane of its eye.

    make          one of MAKES
    angle         β, from the axis                             rad    ≥ 0
    share_at_45   of a collar eye bolt, as its maker gives it  1      0 ≤ share ≤ 1
    returns       share                                        1      nan outside that range

    Collar: straight from 1 along the axis to the share at 45°, nothing beyond. Plain: 1 up to 5°, 0.80 at 15°, 0.65 at 30°, 0.30 at
    45°, 0.25 at 90°, straight in between. Never pulled across the plane of the eye. Errors: KeyError for another make.
    Source: DIN 580 annex A, table A.1; inch practice on a supplier's page.

    >>> f"{share_at_angle('collar', np.radians(45)):.2f} {share_at_angle('plain', np.radians(30)):.2f}"
    '0.71 0.65'
    """
    if make not in MAKES:
        raise KeyError(make)
    angle, at_45 = as_floats(angle, share_at_45)
    degrees = np.degrees(angle)
    sound = (angle >= 0) & (at_45 >= 0) & (at_45 <= 1)
    if make == "collar":
        left = np.where(degrees <= _COLLAR_TO * (1 + 1e-9), 1 - (1 - at_45) * degrees / _COLLAR_TO, 0.0)
        return where(sound, left)
    plain = [row for row in rows("fastening", "eye_bolt_angles") if row["make"] == make]
    angles, shares = ([float(row[name]) for row in plain] for name in ("angle_deg", "share"))
    return where(sound, np.interp(degrees, angles, shares, right=0.0))


def rating_without_a_mark(thread: str) -> tuple[float, float, str] | None:
    """Least and greatest mass along its axis of a collar eye bolt of which nobody knows maker or norm, and the source.

    thread     "M10", coarse
    returns    kg, kg, text; None where the table has no such size

    Forged to DIN 580 at best; a cast or bent one, or one for fences, bears a fraction of it: a fifth is common practice, no source.

    >>> rating_without_a_mark("M10")[:2]
    (46.0, 230.0)
    """
    most = axial_rating(thread)
    if most is None:
        return None
    return (
        _LEAST_OF_DIN * most,
        most,
        "DIN 580 annex A, table A.1, at best; a fifth of it for an eye without a mark is common practice, no source",
    )
