"""Schedules against published job-shop instances; the source stands beside each."""

from __future__ import annotations

import pytest
from thorough import some

from trialfit.planning.problem import Link, Problem, Slots, Task, faults
from trialfit.planning.schedule import schedule

# Muth and Thompson, Industrial Scheduling, 1963: the instance of 6 jobs on 6 machines, each step as machine-length.
SIX = """
2-1 0-3 1-6 3-7 5-3 4-6
1-8 2-5 4-10 5-10 0-10 3-4
2-5 3-4 5-8 0-9 1-1 4-7
1-5 0-5 2-5 3-3 4-8 5-9
2-9 1-3 4-5 5-4 0-3 3-1
1-3 3-3 5-9 0-10 4-4 2-1
"""

# The same: the instance of 10 jobs on 10 machines.
TEN = """
0-29 1-78 2-9 3-36 4-49 5-11 6-62 7-56 8-44 9-21
0-43 2-90 4-75 9-11 3-69 1-28 6-46 5-46 7-72 8-30
1-91 0-85 3-39 2-74 8-90 5-10 7-12 6-89 9-45 4-33
1-81 2-95 0-71 4-99 6-9 8-52 7-85 3-98 9-22 5-43
2-14 0-6 1-22 5-61 3-26 4-69 8-21 7-49 9-72 6-53
2-84 1-2 5-52 3-95 8-48 9-72 0-47 6-65 4-6 7-25
1-46 0-37 3-61 2-13 6-32 5-21 9-32 8-89 7-30 4-55
2-31 0-86 1-46 5-74 4-32 6-88 8-19 9-48 7-36 3-79
0-76 1-69 3-76 5-51 2-85 9-11 6-40 7-89 4-26 8-74
1-85 0-13 2-61 6-7 8-64 9-76 5-47 3-52 4-90 7-45
"""


def job_shop(rows: str) -> Problem:
    """Each row a job: its steps one after the other, each on a machine of which there is one."""
    tasks, links = [], []
    for row in rows.strip().splitlines():
        for step, (machine, length) in enumerate(one.split("-") for one in row.split()):
            if step:
                links.append(Link(len(tasks) - 1, len(tasks)))
            tasks.append(Task(int(length), uses={machine: 1}))
    room = Slots.plain(sum(task.length for task in tasks) + 1)
    return Problem(
        tuple(tasks), tuple(links), room, dict.fromkeys(sorted({use for one in tasks for use in one.uses}), 1)
    )


# Proven least ends 55 and 930: Carlier and Pinson, Management Science 35, 1989 (from memory).
@pytest.mark.parametrize(("rows", "least"), some([(SIX, 55), (TEN, 930)]))
def test_the_least_end_is_found_and_proven(rows, least):
    """The effort is counted in steps, not in seconds."""
    problem = job_shop(rows)
    found = schedule(problem, effort=8)

    assert list(faults(problem, found.starts)) == []
    assert (found.end, found.is_proven) == (least, True)
