"""Eye bolts: what they bear along their axis, and what is left at an angle.

Answers   axial_rating    mass along the axis of a collar eye bolt by its thread
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
_LEAST_AT_45 = 0.25  # a supplier's value for shouldered eye bolts at 45°, harsher than DIN 580
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


def usual_share_at_45(*, is_din: bool) -> tuple[float, float, str]:
    """Least and greatest share at 45° of a collar eye bolt, and the source.

    is_din     whether its axial rating is that of DIN 580
    returns    1, 1, text

    Source: DIN 580 annex A, table A.1; a supplier's page.

    >>> usual_share_at_45(is_din=True)[:2]
    (0.71, 0.71)
    """
    if is_din:
        return _DIN, _DIN, "DIN 580 annex A, table A.1, as a product leaflet prints it"
    return (
        _LEAST_AT_45,
        _DIN,
        "0.25 a supplier of shouldered eye bolts, 0.71 DIN 580 annex A, as a product leaflet prints it",
    )
