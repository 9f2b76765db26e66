"""What the topics of ports share: a port's end, and the run of pieces that begins there.

Answers   port_end       the end of a port
          port_thread    its thread; wedging_thread the one that is screwed in, tapered where the joint seals in the thread
          material_of    what it is cut into
          run_from       the pieces on a port, the joints between their ends, and whether the run ends closed
          stake_of       what is at stake, by what is behind the port
          caution_of     the caution there
Not here  requirements (the other modules of this folder)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import Stake
from trialfit.handbook.ports.port_ends import End, Gender, Seal, make_end, read_end
from trialfit.handbook.ports.port_threads import System, read_thread
from trialfit.parts import Fitting, Line, Port, Sender

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.handbook.ports.port_threads import Thread
    from trialfit.parts import Part

_SAFETY = ("fuel", "fuel vapour", "brake fluid", "steering fluid")
_CAUTIONS = {
    "brake fluid": "brakes: use fittings made for brakes only, no sealant, and inspect every joint under full pedal "
    "force; the maker's manual and the certifier decide",
    "fuel": "fuel burns: relieve the pressure first, no sparks and no heat nearby, look for leaks before starting",
    "fuel vapour": "fuel vapour burns: no sparks and no heat nearby",
    "coolant": "hot coolant scalds: never open it under pressure",
}


@dataclass(frozen=True)
class Offered:
    """Two ends that are screwed together: who holds each, and the sealant on the thread (None: missing)."""

    holder: str
    end: End
    other: str
    other_end: End
    sealant: str | None


@dataclass(frozen=True)
class RunOfPieces:
    """What is on a port: pieces in order, joints whose ends are known, what is missing, and the name of an open end."""

    pieces: tuple[Part, ...]
    offered: tuple[Offered, ...]
    missing: dict[str, str]
    open_at: str
    """"" where the run ends closed."""
    closed_by: str


def stake_of(port: Port) -> Stake:
    """Fuel, brakes and steering are a matter of safety; the others of durability."""
    return Stake.safety if port.medium in _SAFETY else Stake.durability


def caution_of(port: Port) -> str:
    """The caution of a port."""
    return _CAUTIONS.get(port.medium or "", "")


def port_end(port: Port) -> End:
    """The end of a port. Raises MissingFact where the thread, or the way it seals, is not written."""
    if port.thread is None:
        raise MissingFact({f"{port.name}.thread": Port.thread.says})
    try:
        return make_end(port.thread, Gender(port.gender or "female"), Seal(port.sealing) if port.sealing else None)
    except ValueError:
        raise MissingFact({f"{port.name}.sealing": Port.sealing.says}) from None


def port_thread(port: Port) -> Thread:
    """The thread of a port. Raises MissingFact."""
    thread = port_end(port).thread
    if thread is None:
        raise MissingFact({f"{port.name}.thread": Port.thread.says})
    return thread


def wedging_thread(port: Port) -> Thread:
    """The thread of what is screwed in: the tapered one where a parallel metric hole seals in the thread. Raises MissingFact."""
    end = port_end(port)
    thread = port_thread(port)
    if end.seal is Seal.thread and thread.system is System.metric:
        return read_thread(f"{thread.designation} keg")
    return thread


def material_of(port: Port) -> str:
    """What the thread is cut into. Raises MissingFact."""
    if port.material is None:
        raise MissingFact({f"{port.name}.material": Port.material.says})
    return port.material


def line_to(build: Build, port: Port) -> Line | None:
    """The line whose far end is screwed into a port."""
    return next((line for line in build.all(Line) if build.named(line.far_port) is port), None)


def run_from(build: Build, port: Port) -> RunOfPieces:
    """The run that begins at a port; from the far end of a line it holds that joint alone."""
    missing: dict[str, str] = {}
    offered: list[Offered] = []
    pieces: list[Part] = []
    arriving = line_to(build, port)
    here = _end_of_port(port, missing)
    if arriving is not None and port.fitted is None and port.plug is None:
        _offer(offered, (port.name, here), (arriving.name, _read(arriving, "other_end", missing)), arriving.sealant)
        return RunOfPieces((arriving,), tuple(offered), missing, "", arriving.name)
    holder: Port | Fitting = port
    while True:
        part = build.named(holder.fitted)
        if part is None:
            closed = holder.plug is not None
            if holder.plug is not None:
                _offer(
                    offered, (holder.name, here), (f"the plug in {holder.name}", read_end(holder.plug)), holder.sealant
                )
            return RunOfPieces(
                tuple(pieces), tuple(offered), missing, "" if closed else holder.name, "its plug" if closed else ""
            )
        pieces.append(part)
        _offer(offered, (holder.name, here), (part.name, _end_of_part(holder, part, missing)), holder.sealant)
        if not isinstance(part, Fitting):
            return _ended(build, part, pieces, offered, missing)
        here = _read(part, "other_end", missing)
        holder = part


def _ended(
    build: Build, part: Part, pieces: list[Part], offered: list[Offered], missing: dict[str, str]
) -> RunOfPieces:
    loose = isinstance(part, Line) and build.named(part.far_port) is None
    return RunOfPieces(tuple(pieces), tuple(offered), missing, part.name if loose else "", "" if loose else part.name)


def _end_of_port(port: Port, missing: dict[str, str]) -> End | None:
    try:
        return port_end(port)
    except MissingFact as wanted:
        missing.update(wanted.wanted)
        return None


def _end_of_part(holder: Port | Fitting, part: Part, missing: dict[str, str]) -> End | None:
    if isinstance(part, Fitting | Line) or (isinstance(part, Sender) and part.end is not None):
        return _read(part, "end", missing)
    said = holder.fitted_end
    if said is None:
        missing[f"{holder.name}.fitted_end"] = Port.fitted_end.says
        return None
    return read_end(said)


def _read(part: Fitting | Line | Sender, which: str, missing: dict[str, str]) -> End | None:
    said: str | None = getattr(part, which)
    if said is None:
        missing[f"{part.name}.{which}"] = getattr(type(part), which).says
        return None
    return read_end(said)


def _offer(
    offered: list[Offered], one: tuple[str, End | None], other: tuple[str, End | None], sealant: str | None
) -> None:
    if one[1] is not None and other[1] is not None:
        offered.append(Offered(one[0], one[1], other[0], other[1], sealant))
