"""Every formula of the handbook is there for the program, or is named here with what it waits for.

A formula is used where another floor refers to it, or another formula that is used. One that tests alone call is dead weight:
nobody who reads the handbook can tell whether the program goes by it.
"""

from __future__ import annotations

import ast
import inspect
from functools import cache
from pathlib import Path

import pytest

import trialfit
from trialfit import handbook

SOURCE = Path(trialfit.__file__).parent
HANDBOOK = "trialfit.handbook."

WAITING = {
    "braking.brakes.line_pressure": "brakes judged: pedal, cylinder and line pressure",
    "cooling.coolant.saturation_pressure": "cooling judged: boiling margin by cap and mix; vapour of hot fuel",
    "driveline.angle_finder.heading_from_offsets": "shafts that were taped in plan, held against where their ends are placed",
    "driveline.cardan.angular_acceleration": "half-shafts and swing axles with cardan joints",
    "driveline.cardan.driven_angle": "half-shafts and swing axles with cardan joints",
    "driveline.cardan.fluctuation": "half-shafts and swing axles with cardan joints",
    "driveline.cardan.peak_acceleration": "half-shafts and swing axles with cardan joints",
    "driveline.cardan.speed_ratio": "half-shafts and swing axles with cardan joints",
    "driveline.joint_angle_limits.largest_second_angle": "shafts and mounts that are made to fit the place of the drivetrain",
    "driveline.shaft_lines.compound_angle": "gauge readings in side view and plan, held against the placed line",
    "fastening.fasteners.preload_by_friction": "the long form, for whoever measures both frictions on a bench",
    "fastening.fasteners.torque_by_friction": "the long form, for whoever measures both frictions on a bench",
    "fastening.torque_wrenches.torque_with_adapter": "what a bolt got that was tightened with an adapter",
    "gearing.performance.top_speed_from_power": "the speed that goes with the steady power that the radiator bears",
    "gearing.shifting.upshift_speed": "automatic gearboxes: the speed at which they change up",
    "measuring.conformance.combined": "readings that share an instrument, and its error",
    "measuring.conformance.conformance_lower": "readings judged with their spread and guard band",
    "measuring.conformance.conformance_upper": "readings judged with their spread and guard band",
    "measuring.conformance.guard_band": "readings judged with their spread and guard band",
    "measuring.conformance.standard_of_arcsine": "the spread of several readings by their instrument",
    "measuring.conformance.standard_of_rectangular": "the spread of several readings by their instrument",
    "measuring.conformance.standard_of_resolution": "the spread of several readings by their instrument",
    "measuring.conformance.standard_of_triangular": "the spread of several readings by their instrument",
    "oil.oil_pan.pickup_cover": "oil judged: whether the mouth stays covered in a bend",
    "oil.oil_pan.surface_level": "oil judged: volume against level, and the dipstick's mark",
    "ports.port_ends.tube_of": "fuel and oil lines by dash size",
    "senders.sender_curves.divider_voltage": "gauges that read the voltage behind a pull-up",
    "senders.sender_curves.temperature_by_beta": "gauges that read the voltage behind a pull-up",
    "senders.sender_curves.thermistor_temperature": "gauges that read the voltage behind a pull-up",
    "senders.sender_resistors.ends_right": "resistors that leave the needle its whole swing",
    "structure.wall_torsion.closed_shear_stress": "mounts that twist the rail they are welded to",
    "structure.wall_torsion.open_shear_stress": "mounts that twist the rail they are welded to",
    "structure.wall_torsion.open_torsion_constant": "mounts that twist the rail they are welded to",
    "structure.wall_torsion.slit_loss": "members that were slit along their length",
    "structure.welds.factored_strength": "welds by the factored loads of codes of practice",
    "torque_path.clutch.clamp_load_after_wear": "clutch release judged: force at the foot over the life of the facing",
    "torque_path.clutch.clamp_load_new": "clutch release judged: force at the foot over the life of the facing",
    "torque_path.clutch.clamp_load_run_in": "clutch release judged: force at the foot over the life of the facing",
    "torque_path.shocks.clutch_drop_peak": "shock factors by inertias and stiffnesses of the build instead of typical ones",
    "torque_path.shocks.grip_regained_peak": "shock factors by inertias and stiffnesses of the build instead of typical ones",
    "torque_path.shocks.shuffle_frequency": "shock factors by inertias and stiffnesses of the build instead of typical ones",
    "torque_path.shocks.stored_energy_peak": "shock factors by inertias and stiffnesses of the build instead of typical ones",
    "torque_path.torque_converter.torque_ratio": "cooling judged: slip heat of a torque converter and its oil cooler",
    "torque_path.torsion.tube_inertia": "what a shaft that turns unevenly does to its neighbours",
    "torque_path.torsion.tube_mass": "masses that come off and go on, axle by axle",
    "torque_path.torsion.twist": "how far a line winds up when the clutch is dropped",
}
"""Formulas that the program does not use yet, each with what it waits for."""


def formulas() -> dict[str, str]:
    """Public formulas by room, module and name; each with its own name."""
    modules = [module for room in handbook.rooms() for module in handbook.modules(room)]
    return {
        f"{module.__name__.removeprefix(HANDBOOK)}.{name}": name
        for module in modules
        for name, value in vars(module).items()
        if inspect.isfunction(value) and not name.startswith("_") and value.__module__ == module.__name__
    }


def meanings(tree: ast.Module) -> dict[str, str]:
    """What the names that a module imports from the handbook stand for: "room.module.thing", "room.module" or "room"."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and f"{node.module}.".startswith(HANDBOOK):
            place = f"{node.module}.".removeprefix(HANDBOOK)
            found |= {alias.asname or alias.name: f"{place}{alias.name}" for alias in node.names}
    return found


def named_in(node: ast.AST, meaning: dict[str, str], own: str) -> set[str]:
    """What a piece of code refers to; a bare name of its own module stands with that module in front."""
    found = set()
    for one in ast.walk(node):
        if isinstance(one, ast.Name):
            found.add(meaning.get(one.id, f"{own}.{one.id}"))
        elif isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id in meaning:
            found.add(f"{meaning[one.value.id]}.{one.attr}")
    return found


def pieces(tree: ast.Module, own: str) -> dict[str, ast.AST]:
    """What a module of the handbook defines, by its name; constants belong to whoever names them."""
    found: dict[str, ast.AST] = {}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found[f"{own}.{node.name}"] = node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            found |= {
                f"{own}.{name.id}": node
                for target in targets
                for name in ast.walk(target)
                if isinstance(name, ast.Name)
            }
    return found


@cache
def referred() -> tuple[frozenset[str], dict[str, set[str]]]:
    """What other floors refer to; and what each piece of the handbook refers to, what it hands on from elsewhere included."""
    wanted: set[str] = set()
    behind: dict[str, set[str]] = {}
    for path in SOURCE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        own = ".".join(path.relative_to(SOURCE).with_suffix("").parts)
        meaning = meanings(tree)
        if not own.startswith("handbook."):
            wanted |= named_in(tree, meaning, own)
            continue
        own = own.removeprefix("handbook.")
        behind |= {f"{own}.{name}": {meant} for name, meant in meaning.items()}
        behind |= {name: named_in(node, meaning, own) for name, node in pieces(tree, own).items()}
    return frozenset(wanted), behind


@cache
def reached_from(*begin: str) -> frozenset[str]:
    """The pieces named, and all that they stand on."""
    behind = referred()[1]
    wanted, reached = set(begin), set()
    while wanted:
        reached |= wanted
        wanted = set().union(*(behind.get(name, set()) for name in wanted)) - reached
    return frozenset(reached)


@pytest.mark.parametrize("formula", sorted(formulas()))
def test_a_formula_is_used_or_waits_for_something(formula):
    used = formula in reached_from(*referred()[0])
    waits = formula in WAITING

    assert used or formula in reached_from(*WAITING), f"nothing but tests calls {formula}: use it, or take it out"
    assert not (used and waits), f"{formula} is used: take it from the list of those that wait"


def test_what_waits_is_there():
    assert set(WAITING) <= set(formulas())
