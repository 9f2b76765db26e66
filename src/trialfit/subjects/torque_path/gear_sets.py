"""Gearbox, transfer case and final drive: the engine's full torque against what their makers rate them for.

Answers   elements      torque_path.gearbox, .transfer_case, .final_drive
          requirements  the figures torque_path.shock_over_rating.gearbox and .final_drive
Not here  the torques (loads.py)

A rating is converted to the input of the element, whichever end it is stated for, so that alternative
elements are compared at one place: the gearbox at its input, the final drive at its pinion.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.torque_path import along_the_path as handbook
from trialfit.parts import FinalDrive, Gearbox, TransferCase
from trialfit.subjects import line
from trialfit.subjects.torque_path import loads, sentences
from trialfit.subjects.torque_path.behind import ALL, torque_formulas
from trialfit.subjects.torque_path.element import Compared, Element, Held, element_of, lacking, rating_source
from trialfit.subjects.torque_path.events import Load, into_gearbox
from trialfit.subjects.torque_path.gears import box_ratios, gear_list, range_ratios
from trialfit.subjects.torque_path.loads import at
from trialfit.subjects.torque_path.shock_figure import shock_over_rating

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Requirement
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.torque_path.behind import Formulas


def elements(build: Build) -> Iterator[Element]:
    """The gearbox and the transfer case at their inputs and the final drive at its pinion, under the engine's full torque."""
    gearbox, final_drive = build.first(Gearbox), build.first(FinalDrive)
    yield element_of(
        build,
        _GEARBOX,
        about=gearbox.name if gearbox else Gearbox.kind,
        title="the gearbox",
        says="full torque at the gearbox's input stays within the rating of the gearbox, in every gear",
        source=rating_source(gearbox.rated_torque if gearbox else None),
        formulas=_at_gearbox(build, Load.steady),
        lacks=lacking(gearbox.rated_torque) if gearbox else (Gearbox.kind,),
    )
    case = build.first(TransferCase)
    if case is not None:
        yield element_of(
            build,
            _TRANSFER_CASE,
            about=case.name,
            title="the transfer case",
            says="full torque from the gearbox stays within the rating of the transfer case, in both ranges",
            source=rating_source(case.rated_torque),
            formulas=torque_formulas(build, Load.steady),
            lacks=lacking(case.rated_torque),
        )
    yield element_of(
        build,
        _FINAL_DRIVE,
        about=final_drive.name if final_drive else FinalDrive.kind,
        title="the final drive",
        says="full torque at the pinion stays within the rating of the final drive, in every gear",
        source=rating_source(final_drive.rated_torque if final_drive else None),
        formulas=_at_final_drive(build, Load.steady),
        lacks=lacking(final_drive.rated_torque) if final_drive else (FinalDrive.kind,),
    )


def requirements(build: Build) -> Iterator[Requirement]:
    """Shock torque over the ratings that are written."""
    gearbox, final_drive = build.first(Gearbox), build.first(FinalDrive)
    if gearbox and gearbox.rated_torque.written:
        shock = at(loads.gearbox_input, Load.shock)
        yield shock_over_rating(_GEARBOX, shock, gearbox.name, "the gearbox", _at_gearbox(build, Load.shock))
    if final_drive and final_drive.rated_torque.written:
        shock = at(loads.pinion, Load.shock)
        formulas = _at_final_drive(build, Load.shock)
        yield shock_over_rating(_FINAL_DRIVE, shock, final_drive.name, "the final drive", formulas)


def _at_gearbox(build: Build, load: Load) -> Formulas:
    gearbox = build.first(Gearbox)
    carried_over = (handbook.rating_at_input,) if gearbox and gearbox.rated_at == "output" else ()
    return (*torque_formulas(build, load, ALL), *carried_over)


def _at_final_drive(build: Build, load: Load) -> Formulas:
    final_drive = build.first(FinalDrive)
    carried_over = (handbook.rating_at_input,) if final_drive and final_drive.rated_at == "wheels" else ()
    return (*torque_formulas(build, load), *carried_over)


def gearbox_rating(ev: Evaluation) -> Array:
    """What the gearbox is rated for, at its input, N·m, (draws, gears): a rating at its output is another in each gear."""
    gearbox = ev.part(Gearbox)
    rated = ev(gearbox.rated_torque)[:, None]
    if gearbox.rated_at != "output":
        return np.asarray(rated * ev.of(_multiplies)[:, None]) if gearbox.rated_at == "engine" else rated
    efficiency = ev(gearbox.efficiency)[:, None]
    return np.asarray(handbook.rating_at_input(rated, ev.of(box_ratios), gearbox_efficiency=efficiency))


def _multiplies(ev: Evaluation) -> Array:
    """Torque into the gearbox over the engine's peak torque: what a torque converter makes of it."""
    return np.asarray(ev.of(into_gearbox) / ev.of(line.peak_torque))


def final_drive_rating(ev: Evaluation) -> Array:
    """What the final drive is rated for, at its pinion, N·m, (draws, 1)."""
    final_drive = ev.part(FinalDrive)
    rated = ev(final_drive.rated_torque)[:, None]
    if final_drive.rated_at != "wheels":
        return rated
    efficiency = ev(final_drive.efficiency)[:, None]
    ratio = ev.of(line.final_ratio)[:, None]
    return np.asarray(handbook.rating_at_input(rated, final_ratio=ratio, final_efficiency=efficiency))


def _gearbox_shown(ev: Evaluation, column: int) -> str:
    gearbox = ev.part(Gearbox)
    rated = f"rated {sentences.torque(ev(gearbox.rated_torque))} at the {gearbox.rated_at}"
    if gearbox.rated_at != "output":
        return rated
    ratio, efficiency = ev.of(box_ratios)[0, column], ev(gearbox.efficiency)
    gear = gear_list(ev.build)[column].spoken
    at_input = sentences.torque(ev.of(gearbox_rating)[0, column])
    return f"{rated}: ÷ ({sentences.ratio(ratio)} × {sentences.ratio(efficiency)}) = {at_input} at the input in {gear}"


def transfer_case_rating(ev: Evaluation) -> Array:
    """What the transfer case is rated for, at its input, N·m, (draws, gears): a rating at its output is another in low range."""
    case = ev.part(TransferCase)
    rated = ev(case.rated_torque)[:, None]
    if case.rated_at != "output":
        return rated
    efficiency = ev(case.efficiency)[:, None]
    return np.asarray(handbook.rating_at_input(rated, ev.of(range_ratios), gearbox_efficiency=efficiency))


def _transfer_case_shown(ev: Evaluation, column: int) -> str:
    case = ev.part(TransferCase)
    rated = f"rated {sentences.torque(ev(case.rated_torque))} at the {case.rated_at}"
    if case.rated_at != "output":
        return rated
    ratio, efficiency = ev.of(range_ratios)[0, column], sentences.ratio(ev(case.efficiency))
    return f"{rated}: ÷ ({sentences.ratio(ratio)} × {efficiency})"


def _final_drive_shown(ev: Evaluation, _column: int) -> str:
    final_drive = ev.part(FinalDrive)
    rated = f"rated {sentences.torque(ev(final_drive.rated_torque))} at the {final_drive.rated_at}"
    if final_drive.rated_at != "wheels":
        return rated
    ratio, efficiency = sentences.ratio(ev.of(line.final_ratio)), sentences.ratio(ev(final_drive.efficiency))
    return f"{rated}: ÷ ({ratio} × {efficiency}) = {sentences.torque(ev.of(final_drive_rating))} at the pinion"


_GEARBOX = Held(
    "gearbox",
    (Compared(at(loads.gearbox_input, Load.steady), gearbox_rating, _gearbox_shown),),
    "gearbox input",
)
_FINAL_DRIVE = Held("final_drive", (Compared(at(loads.pinion, Load.steady), final_drive_rating, _final_drive_shown),))
_TRANSFER_CASE = Held(
    "transfer_case",
    (Compared(at(loads.gearbox_output, Load.steady), transfer_case_rating, _transfer_case_shown),),
    "gearbox output",
)
