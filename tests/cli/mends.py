"""What the builder of the whole conversion reads, and what he mends where the demo gets something wrong on purpose.

Answers   READINGS    what he writes down when a job or a gate asks for a reading
          MENDS       each fault of the demo: where he meets it, the findings that it is, what he does, and why that cures it
          met_at      the findings that he meets at a place, all of them and no other
          mends_of    what he types there
"""

from __future__ import annotations

import shlex
from typing import NamedTuple

READINGS = {
    "alignment": "toe 0°10' in, lamps aimed",
    "backlash": "0.15 ± 0.01 mm, gauged",
    "bell_runout": "0.11 ± 0.02 mm, gauged",
    "bonnet_gap": "31 mm, taped",
    "bump_travel": "62 mm, taped",
    "compression": "11.8 11.6 11.9 11.7 11.8 11.6 bar",
    "cooling_pressure": "1.1 ± 0.05 bar, gauged",
    "deceleration": "7.4 ± 0.2 m/s²",
    "diagonals": "1.2 ± 0.5 mm, taped",
    "exhaust_gaps": "34 mm, taped",
    "fuel_exhaust_gap": "62 mm, taped",
    "joint_angles": "1.3° and 1.0°, set of readings in the book",
    "noise": "88 dB at 0.5 m, 45°, 4500 rpm",
    "oil_pressure_cranking": "1.9 ± 0.1 bar, gauged",
    "oil_pressure_hot": "1.4 ± 0.1 bar, gauged",
    "pedal_travel": "48 mm, taped",
    "pickup_gap": "8.0 ± 0.3 mm, calipered",
    "pinion_preload": "1.9 ± 0.1 N·m, gauged",
    "release_travel": "9.4 mm, calipered",
    "shaft_runout": "0.21 ± 0.02 mm, gauged",
    "steering_sweep": "18 mm, taped",
    "volt_drop": "0.31 V at 210 A",
}


class Mend(NamedTuple):
    """One thing put right: the job or gate where it is met, the findings that it is, why, and the commands as typed."""

    at: str
    cures: str
    why: str
    typed: str


MENDS = (
    # --- the choice of parts waits until the torque path holds ---
    Mend(
        "PL06",
        "gearing.speedometer",
        "other drive gears in the speedometer, and how much it reads over by its maker's papers",
        """
        set speedometer.drive_factor '1.20 ± 0.005, computed'
        set speedometer.original_over_reading '5 ± 1 %, manual'
        """,
    ),
    Mend(
        "PL06",
        "torque_path.clutch",
        "a stronger pressure plate, and the facing's friction from its maker",
        """
        set clutch.clamp_load '6900 N ± 2 %, manual'
        set clutch.facing_friction '0.275 ± 0.01, manual'
        """,
    ),
    Mend(
        "PL06",
        "torque_path.half_shaft.left torque_path.half_shaft.right",
        "both sides are made new: of better steel, with a figure from their maker",
        """
        set half_shaft_left.rated_torque '2600 ± 100 N·m, manual'
        set half_shaft_right.rated_torque '2600 ± 100 N·m, manual'
        """,
    ),
    Mend(
        "PL06",
        "torque_path.final_drive",
        "the figure from its maker instead of a guess",
        "set final_drive_long.rated_torque '3800 ± 50 N·m, manual'",
    ),
    Mend(
        "PL06",
        "torque_path.shaft.prop_shaft",
        "the driveline shop's figure for the finished shaft",
        "set prop_shaft.rated_torque '2200 N·m, manual'",
    ),
    Mend(
        "PL06",
        "torque_path.hub.rear torque_path.studs.rear",
        "hubs of a heavier car, with five studs and conical seats, their preload measured",
        """
        set hub_rear.seat cone
        set hub_rear.stud_diameter '14 mm, manual'
        set hub_rear.stud_yield_strength '940 ± 20 MPa, manual'
        remove hub_rear.stud_torque
        set hub_rear.rated_torque '3000 N·m, catalogue'
        set hub_rear.stud_count 5
        set hub_rear.stud_preload '66 ± 2 kN, gauged'
        """,
    ),
    # --- nothing is lifted before the sling hangs right and the stands are known ---
    Mend(
        "SD07",
        "lifting.side_tilt.hoist_in lifting.tilt.hoist_in",
        "the eyes bolted on in the middle, so that their line passes over the centre of mass, and hooked further forward",
        """
        set sling_front.eye_y '8 mm, taped'
        set sling_rear.eye_y '7 mm, taped'
        set hoist_in.hook_x '-127 mm, taped'
        """,
    ),
    Mend(
        "SD07",
        "lifting.boom.hoist_in",
        "the ratings of its holes, out of the crane's own papers",
        """
        set workshop_crane.hole_ratings.1 '1000 kg, manual'
        set workshop_crane.hole_ratings.2 '750 kg, manual'
        set workshop_crane.hole_ratings.3 '500 kg, manual'
        set workshop_crane.hole_ratings.4 '250 kg, manual'
        """,
    ),
    Mend(
        "SD07",
        "lifting.stand_load.stands_rear",
        "the borrowed stands went back, others have a plate",
        "set stands_rear.rated_mass '1000 kg, catalogue'",
    ),
    Mend(
        "SD07",
        "lifting.push.stands_front",
        "set further apart, and taped where they all stand",
        """
        set stands_front.off_centre '0 ± 20 mm, taped'
        set stands_front.spacing '0.95 m, taped'
        set stands_front.inboard '150 mm, taped'
        set stands_rear.inboard '150 mm, taped'
        """,
    ),
    # --- the rail is cut only when what is given back bears as much ---
    Mend(
        "CU01",
        "structure.bending_ratio.sideways.rail_old structure.bending_ratio.upright.rail_old structure.torsion_ratio.rail_old",
        "closed with a fourth side and as wide as the old rail; the manifold is moved over instead",
        """
        set rail_new.shape box
        set rail_new.width '55 mm, calipered'
        """,
    ),
    Mend(
        "MT01",
        "structure.still_held.mount_left structure.still_held.mount_right",
        "a strap on either side that holds the engine when a mount has torn",
        """
        set strap_left.kind mount
        set strap_left.role restraint
        set strap_left.x '-120 mm, taped'
        set strap_left.y '300 mm, taped'
        set strap_left.z '430 mm, taped'
        set strap_left.rated_load '12 kN, manual'
        set strap_left.rated_pull '12 kN, manual'
        set strap_right.kind mount
        set strap_right.role restraint
        set strap_right.x '-120 mm, taped'
        set strap_right.y '-300 mm, taped'
        set strap_right.z '430 mm, taped'
        set strap_right.rated_load '12 kN, manual'
        set strap_right.rated_pull '12 kN, manual'
        """,
    ),
    # --- no pose is chosen in which something touches ---
    Mend("ME04", "clearance.gap.intake.bonnet", "a bulge in the bonnet", "set bonnet.z '830 mm, taped'"),
    Mend(
        "ME04",
        "clearance.gap.sump.rack",
        "the other pan, shallow in front",
        "set choice.sump.picked sump_shallow",
    ),
    Mend(
        "ME04",
        "clearance.place.half_shaft_right",
        "the right half-shaft is offered up and measured before a pose is chosen",
        """
        set half_shaft_right.inner_z '300 mm, taped'
        set half_shaft_right.plunge_in '22 mm, taped'
        set half_shaft_right.plunge_out '24 mm, taped'
        set half_shaft_right.inner_movement '0.5 ± 0.2 mm, gauged'
        set half_shaft_right.outward_at_bump '0.5 ± 0.5 mm, taped'
        set half_shaft_right.outward_at_droop '0.5 ± 0.5 mm, taped'
        """,
    ),
    # --- shafts ---
    Mend(
        "DF06",
        "driveline.whirl.prop_shaft",
        "a wider tube",
        "set prop_shaft.tube_outside_diameter '101.6 ± 0.1 mm, calipered'",
    ),
    # --- nothing is screwed into the engine that does not belong ---
    Mend(
        "OP04",
        "ports.oil_gallery.mates ports.oil_gallery.sealing",
        "the tapered sender comes out of the straight thread, an adapter goes between",
        """
        set gallery_adapter.kind fitting
        set gallery_adapter.end 'male M10×1, washer'
        set gallery_adapter.other_end 'female 1/8-27 NPT'
        set gallery_adapter.fitted oil_pressure_sender
        set gallery_adapter.sealant tape
        remove oil_gallery.sealant
        set oil_gallery.fitted gallery_adapter
        """,
    ),
    Mend("OP04", "ports.heater_return.plugged", "a plug", "set heater_return.plug 'male M16×1.5, washer'"),
    Mend(
        "OP04",
        "ports.fuel_pump_outlet.identity ports.fuel_pump_outlet.plugged",
        "the comparator says which thread it is; a plug until the fuel line comes",
        """
        record fuel_pump_outlet.pitch '1.337 ± 0.005 mm, gauged' 1.337 1.336 1.338 --draws 16
        set fuel_pump_outlet.crest_diameter '11.46 ± 0.02 mm, calipered'
        set fuel_pump_outlet.thread G1/4
        set fuel_pump_outlet.plug 'male G1/4'
        """,
    ),
    Mend(
        "OP04",
        "ports.oil_cooler_feed.temperature",
        "the oil's highest temperature, read instead of guessed",
        "set oil_cooler_feed.temperature '118 ± 1 °C, gauged'",
    ),
    # --- bolts ---
    Mend(
        "CH02",
        "fastening.prop_flange.bearing_pressure fastening.prop_flange.nut_grade fastening.prop_flange.slip",
        "bolts of the next class, nuts and hard washers that go with them, a friction shim between the faces, coated threads with a figure from their maker",
        """
        set prop_flange.strength_class 12.9
        set prop_flange.nut_class 12
        set prop_flange.nut_factor '0.17 ± 0.01, manual'
        set prop_flange.torque '80 N·m'
        set prop_flange.face_friction '0.5 ± 0.05, manual'
        set prop_flange.washer_diameter '21 mm, calipered'
        set prop_flange.nut_washer_diameter '21 mm, calipered'
        set prop_flange.washer_thickness '4 ± 0.1 mm, calipered'
        """,
    ),
    Mend(
        "CH02",
        "fastening.mount_bolts_left.bearing_pressure fastening.mount_bolts_left.bolt_load fastening.mount_bolts_left.engagement"
        " fastening.mount_bolts_left.preload_share fastening.mount_bolts_left.pull_and_twist fastening.mount_bolts_left.slip"
        " fastening.mount_bolts_left.stripping",
        "longer and stronger bolts with hard washers, the holes tapped deeper, alloy of the block from its maker, bare faces, "
        "coated threads with a figure from their maker",
        """
        set mount_bolts_left.engagement '30 mm, calipered'
        set mount_bolts_left.hole_strength '270 ± 10 MPa, manual'
        set mount_bolts_left.hole_shear_share '0.65 ± 0.03, manual'
        set mount_bolts_left.washer_diameter '20 mm, calipered'
        set mount_bolts_left.washer_thickness '3 ± 0.1 mm, calipered'
        set mount_bolts_left.face_friction '0.20 ± 0.03, manual'
        set mount_bolts_left.strength_class 10.9
        set mount_bolts_left.nut_factor '0.19 ± 0.02, manual'
        set mount_bolts_left.torque '62 N·m'
        """,
    ),
    Mend(
        "CH02",
        "fastening.head_left.reused_stretch_bolt fastening.head_left.stripping",
        "new head bolts, and the iron of the block from its maker",
        """
        set head_left.times_used 0
        set head_left.hole_strength '250 ± 10 MPa, manual'
        """,
    ),
    # --- on the way to the first fire: taken out to fill the block, and the cap put back on ---
    Mend(
        "first-fire",
        "ports.heater_return.plugged",
        "the plug goes back in",
        "set heater_return.plug 'male M16×1.5, washer'",
    ),
    # --- on the way to the first roll ---
    Mend(
        "first-roll",
        "structure.bracket_edge.mount_arm_left structure.bracket_slender.mount_arm_left",
        "new cheeks: more plate round the hole, a flange along the free edge",
        """
        set mount_arm_left.bolt_edge '22 mm, calipered'
        set mount_arm_left.stiffened yes
        """,
    ),
    Mend(
        "first-roll",
        "structure.weld_parent.mount_arm_weld structure.weld_yield.mount_arm_weld",
        "welded all round on a doubler, by one who is trained for it",
        """
        set mount_arm_weld.pattern 'all round'
        set mount_arm_weld.thinner '4.0 mm, calipered'
        set mount_arm_weld.leg '4.5 ± 0.2 mm, calipered'
        """,
    ),
    Mend(
        "first-roll",
        "structure.crash_hold",
        "the maker of the gearbox mount answers",
        "set mount_rear.breaking_load '9 kN, manual'",
    ),
    # --- on the way to the road ---
    Mend(
        "road",
        "senders.water_gauge.reading_at_limit senders.water_gauge.over_range",
        "the sender that the gauge was made for, as it was in the pan of water",
        """
        set old_water_sender.kind sender
        set old_water_sender.temperature_curve '°C : Ω ± 3 %, gauged | 40 : 290 | 60 : 137 | 80 : 70 | 100 : 39 | 120 : 23'
        set old_water_sender.end 'male M12×1.5, washer'
        set water_gauge.sender old_water_sender
        """,
    ),
    Mend(
        "road",
        "measuring.sump_clay.outlier",
        "one lump had a nut in it: laid and read again",
        "set sump_clay.lengths '13.1 mm | 12.9 mm | 13.2 mm | 13.0 mm | 13.1 mm'",
    ),
    Mend(
        "road",
        "measuring.release_bearing_gap.smallest_at_worst measuring.release_bearing_gap.largest_at_worst",
        "each member measured instead of trusting its tolerance",
        "set release_bearing_gap.members '127.80 ± 0.05 mm, calipered | -41.45 ± 0.03 mm, calipered"
        " | -36.00 ± 0.05 mm, calipered | -47.40 ± 0.05 mm, calipered'",
    ),
    # --- durability, unsettled: no gate is shut for it, and yet it is seen to before the road ---
    Mend("by the way", "measuring.release_bearing_gap.smallest", "with what was read for the road", ""),
    Mend(
        "by the way",
        "senders.oil_lamp.warning",
        "another switch, tried with air and a good gauge",
        "set oil_pressure_switch.switch_pressure '0.5 ± 0.1 bar, gauged'",
    ),
    Mend(
        "by the way",
        "senders.oil_pressure_gauge.reading_at_limit senders.oil_pressure_gauge.over_range",
        "the tape on the thread of the sender stands in the way of its earth: measured to the battery",
        "set oil_pressure_sender.earth_resistance '0.2 ± 0.1 Ω, gauged'",
    ),
    Mend(
        "by the way",
        "structure.torch_access.mount_arm_weld",
        "measured with the torch in hand",
        "record mount_arm_weld.torch_access '112 ± 2 mm, taped' 113 112 112 --draws 16",
    ),
    Mend(
        "first-roll",
        "driveline.plunge.left.out",
        "how the hub, the final drive and the gearbox move on their mounts, measured, and both sliding joints with a caliper",
        """
        record driveline.slip.gap '11.62 mm, calipered' 11.58 11.60 11.65 11.61 --method caliper --fact prop_shaft.slip_gap --draws 16
        remove slip_gap_by_rule
        set prop_shaft.spline_overlap '92 ± 0.5 mm, calipered'
        set gearbox.output_surge '1 ± 0.3 mm, gauged'
        set half_shaft_left.inner_movement '0.2 ± 0.1 mm, gauged'
        set half_shaft_left.outward_at_bump '0.5 ± 0.5 mm, taped'
        set half_shaft_left.outward_at_droop '0 ± 0.3 mm, taped'
        set half_shaft_left.plunge_out '13.1 ± 0.2 mm, calipered'
        """,
    ),
    Mend(
        "by the way",
        "driveline.drift.tacked driveline.needle_roll.rear driveline.residual",
        "the angles once more, with a finer gauge, at ride height",
        """
        set readings_tacked.gearbox '3.5 ± 0.05 deg, gauged'
        set readings_tacked.shaft '2.3 ± 0.05 deg, gauged'
        set readings_tacked.final_drive '3.0 ± 0.05 deg, gauged'
        set readings_trial.gearbox '3.4 ± 0.05 deg, gauged'
        set readings_trial.shaft '2.3 ± 0.05 deg, gauged'
        set readings_trial.final_drive '3.0 ± 0.05 deg, gauged'
        set gearbox.output_inclination '3.4 ± 0.05 deg, gauged'
        set gearbox.output_heading '0 ± 0.1 deg, gauged'
        set final_drive_long.input_inclination '3.0 ± 0.05 deg, gauged'
        set final_drive_long.input_heading '0 ± 0.1 deg, gauged'
        """,
    ),
)


def met_at(place: str) -> set[str]:
    """The findings that are met at a job or gate."""
    return {finding for mend in MENDS if mend.at == place for finding in mend.cures.split()}


def mends_of(place: str) -> list[list[str]]:
    """The words of each command that is typed there."""
    return [shlex.split(line) for mend in MENDS if mend.at == place for line in mend.typed.split("\n") if line.strip()]
