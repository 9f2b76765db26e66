"""`trialfit start`, `finish`, `loose` and `gate`: work done, loose ends open, gates to pass."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BookFile, BuildFile, Device, Json, Note  # noqa: TC001 - read when the command is run
from trialfit.cli.sites import Although, Because, When  # noqa: TC001 - read when the command is run

if TYPE_CHECKING:
    from trialfit.planning.job import LooseEnd
    from trialfit.planning.site import Site
    from trialfit.planning.work import Event

JobId = Annotated[str, Parameter(help="id of the job, as jobs prints it")]
Again = Annotated[
    bool, Parameter(negative="", show_default=False, help="take up a finished job again; --because gives the reason")
]
PutDown = Annotated[bool, Parameter(negative="", show_default=False, help="put it down again, as not begun")]
Spent = Annotated[float | None, Parameter(help="hours spent on it")]
Left = Annotated[
    list[str] | None,
    Parameter(
        consume_multiple=False,
        negative="",
        help='a loose end besides the usual ones, "plug in the spare port @ first-fire"; may be given several times',
    ),
]
Without = Annotated[
    list[str] | None,
    Parameter(consume_multiple=False, negative="", help="id of a usual loose end that it did not leave; or all"),
]
WaitOver = Annotated[
    bool, Parameter(negative="", show_default=False, help="only record that the wait after it is over: arrived, or dry")
]
Add = Annotated[str, Parameter(show_default=False, help='write down another one, "hose tied up @ first-roll"')]
Close = Annotated[str, Parameter(show_default=False, help="close one, by its id; with --by or --because")]
By = Annotated[str, Parameter(show_default=False, help="the reading or finding that closes it")]
ClosedToo = Annotated[bool, Parameter(name="--all", negative="", show_default=False, help="also those that are closed")]
GateId = Annotated[str, Parameter(help="first-crank, first-fire, first-roll or road")]
Pass = Annotated[bool, Parameter(name="--pass", negative="", show_default=False, help="pass it, and record that")]


def start(
    book: BookFile,
    job: JobId,
    /,
    *,
    again: Again = False,
    put_down: PutDown = False,
    because: Because = "",
    although: Although = "",
    when: When = "",
    note: Note = "",
    device: Device = "",
    json: Json = False,
) -> int:
    """Takes a job in hand.

    It is refused while something blocks the job, and that is named. With --again a finished job is taken up again:
    everything that this undoes, such as torque records, fluids and leak tests, is opened again in the same change, and
    the gates concerned must be passed again.
    """
    from trialfit.cli.sites import do
    from trialfit.planning import doing

    def make(site: Site) -> Event:
        if put_down:
            return doing.put_down(site, job)
        return doing.start(site, job, again=again, because=because, although=although)

    return do(book, make, when=when, device=device, note=note, as_json=json)


def finish(
    book: BookFile,
    job: JobId,
    /,
    *,
    hours: Spent = None,
    left: Left = None,
    without: Without = None,
    wait_over: WaitOver = False,
    although: Although = "",
    when: When = "",
    note: Note = "",
    device: Device = "",
    json: Json = False,
) -> int:
    """Writes down that a job is done, with the hours it took and the loose ends it left.

    At a terminal you are asked for each usual loose end; otherwise all count as left, except those named by --without.
    They are opened in the same change that finishes the job, and those that the job closes are closed in it. Leave a
    usual loose end out only if you have looked and it is not there.
    """
    from trialfit.cli.sites import do
    from trialfit.planning import doing

    def make(site: Site) -> Event:
        if wait_over:
            return doing.wait_over(site, job)
        ends = _ends(site, job, left or [], without or [], asks=not json and sys.stdin.isatty())
        return doing.finish(site, job, hours=hours, left=ends, although=although)

    return do(book, make, when=when, device=device, note=note, as_json=json)


def loose(
    build: BuildFile,
    /,
    *,
    add: Add = "",
    close: Close = "",
    by: By = "",
    because: Because = "",
    closed_too: ClosedToo = False,
    when: When = "",
    note: Note = "",
    device: Device = "",
    json: Json = False,
) -> int:
    """Lists every loose end: where it is, since when, what closes it, the gate it blocks.

    --add writes down one more. --close closes one: name with --by the reading or finding that closes it, which must be
    within its limits; to close it by hand, give the reason with --because. Both need a book.
    """
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.pages.work import loose_page
    from trialfit.cli.screen import answer
    from trialfit.cli.sites import do, read_site
    from trialfit.planning import doing
    from trialfit.planning.reports import loose_report

    if add and close:
        raise BadInput("trialfit loose", [Located("", "expected --add or --close, one of the two")])
    if add:
        return do(build, lambda site: doing.leave(site, add), when=when, device=device, note=note, as_json=json)
    if close:
        return do(
            build,
            lambda site: doing.close(site, close, by=by, because=because),
            when=when,
            device=device,
            note=note,
            as_json=json,
        )
    report = loose_report(read_site(build, when, with_findings=False)[0], closed_too=closed_too)
    answer(report, loose_page(report), as_json=json)
    return 0


def gate(
    build: BuildFile,
    gate: GateId,
    /,
    *,
    passes: Pass = False,
    although: Although = "",
    when: When = "",
    note: Note = "",
    device: Device = "",
    json: Json = False,
) -> int:
    """Shows whether a gate may be passed, and what blocks it; --pass passes it and records that.

    A gate is blocked by open loose ends, unfinished jobs, missing readings, and findings that do not hold, depending
    on the stake. To pass it anyway, give --although REASON, which is kept in the journal. A free gate says only that
    everything written down is closed: it says nothing about safety or law. The exit code is 1 when it may not be
    passed.
    """
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.pages.work import gate_page
    from trialfit.cli.screen import answer
    from trialfit.cli.sites import do, read_site
    from trialfit.parts.reading import nearest
    from trialfit.planning import doing
    from trialfit.planning.reports import gate_report

    if passes:
        return do(
            build,
            lambda site: doing.pass_gate(site, gate, although=although),
            when=when,
            device=device,
            note=note,
            as_json=json,
        )
    site, _ = read_site(build, when)
    if gate not in site.network.gates:
        says = f'unknown gate "{gate}": {nearest(gate, site.network.gates)}'
        raise BadInput("trialfit gate", [Located("", says)])
    report = gate_report(site, gate)
    answer(report, gate_page(report, build), as_json=json)
    return int(not report.may_pass and not report.is_passed)


def _ends(site: Site, job: str, left: list[str], without: list[str], *, asks: bool) -> tuple[LooseEnd, ...]:
    """The loose ends that a job left: the usual ones, asked for at a terminal, and those typed."""
    from trialfit.book.problems import BadInput, Located
    from trialfit.parts.reading import nearest
    from trialfit.planning.doing import own_end, usual_ends

    usual = usual_ends(site, job)
    unknown = [name for name in without if name != "all" and name not in {end.id for end in usual}]
    if unknown:
        known = [*(end.id for end in usual), "all"]
        says = f'"{unknown[0]}" is not a loose end that {job} usually leaves: {nearest(unknown[0], known)}'
        raise BadInput("trialfit finish", [Located("", says)])
    kept = [end for end in usual if "all" not in without and end.id not in without]
    if asks:
        kept = [end for end in kept if _is_left(end)]
    return (*kept, *(own_end(site, text, job) for text in left))


def _is_left(end: LooseEnd) -> bool:
    """Asks for one loose end; only a clear no leaves it out."""
    sys.stderr.write(f"Is it left like this: {end.says} ({end.where or end.job})? It must not pass {end.gate}. [Y/n] ")
    sys.stderr.flush()
    return sys.stdin.readline().strip().casefold() not in ("n", "no")
