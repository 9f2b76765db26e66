"""More draws where a verdict is near its threshold, so that none is a lucky draw.

Answers   settled    requirements whose share of draws lies astride a threshold, worked out on until a verdict stands
          stages     the blocks of draws that come after the first
          MOST       draws after which nothing more is drawn
Not here  when a verdict stands (thresholds.py); how a block is drawn (draws.py)
Method    The first block serves the whole report. What is astride then goes on alone, to four and to sixteen times as many draws,
          65,536 in all; what is astride still is unsettled. There are few looks, each at four times as much, and it goes on after a look
          as long as its verdict could be wrong with a chance of 0.1 %, so that not one of several looks is lucky. A block is small enough to stay near the processor, and reads only what these requirements read.
          Everything follows from the build and the number of draws: the same build gives the same report.
Source    JCGM 101, 7.9 (adaptive procedure)
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.evaluation.limits import decided, may_change
from trialfit.evaluation.worked import by_limit, worked

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.thresholds import Kept
    from trialfit.evaluation.worked import Worked

MOST = 65_536
_GROWS = 4
_BLOCK = 12_288


def stages(draws: int, most: int = MOST) -> Iterator[list[tuple[int, int]]]:
    """The blocks, by number and size, after each of which is looked again.

    >>> [(len(blocks), sum(size for _, size in blocks)) for blocks in stages(4096)]
    [(1, 12288), (4, 49152)]
    """
    number = 0
    while 1 < draws < most:
        left = min(_GROWS * draws, most) - draws
        draws += left
        blocks = []
        while left:
            number += 1
            blocks.append((number, min(left, _BLOCK)))
            left -= blocks[-1][1]
        yield blocks


def settled(ev: Evaluation, done: Sequence[Worked], most: int = MOST) -> list[Worked]:
    """What was worked out, with more draws where a verdict could change by them."""
    settled = list(done)
    for blocks in stages(ev.draws, most):
        near = [place for place, one in enumerate(settled) if may_change(one.requirement, one.held)]
        if not near:
            break
        for number, size in blocks:
            further = ev.further(number, size)
            for place in near:
                settled[place] = _with(settled[place], worked(further, settled[place].requirement, counts_only=True))
        for place in near:
            one = settled[place]
            settled[place] = by_limit(one, decided(one.requirement, one.held))
    return settled


def _with(one: Worked, further: Worked) -> Worked:
    """The counts of both added up; everything else is that of the first block."""
    more: Mapping[str, Kept | None] = {held.limit.id: held.count for held in further.held}
    added = []
    for held in one.held:
        count = more.get(held.limit.id)
        added.append(replace(held, count=held.count + count) if held.count and count else held)
    return replace(one, held=tuple(added), seen=one.seen | further.seen)
