"""What joints and axles take as typical, and links that contradict themselves."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import BadInput, read_text
from trialfit.parts import HalfShaft, PropShaft


def test_a_rubber_disc_has_an_angle_that_is_usual_for_its_kind() -> None:
    """A cardan joint of a prop shaft binds at 15 to 35°, by the make of its yokes."""
    shaft = read_text('[prop_shaft]\nfront_joint = "rubber disc"\n').first(PropShaft)

    assert np.degrees(shaft.front_joint_angle_limit.known.si) == pytest.approx(3)
    assert np.degrees(shaft.rear_joint_angle_limit.known.si) == pytest.approx(25)


def test_a_cardan_joint_of_a_half_shaft_binds_earlier_than_a_fixed_one() -> None:
    """15 to 30° instead of 45°."""
    shaft = read_text('[half_shaft]\nside = "left"\nouter_joint = "cardan"\n').first(HalfShaft)

    assert np.degrees(shaft.outer_joint_angle_limit.known.si) == pytest.approx(22.5)
    assert np.degrees(shaft.inner_joint_angle_limit.known.si) == pytest.approx(21.5)


def test_both_ends_of_a_link_at_one_place_are_refused() -> None:
    """One sentence with what was read and an example."""
    ends = "".join(
        f'lower_{end}_{axis} = "{at} mm"\n' for end in ("body", "axle") for axis, at in (("x", -2500), ("z", 300))
    )

    with pytest.raises(BadInput, match="both ends of the lower links are at one place: expected the pivot on the axle"):
        read_text(f'[axle_location]\nheld_by = "links"\n{ends}')
