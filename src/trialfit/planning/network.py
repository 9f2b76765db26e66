"""The jobs of one build, in the order that their prerequisites set.

Answers   network_of    the network: the usual jobs that this build has, the builder's own beside them
          Network       jobs, loose ends, gates, the order between them
Not here  what has been done (states.py), what may be done now (ready.py), dates (problem.py)

A usual job that this build does not have passes its prerequisites on to the jobs that need it. A gate's own job comes
after every job that must precede the gate, and after all that closes what must not pass it; what closes a loose end
comes after the job that leaves it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from trialfit.book.conditions import holds
from trialfit.book.problems import BadInput, Located
from trialfit.parts import KINDS
from trialfit.parts.reading import nearest
from trialfit.planning.cycles import cycle_of, in_order
from trialfit.planning.job import Gate, Job, LooseEnd, Need, NeedKind
from trialfit.planning.own_jobs import ends_of, with_own
from trialfit.planning.templates import (
    Template,
    gates,
    hours_of,
    loose_ends,
    needs_of,
    templates,
    waits_of,
)

if TYPE_CHECKING:
    from collections.abc import Hashable, Mapping

    from trialfit.book.build import Build


@dataclass(frozen=True)
class Network:
    """Jobs by id in an order in which they could be done, loose ends and gates by id, what must come before each job."""

    jobs: Mapping[str, Job]
    ends: Mapping[str, LooseEnd]
    gates: Mapping[str, Gate]
    before: Mapping[str, tuple[str, ...]]

    @cached_property
    def after(self) -> dict[str, tuple[str, ...]]:
        """The jobs that need each job directly."""
        found: dict[str, list[str]] = {name: [] for name in self.jobs}
        for name, needed in self.before.items():
            for one in needed:
                found[one].append(name)
        return {name: tuple(those) for name, those in found.items()}

    @cached_property
    def gates_behind(self) -> dict[str, tuple[str, ...]]:
        """The gates that each job lies behind: its own prerequisites, and those of all jobs before it."""
        found: dict[str, frozenset[str]] = {}
        for name, job in self.jobs.items():
            own = frozenset(job.needed(NeedKind.gate))
            found[name] = own.union(*(found[one] for one in self.before[name]))
        return {name: tuple(gate for gate in self.gates if gate in passed) for name, passed in found.items()}

    @cached_property
    def closed_by(self) -> dict[str, tuple[str, ...]]:
        """The loose ends that each job closes."""
        found: dict[str, list[str]] = {}
        for end in self.ends.values():
            for job in end.closed_by:
                found.setdefault(job, []).append(end.id)
        return {name: tuple(those) for name, those in found.items()}

    @cached_property
    def undoes(self) -> dict[str, tuple[str, ...]]:
        """The jobs that each job undoes when it is taken up again."""
        found: dict[str, list[str]] = {}
        for job in self.jobs.values():
            for other in job.undone_by:
                found.setdefault(other, []).append(job.id)
        return {name: tuple(those) for name, those in found.items()}

    def from_gate(self, gate: str) -> tuple[str, ...]:
        """A gate and those after it: what blocks the first blocks them too."""
        names = tuple(self.gates)
        return names[names.index(gate) :] if gate in names else ()

    def up_to(self, gate: str) -> tuple[str, ...]:
        """A gate and those before it."""
        names = tuple(self.gates)
        return names[: names.index(gate) + 1]


def network_of(build: Build, written: Mapping[tuple[str, str], int] | None = None, where: str = "") -> Network:
    """The network of a build. Raises BadInput for jobs that cannot be read, and for a circle.

    `written` ranks the builder's own links (job, prerequisite) by when they were written; else their order in the build
    counts. A circle is shown with the link that was written last.

    Builds that differ in nothing that a job, loose end or gate asks about have the same network: the newest few are kept.
    """
    key = (_asked_of(build), tuple(sorted((written or {}).items())), where or build.name)
    if key not in _KNOWN:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[key] = _made(build, written, where)
    return _KNOWN[key]


_MOST_KNOWN = 16
_KNOWN: dict[Hashable, Network] = {}


def _asked_of(build: Build) -> Hashable:
    """All that a network depends on: the builder's own jobs, which conditions hold, the parts that have jobs of their own."""
    conditions = dict.fromkeys(
        [
            *(one.only_with for one in templates()),
            *(words for words, _ in loose_ends()),
            *(words for words, _ in gates()),
        ]
    )
    kinds = dict.fromkeys(one.per for one in templates() if one.per)
    own = tuple((name, tuple(entries.items())) for name, entries in build.document.jobs.items())
    parts = tuple(tuple(part.name for part in build.all(KINDS[kind])) for kind in kinds)
    return own, tuple(holds(build, words) for words in conditions), parts


def _made(build: Build, written: Mapping[tuple[str, str], int] | None, where: str) -> Network:
    making = _Making(build)
    jobs, ends, kept_gates = making.all()
    before = _before(jobs, ends, kept_gates)
    order = in_order(before)
    place = where or build.name or "the build"
    if making.problems:
        raise BadInput(place, making.problems)
    if len(order) < len(jobs):
        raise BadInput(place, [cycle_of(before, set(before) - set(order), _ranks(build, jobs, written))])
    return Network({name: jobs[name] for name in order}, ends, kept_gates, before)


class _Making:
    """The data of one build while its network is put together."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self.problems: list[Located] = []
        self.instances: dict[str, tuple[str, ...]] = {}
        self.handed_on: dict[str, tuple[Need, ...]] = {}
        kept = [gate for words, gate in gates() if holds(build, words)]
        self.gates = {gate.id: gate for gate in kept}
        self.gate_now = self._gates_now()

    def all(self) -> tuple[dict[str, Job], dict[str, LooseEnd], dict[str, Gate]]:
        jobs: dict[str, Job] = {}
        for template in templates():
            made = self._instances(template)
            jobs.update({job.id: job for job in made})
            self.instances[template.id] = tuple(job.id for job in made)
            if not made:
                self.handed_on[template.id] = needs_of(template.row["needs"].split())
        ends = self._usual_ends(jobs)
        leaves: dict[str, list[str]] = {}
        for end in ends.values():
            leaves.setdefault(end.job, []).append(end.id)
        jobs = {name: replace(job, leaves=tuple(leaves.get(name, ()))) for name, job in jobs.items()}
        self._own(jobs, ends)
        jobs = {name: self._resolved(job, jobs) for name, job in jobs.items()}
        ends = {name: self._end_resolved(end, jobs) for name, end in ends.items() if end.job in jobs}
        kept = {name: replace(gate, job=gate.job if gate.job in jobs else "") for name, gate in self.gates.items()}
        return jobs, ends, kept

    def _gates_now(self) -> dict[str, str]:
        """For every usual gate the one that replaces it: itself, or the next that this build has."""
        names = [gate.id for _, gate in gates()]
        return {
            name: next((later for later in names[place:] if later in self.gates), "")
            for place, name in enumerate(names)
        }

    def _instances(self, template: Template) -> list[Job]:
        if not holds(self.build, template.only_with):
            return []
        if not template.per:
            return [_job(template.id, "", template.row)]
        parts = [part.name for part in self.build.all(KINDS[template.per])]
        return [_job(f"{template.id}-{part}", part, template.row) for part in parts]

    def _usual_ends(self, jobs: Mapping[str, Job]) -> dict[str, LooseEnd]:
        ends = {}
        for words, end in loose_ends():
            for opener in self.instances.get(end.job, ()) if holds(self.build, words) else ():
                part = jobs[opener].part
                name = f"{end.id}-{part}" if part else end.id
                ends[name] = replace(end, id=name, job=opener)
        return ends

    def _own(self, jobs: dict[str, Job], ends: dict[str, LooseEnd]) -> None:
        for name, entries in self.build.document.jobs.items():
            if "skip" in entries:
                self._skip(name, str(entries["skip"]), jobs)
                continue
            jobs[name] = with_own(jobs.get(name), name, entries, self.problems)
            if "leaves" in entries:
                for gone in [end.id for end in ends.values() if end.job == name]:
                    del ends[gone]
                ends.update({end.id: end for end in ends_of(name, entries, self.problems)})

    def _skip(self, name: str, reason: str, jobs: dict[str, Job]) -> None:
        if not reason.strip():
            says = 'is empty: expected the reason, for example "done by the machine shop"'
            self.problems.append(Located(f"job.{name}.skip", says))
        if name in jobs:
            self.handed_on[name] = jobs.pop(name).needs
        elif name not in self.instances and name.partition("-")[0] not in self.instances:
            self.problems.append(Located(f"job.{name}", f"is skipped, but is not a usual job: {nearest(name, jobs)}"))

    def _resolved(self, job: Job, jobs: Mapping[str, Job]) -> Job:
        needs: dict[Need, None] = {}
        for need in job.needs:
            needs.update(dict.fromkeys(self._need(need, job, jobs, set())))
        undone = tuple(name for one in job.undone_by for name in self._named(one, job.part, jobs))
        return replace(job, needs=tuple(needs), undone_by=undone, gate=self._gate(job))

    def _need(self, need: Need, job: Job, jobs: Mapping[str, Job], seen: set[str]) -> list[Need]:
        if need.kind is NeedKind.gate:
            if need.name not in self.gate_now:
                self._unknown(job, f'names the gate "{need.name}": {nearest(need.name, self.gate_now)}')
            return [need] if need.name in self.gates else []
        if need.kind is not NeedKind.job:
            return [need]
        named = self._named(need.name, job.part, jobs)
        if named:
            return [Need(NeedKind.job, name) for name in named]
        if need.name in self.handed_on:
            if need.name in seen:
                return []
            seen.add(need.name)
            return [one for other in self.handed_on[need.name] if other.kind in (NeedKind.job, NeedKind.gate)
                    for one in self._need(other, job, jobs, seen)]  # fmt: skip
        if need.name not in self.instances:
            self._unknown(job, f'names "{need.name}", which is not a job: {nearest(need.name, jobs)}')
        return []

    def _named(self, name: str, part: str, jobs: Mapping[str, Job]) -> tuple[str, ...]:
        """The jobs that a name stands for: itself, the one for the same part, or those for all parts."""
        if name in jobs:
            return (name,)
        those = tuple(one for one in self.instances.get(name, ()) if one in jobs)
        same = tuple(one for one in those if part and jobs[one].part == part)
        return same or those

    def _gate(self, job: Job) -> str:
        if job.gate and job.gate not in self.gate_now:
            says = f'is "{job.gate}": {nearest(job.gate, self.gate_now)}'
            self.problems.append(Located(f"job.{job.id}.gate", says))
        return self.gate_now.get(job.gate, "")

    def _end_resolved(self, end: LooseEnd, jobs: Mapping[str, Job]) -> LooseEnd:
        if end.gate not in self.gate_now:
            says = f'names the gate "{end.gate}": {nearest(end.gate, self.gate_now)}'
            self.problems.append(Located(f"job.{end.job}.leaves", says))
        part = jobs[end.job].part
        closers = tuple(name for one in end.closed_by for name in self._named(one, part, jobs))
        known = {*self.instances, *self.handed_on}
        for one in end.closed_by:
            if not self._named(one, part, jobs) and one not in known:
                self.problems.append(
                    Located(f"job.{end.job}.leaves", f'names "{one}", which is not a job: {nearest(one, jobs)}')
                )
        return replace(end, gate=self.gate_now.get(end.gate, ""), closed_by=closers)

    def _unknown(self, job: Job, says: str) -> None:
        self.problems.append(Located(f"job.{job.id}.needs", says))


def _job(name: str, part: str, row: Mapping[str, str]) -> Job:
    return Job(
        id=name,
        title=f"{row['title']} ({part})" if part else row["title"],
        hours=hours_of(f"{row['low [h]']}/{row['likely [h]']}/{row['high [h]']}"),
        needs=needs_of(row["needs"].split()),
        readings=tuple(row["readings"].split()),
        gate=row["gate"],
        people=int(row["people"]),
        uses=tuple(row["uses"].split()),
        is_loud=row["loud"] == "yes",
        waits=waits_of(row["waits"]),
        tools=row["tools"],
        sheets=row["sheets"],
        undone_by=tuple(row["undone by"].split()),
        cautions=row["cautions"],
        part=part,
    )


def _before(
    jobs: Mapping[str, Job], ends: Mapping[str, LooseEnd], kept: Mapping[str, Gate]
) -> dict[str, tuple[str, ...]]:
    before = {name: dict.fromkeys(job.jobs_needed) for name, job in jobs.items()}
    for end in ends.values():
        for closer in end.closed_by:
            if closer != end.job:
                before[closer][end.job] = None
    reached: dict[str, None] = {}
    for gate in kept.values():
        reached |= {name: None for name, job in jobs.items() if job.gate == gate.id}
        reached |= {name: None for end in ends.values() if end.gate == gate.id for name in end.closed_by}
        if gate.job:
            before[gate.job] |= {name: None for name in reached if name != gate.job}
    return {name: tuple(those) for name, those in before.items()}


def _ranks(
    build: Build, jobs: Mapping[str, Job], written: Mapping[tuple[str, str], int] | None
) -> dict[tuple[str, str], int]:
    """The links by when they were written: usual ones first, then the builder's in their order, unless told better."""
    own: dict[tuple[str, str], int] = {}
    for name in build.document.jobs:
        for needed in jobs[name].jobs_needed if name in jobs and "needs" in build.document.jobs[name] else ():
            own[name, needed] = len(own) + 1
    return own if written is None else {link: written.get(link, rank) for link, rank in own.items()}
