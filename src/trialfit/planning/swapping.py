"""A better order found by moving tasks along the chain that sets the end: a search of the builder's kind, without a solver.

Answers   better_order   starts of a schedule that ends no later, where everything exists once; else the schedule as it is
Not here  the lines of who follows whom (lines.py); a proof, and what there is more than one of (schedule.py)
Method    On the chain that sets the end, only a task moved to the begin or behind the end of its run of neighbours can help.
          The best such move is done even where it makes things worse, and is not undone for a while; when nothing has got
          better for long, two good orders are blended. Steps are counted, not seconds, and chance is seeded: the same
          problem gives the same order.
Sources   tabu search on the blocks of a critical path: job-shop scheduling literature, from memory
"""

from __future__ import annotations

import random
from time import perf_counter
from typing import TYPE_CHECKING

from trialfit.planning.lines import Lines, exists_once

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from threading import Event

    from trialfit.planning.problem import Problem

    Move = tuple[int, list[int], list[int]]  # line, stretch, stretch as it would stand

_PATIENCE = 300  # steps without a better end before two orders are blended
_KEPT = 4  # good orders kept
_DRIFTS = 6  # rounds that found nothing new before all but the best are given up
_NOISE = 0.15  # of all places, by which a kept order is shaken
_LONGEST = 12  # tasks in a stretch that is moved in: a person's whole year is one run
_LOOK = 64  # steps between two looks at the watch


def better_order(
    problem: Problem,
    starts: Sequence[int],
    steps: int,
    *,
    bound: int = 0,
    until: float | None = None,
    stop: Event | None = None,
    told: Callable[[int], None] | None = None,
) -> list[int]:
    """The best starts found in so many steps, or until a moment of perf_counter, the wish to stop, or the bound.

    They end no later than those given.
    """
    if steps <= 0 or not exists_once(problem):
        return list(starts)
    search = _Search(problem, starts, bound, told)

    def is_over() -> bool:
        return (until is not None and perf_counter() > until) or (stop is not None and stop.is_set())

    search.run(steps, is_over)
    return search.best


class _Search:
    """One search, with the good orders it has kept."""

    def __init__(
        self,
        problem: Problem,
        starts: Sequence[int],
        bound: int,
        told: Callable[[int], None] | None,
    ) -> None:
        self.lines = Lines(problem, starts)
        self.rng = random.Random(1)  # noqa: S311 - no secret, and the same each time
        self.bound, self.told = bound, told
        self.best, self.best_end = list(starts), problem.makespan(starts)
        self.left = 0
        self.tenure = 10 + self.lines.count // max(1, len(self.lines.lines))

    def run(self, steps: int, is_over: Callable[[], bool]) -> None:
        self.left, self.is_over = steps, is_over
        kept: list[tuple[int, list[int]]] = []
        drifts = 0
        while self.left > 0 and self.best_end > self.bound:
            end, order = self._round()
            twin = next((place for place, one in enumerate(kept) if one[0] == end), None)
            if twin is None:
                kept.append((end, order))
            else:
                kept[twin] = (end, order)
                drifts += len(kept) == _KEPT
            kept = sorted(kept, key=lambda one: one[0])[:_KEPT]
            if drifts > _DRIFTS:
                drifts, kept = 0, kept[:1]
            self.lines.load(self._blended(kept))

    def _blended(self, kept: list[tuple[int, list[int]]]) -> list[int]:
        """The best order shaken while few are kept; else a blend of two."""
        count, share, noise = self.lines.count, 1.0, _NOISE * self.lines.count
        one = other = kept[0][1]
        if len(kept) == _KEPT:
            (_, one), (_, other) = self.rng.sample(kept, 2)
            share, noise = self.rng.uniform(0.3, 0.7), 1.0
        wish = [0.0] * count
        for place, number in enumerate(one):
            wish[number] += share * place + self.rng.uniform(-noise, noise)
        for place, number in enumerate(other):
            wish[number] += (1 - share) * place
        return self.lines.in_order(dict(enumerate(wish)))

    def _round(self) -> tuple[int, list[int]]:
        """Moves until nothing has got better for long; the best end and order of this round."""
        lines, rng = self.lines, self.rng
        best, order, idle, step = lines.end, lines.by_start(), 0, 0
        self._note()
        barred: dict[tuple[int, int], int] = {}
        while self.left > 0 and idle < _PATIENCE and best > self.bound:
            self.left, step, idle = self.left - 1, step + 1, idle + 1
            if step % _LOOK == 0 and self.is_over():
                self.left = 0
            move = self._choose(list(self._moves(lines.chain(rng))), barred, step, best)
            if move is None:
                break
            line, old, new = move
            bar = step + rng.randint(self.tenure, int(self.tenure * 1.4) + 2)
            if new[-1] == old[0]:  # the first went behind the others: none of them may go behind it for a while
                barred.update({(old[0], one): bar for one in old[1:]})
            else:
                barred.update({(one, old[-1]): bar for one in old[:-1]})
            lines.put(line, old, new)
            if lines.end < best:
                best, order, idle = lines.end, lines.by_start(), 0
                self._note()
        return best, order

    def _note(self) -> None:
        if self.lines.end < self.best_end:
            self.best, self.best_end = list(self.lines.head), self.lines.end
            if self.told:
                self.told(self.best_end)

    def _choose(self, moves: list[Move], barred: dict[tuple[int, int], int], step: int, best: int) -> Move | None:
        """The move with the earliest end of those not barred, or of all that beat the best; one by chance where all are."""
        chosen, least = None, float("inf")
        for move in moves:
            line, old, new = move
            end = self.lines.moved(line, old, new)
            if new[-1] == old[0]:
                until = max(barred.get((one, old[0]), 0) for one in old[1:])
            else:
                until = max(barred.get((old[-1], one), 0) for one in old[:-1])
            worth = end + self.rng.random() / 2
            if (until <= step or end < best) and worth < least:
                chosen, least = move, worth
        return chosen or (self.rng.choice(moves) if moves else None)

    def _moves(self, chain: list[int]) -> Iterator[Move]:
        """The moves that can help, each once."""
        seen = set()
        for line, run, is_first, is_last in self._runs(chain):
            pair = len(run) == 2  # noqa: PLR2004 - two neighbours
            shortest, longest = max(0, len(run) - _LONGEST), min(len(run), _LONGEST)
            stretches = [(run[place:], True) for place in range(shortest, len(run) - 1)] if pair or not is_last else []
            if not pair and not is_first:
                stretches += [(run[: place + 1], place == 1) for place in range(1, longest)]
            for old, is_behind in stretches:
                key = (line, old[0], old[-1], is_behind)
                if key not in seen and self._may(old, is_behind=is_behind):
                    seen.add(key)
                    yield line, old, [*old[1:], old[0]] if is_behind else [old[-1], *old[:-1]]

    def _runs(self, chain: list[int]) -> Iterator[tuple[int, list[int], bool, bool]]:
        """Stretches of the chain that follow each other on a line: whether each is the chain's first, its last."""
        after, last, place = self.lines.after, len(chain) - 1, 0
        while place < last:
            here = after[chain[place]]
            line = next((one for one in self.lines.on[chain[place]] if here[one] == chain[place + 1]), None)
            if line is None:
                place += 1
                continue
            end = place + 1
            while end < last and after[chain[end]][line] == chain[end + 1]:
                end += 1
            yield line, chain[place : end + 1], place == 0, end == last
            place = end

    def _may(self, old: list[int], *, is_behind: bool) -> bool:
        """Whether a move closes no circle: what the moved task leads to besides ends behind the begin of what it passes."""
        lines = self.lines
        head, length = lines.head, lines.length
        if is_behind:
            first, last = old[0], head[old[-1]]
            besides = [one for one, _ in lines.links_out[first]]
            if any(one in old for one in besides):
                return False
            besides += self._beyond(first, old, lines.after)
            return all(head[one] + length[one] > last for one in besides)
        last_one, end = old[-1], head[old[0]] + length[old[0]]
        besides = [one for one, _ in lines.links_in[last_one]]
        if any(one in old for one in besides):
            return False
        besides += self._beyond(last_one, old, lines.before)
        return all(end > head[one] for one in besides)

    def _beyond(self, number: int, old: list[int], neighbours: list[list[int]]) -> Iterator[int]:
        """On each line the next one outside a stretch."""
        for line in self.lines.on[number]:
            other = neighbours[number][line]
            while other >= 0 and other in old:
                other = neighbours[other][line]
            if other >= 0:
                yield other
