"""Typical values of a bolted joint by its size, its materials, its faces and the state of its threads.

Answers   typical_of   value with spread, and source; two empty texts where nothing narrows the usual one
          narrowed     a declaration with that value
Sources   handbook/fastening/tables
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from trialfit.handbook.fastening.fastener_classes import head_of, nut_factor_of
from trialfit.handbook.fastening.joint_faces import FINISHES, bearing_limit, bedding_in, shear_share, yield_of
from trialfit.handbook.fastening.thread_fit import thread_left
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from trialfit.parts.declaring import FactSpec
    from trialfit.parts.fastening.fasteners import BoltedJoint

_HOLE_STRENGTH = {
    "steel": "430 ± 70 MPa",
    "iron": "220 ± 50 MPa",
    "aluminium": "220 ± 50 MPa",
}
_OWN_SIZES = {
    "bearing_diameter": (1.42, 0.08),
    "hole_diameter": (1.1, 0.03),
    "washer_thickness": (0.2, 0.05),
    "foot_width": (3.5, 1.5),
}
"""Over the nominal diameter, where the table has no such size."""


@lru_cache(maxsize=256)
def narrowed(spec: FactSpec, typical: str, source: str) -> FactSpec:
    """The declaration of a fact with another typical value, made once."""
    return spec.with_typical(typical, source)


def typical_of(joint: BoltedJoint, name: str) -> tuple[str, str]:
    """Typical value of one fact with its spread, and its source."""
    if name == "nut_factor" and joint.thread_state:
        factor = nut_factor_of(joint.thread_state)
        around = f"+{factor.high - factor.usual:.2f}/-{factor.usual - factor.low:.2f}"
        return f"{factor.usual:.2f} {around}", factor.source
    if name in _OWN_SIZES and joint.thread:
        return _of_size(name, joint.thread)
    if name == "thread_left" and joint.thread:
        thread = read_fastener_thread(joint.thread)
        least, most = (float(end) for end in thread_left(thread.diameter, thread.pitch))
        return f"{_between(least, most)}", "ISO 965-1: 6g in 6H, from the loosest fit to the basic profile"
    if name == "embedment":
        return _bedding(joint)
    return _of_material(joint, name)


def _of_material(joint: BoltedJoint, name: str) -> tuple[str, str]:
    tapped = joint.threaded_into or "nut"
    head, other = joint.head_side_material or "steel", joint.thread_side_material or "steel"
    if name == "hole_strength" and tapped in _HOLE_STRENGTH:
        return _HOLE_STRENGTH[tapped], f"from memory, {tapped}, cast or plain"
    if name == "hole_shear_share" and tapped in _HOLE_STRENGTH:
        low, high, source = shear_share(tapped)
        return _between(low, high), source
    stresses = {"head_side_bearing": (bearing_limit, head), "thread_side_bearing": (bearing_limit, other)}
    stresses["foot_strength"] = (yield_of, head)
    if name in stresses:
        table, material = stresses[name]
        low, high, source = table(material)
        return f"{_between(low / 1e6, high / 1e6)} MPa", source
    return "", ""


def _bedding(joint: BoltedJoint) -> tuple[str, str]:
    inner = joint.inner_faces.written.si if joint.inner_faces.written else 1.0
    films = joint.paint_films.written.si if joint.paint_films.written else 0.0
    loads = joint.load_type or ("shear" if joint.carries else "")
    sideways = loads not in ("pull", "a seal only")
    finish = joint.face_finish or FINISHES[1]
    middle, half = (float(end) * 1e6 for end in bedding_in(finish, inner, films, sideways=sideways))
    paint = "; paint 5 to 20 µm a film is common practice, no source" if films else ""
    return f"{middle:.1f} ± {half:.1f} µm", f"VDI 2230 table 5, as a research code quotes it{paint}"


def _of_size(name: str, text: str) -> tuple[str, str]:
    diameter = read_fastener_thread(text).diameter
    head = head_of(diameter)
    if head is not None and name != "foot_width":
        spread = 0.3 if name == "washer_thickness" else 0.1
        source = "ISO 7089, from memory" if name == "washer_thickness" else "VDI 2230, hexagon head and medium hole"
        return f"{getattr(head, name) * 1e3:g} ± {spread} mm", source
    times, spread = _OWN_SIZES[name]
    size = diameter * 1e3
    return f"{times * size:.2f} ± {spread * size:.2f} mm", f"{NO_SOURCE}: {times} diameters"


def _between(low: float, high: float) -> str:
    return f"{(low + high) / 2:.4g} ± {(high - low) / 2:.4g}"
