"""The order of the tasks at everything that exists once, as lines of who follows whom, with what follows from it.

Answers   Lines         the lines of a schedule; its tasks' earliest starts, and latest ones for a given end
          Lines.chain   one chain of tasks that sets the end
          Lines.moved   the end there would be about, if a stretch of a line stood in another order
          Lines.put     puts it in that order
Not here  which stretch is worth it (swapping.py); lines for what there is more than one of (schedule.py)
Sources   disjunctive graph of a shop, heads and tails: scheduling textbooks, from memory
"""

from __future__ import annotations

from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import random
    from collections.abc import Mapping, Sequence

    from trialfit.planning.problem import Problem

    Table = list[int] | None
    Stretch = list[int]


def exists_once(problem: Problem) -> bool:
    """Whether everything that several tasks use exists once and is never missing: then its order is all there is to choose."""
    used = [name for name in problem.capacity if sum(name in task.uses for task in problem.tasks) > 1]
    return bool(used) and all(problem.capacity[name] == 1 and name not in problem.missing for name in used)


class Lines:
    """Lines of a schedule. `order` holds the tasks so that each comes after all it follows; `head` their earliest starts.

    `late` is the latest start of each that still lets all end by `aim`: `head` minus `late` says how far an end lies behind.
    Hot loops: the lists are read directly.
    """

    def __init__(self, problem: Problem, starts: Sequence[int]) -> None:
        count = len(problem.tasks)
        self.problem, self.count = problem, count
        self.length = [task.length for task in problem.tasks]
        self.links_in = [[(one.before, self._table(one.wait)) for one in links] for links in problem.before]
        self.links_out = [[(one.after, self._inverse(one.wait)) for one in links] for links in problem.after]
        self._make_lines(problem)
        self.order: list[int] = []
        self.place = [0] * count
        self.head, self.late = [0] * count, [0] * count
        self.end = self.aim = 0
        self.load(sorted(range(count), key=lambda one: (starts[one], problem.order.index(one))))

    # --- tables: on the clock of slots ---

    def _table(self, wait: float) -> Table:
        """For each end the first slot after a wait; None where there is none."""
        if not wait:
            return None
        table = self.problem.table(wait).tolist()
        return [*table, *[len(self.problem.slots.clock)] * (max(self.length) + 1)]

    def _inverse(self, wait: float) -> Table:
        """For each slot the latest end before a wait that is over by then; None where there is no wait."""
        if not wait:
            return None
        slots = np.arange(len(self.problem.slots.clock) + 1)
        return [max(0, one) for one in (np.searchsorted(self.problem.table(wait), slots, side="right") - 1).tolist()]

    def _make_lines(self, problem: Problem) -> None:
        users = {
            name: {number for number, task in enumerate(problem.tasks) if name in task.uses}
            for name in problem.capacity
        }
        kept: list[str] = []
        for name in sorted(users, key=lambda one: -len(users[one])):
            held = any(name in problem.tasks[number].holds for number in users[name])
            if len(users[name]) > 1 and (held or not any(users[name] <= users[other] for other in kept)):
                kept.append(name)
        self.lines = range(len(kept))
        self.on = [[line for line in self.lines if number in users[kept[line]]] for number in range(self.count)]
        self.before = [[-1] * len(kept) for _ in range(self.count)]
        self.after = [[-1] * len(kept) for _ in range(self.count)]
        holds = [[task.holds.get(name, 0.0) for name in kept] for task in problem.tasks]
        self.hold = [[self._table(one) for one in row] for row in holds]
        self.hold_back = [[self._inverse(one) for one in row] for row in holds]
        count = len(problem.slots.clock)
        first: dict[tuple[int, int], Table] = {}
        last: dict[tuple[int, int], Table] = {}
        for task in problem.tasks:
            key = (task.kind, task.length)
            if key not in first:
                places = problem.slots.places(*key)
                if len(places) == count - task.length + 1:
                    first[key] = last[key] = None
                    continue
                slots = np.arange(count + max(self.length) + 1)
                found = np.append(places, count)[np.searchsorted(places, slots)]
                first[key] = found.tolist()
                last[key] = np.append(places, -1)[
                    np.searchsorted(places, slots - task.length, side="right") - 1
                ].tolist()
        self.first = [first[task.kind, task.length] for task in problem.tasks]
        self.last = [last[task.kind, task.length] for task in problem.tasks]
        self.release = [task.release for task in problem.tasks]

    # --- the whole order ---

    def load(self, order: Sequence[int]) -> None:
        """Takes a whole order; everything after it is worked out anew, the latest starts for the end that it has."""
        last = [-1] * len(self.lines)
        for place, number in enumerate(order):
            self.place[number] = place
            for line in self.on[number]:
                giver = last[line]
                self.before[number][line] = giver
                if giver >= 0:
                    self.after[giver][line] = number
                last[line] = number
                self.after[number][line] = -1
        self.order = list(order)
        self._forward(0)
        self.aim = self.end
        self._backward(self.count - 1)

    def by_start(self) -> list[int]:
        """The tasks by their earliest starts: an order that says the same."""
        return sorted(range(self.count), key=lambda one: (self.head[one], self.place[one]))

    def in_order(self, wish: Mapping[int, float]) -> list[int]:
        """The tasks by a wish for each, as far as the links let them."""
        left = [len(links) for links in self.links_in]
        free = [(wish[number], number) for number, count in enumerate(left) if not count]
        heapify(free)
        order = []
        while free:
            number = heappop(free)[1]
            order.append(number)
            for other, _ in self.links_out[number]:
                left[other] -= 1
                if not left[other]:
                    heappush(free, (wish[other], other))
        return order

    # --- earliest and latest starts ---

    def _forward(self, place: int) -> None:
        head, length, before, hold = self.head, self.length, self.before, self.hold
        for number in self.order[place:]:
            begin = self.release[number]
            for other, table in self.links_in[number]:
                end = head[other] + length[other]
                if table:
                    end = table[end]
                if end > begin:  # noqa: PLR1730 - the hottest lines there are: a call of max costs too much
                    begin = end
            row = before[number]
            for line in self.on[number]:
                other = row[line]
                if other >= 0:
                    end = head[other] + length[other]
                    table = hold[other][line]
                    if table:
                        end = table[end]
                    if end > begin:  # noqa: PLR1730 - as above
                        begin = end
            first = self.first[number]
            head[number] = first[begin] if first else begin
        goal = self.problem.goal
        self.end = max(map(int.__add__, head, length)) if goal is None else head[goal] + length[goal]

    def _backward(self, place: int) -> None:
        late, length, after = self.late, self.length, self.after
        goal, last_slot = self.problem.goal, len(self.problem.slots.clock)
        for number in reversed(self.order[: place + 1]):
            end = self.aim if goal is None or number == goal else last_slot
            for other, table in self.links_out[number]:
                by = late[other]
                if table and by >= 0:
                    by = table[by]
                if by < end:  # noqa: PLR1730 - as in _forward
                    end = by
            row = after[number]
            for line in self.on[number]:
                other = row[line]
                if other >= 0:
                    by = late[other]
                    table = self.hold_back[number][line]
                    if table and by >= 0:
                        by = table[by]
                    if by < end:  # noqa: PLR1730 - as in _forward
                        end = by
            last = self.last[number]
            late[number] = last[end] if last and end >= 0 else end - length[number]

    # --- the chain, and what a change would do ---

    def ready_after(self, other: int, table: Table) -> int:
        """When what follows a task may begin."""
        end = self.head[other] + self.length[other]
        return table[end] if table else end

    def chain(self, rng: random.Random) -> list[int]:
        """Back from the end, each time to one of those that made a task begin so late; then turned round."""
        goal = self.problem.goal
        if goal is None:
            goal = rng.choice([one for one in range(self.count) if self.head[one] + self.length[one] == self.end])
        chain, number = [goal], goal
        while True:
            ends = [(self.ready_after(other, table), other) for other, table in self.links_in[number]]
            for line in self.on[number]:
                other = self.before[number][line]
                if other >= 0:
                    ends.append((self.ready_after(other, self.hold[other][line]), other))
            latest = max(ends, default=(0, -1))[0]
            if latest <= self.release[number]:
                return chain[::-1]
            causes = [other for end, other in ends if end == latest]
            number = causes[0] if len(causes) == 1 else rng.choice(causes)
            chain.append(number)

    def moved(self, line: int, old: Stretch, new: Stretch) -> int:
        """About the end there would be: exact for the tasks of the stretch if nothing before it moved."""
        head, late, length = self.head, self.late, self.length
        giver, taker = self.before[old[0]][line], self.after[old[-1]][line]
        begin, heads = (self.ready_after(giver, self.hold[giver][line]) if giver >= 0 else 0), []
        for number in new:
            begin = max(begin, self.release[number])
            for other, table in self.links_in[number]:
                end = head[other] + length[other]
                begin = max(begin, table[end] if table else end)
            for own in self.on[number]:
                other = self.before[number][own]
                if own != line and other >= 0 and other not in old:
                    begin = max(begin, self.ready_after(other, self.hold[other][own]))
            first = self.first[number]
            begin = first[begin] if first else begin
            heads.append(begin)
            table = self.hold[number][line]
            begin += length[number]
            begin = table[begin] if table else begin
        by, worst = (late[taker] if taker >= 0 else self.aim), -len(self.problem.slots.clock)
        for number, begin in zip(reversed(new), reversed(heads), strict=True):
            table = self.hold_back[number][line]
            end = table[by] if table and by >= 0 else by
            for other, table in self.links_out[number]:
                limit = late[other]
                end = min(end, table[limit] if table and limit >= 0 else limit)
            last = self.last[number]
            by = last[end] if last and end >= 0 else end - length[number]
            worst = max(worst, begin - by)
        return self.aim + worst

    def put(self, line: int, old: Stretch, new: Stretch) -> None:
        """Puts a stretch of a line in another order, and the same tasks on other lines too where they stand side by side."""
        for own in self.lines:
            inside = set(old) if own == line else {one for one in old if own in self.on[one]}
            for run in self._runs(own, old, inside):
                self._put(own, run, [one for one in new if one in run])
        low = min(self.place[number] for number in old)
        high = max(self.place[number] for number in old)
        for place, number in enumerate(self._sorted(self.order[low : high + 1]), low):
            self.order[place] = number
            self.place[number] = place
        self._forward(low)
        self._backward(high)

    def _runs(self, line: int, old: Stretch, inside: set[int]) -> list[Stretch]:
        """The tasks of a stretch that stand side by side on a line."""
        runs: list[Stretch] = []
        for number in old:
            if number in inside:
                if runs and self.after[runs[-1][-1]][line] == number:
                    runs[-1].append(number)
                else:
                    runs.append([number])
        return [run for run in runs if len(run) > 1]

    def _put(self, line: int, old: Stretch, new: Stretch) -> None:
        giver, taker = self.before[old[0]][line], self.after[old[-1]][line]
        for number in new:
            self.before[number][line] = giver
            if giver >= 0:
                self.after[giver][line] = number
            giver = number
        self.after[giver][line] = taker
        if taker >= 0:
            self.before[taker][line] = giver

    def _sorted(self, stretch: Stretch) -> Stretch:
        """A stretch of the whole order, sorted anew after a change of the lines within it."""
        inside = set(stretch)
        left = {}
        for number in stretch:
            left[number] = sum(other in inside for other, _ in self.links_in[number])
            left[number] += sum(self.before[number][line] in inside for line in self.on[number])
        found = [number for number in stretch if not left[number]]
        for number in found:  # grows while it is walked
            followers = [other for other, _ in self.links_out[number]]
            followers += [self.after[number][line] for line in self.on[number]]
            for other in followers:
                if other in inside:
                    left[other] -= 1
                    if not left[other]:
                        found.append(other)
        return found
