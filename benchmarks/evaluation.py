"""How long a whole build takes: all draws in one pass, against the same findings one draw at a time.

    .setup/venv/bin/python benchmarks/evaluation.py [BUILD.toml]

Prints the time of one pass at 4096 draws, the time of the same findings with each draw evaluated by itself (timed on a
sample of draws and multiplied up), their ratio, and how the time grows with the number of draws; passes are the median of
three. The values of the sampled draws are compared with those of the one pass: both ways must give the same.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

import numpy as np

import trialfit as tf
from trialfit.evaluation.evaluation import DrawnCurve, Evaluation
from trialfit.evaluation.working import work_out
from trialfit.subjects.catalogue import requirements

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.parts.fact_refs import CurveRef, FactRef

DEMO = Path(__file__).parent.parent / "demos" / "hillclimb.toml"
SAMPLE = 12


class OneDraw(Evaluation):
    """An evaluation that carries a single draw of another one."""

    def __init__(self, whole: Evaluation, number: int) -> None:
        super().__init__(whole.build, 1)
        self.whole, self.number = whole, number

    def __call__(self, ref: FactRef) -> np.ndarray:
        """The one draw of a fact."""
        super().__call__(ref)
        return self.whole(ref)[self.number : self.number + 1]

    def curve(self, ref: CurveRef) -> DrawnCurve:
        """The curve at the one draw of its scale."""
        drawn = super().curve(ref)
        return DrawnCurve(drawn.x, drawn.y, self.whole.curve(ref).scale[self.number : self.number + 1])


def median_of(times: int, work: Callable[[], object]) -> float:
    """The median of several runs, in seconds."""
    spent = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        spent.append(time.perf_counter() - begun)
    return median(spent)


def main() -> None:
    """Times both ways and prints the comparison."""
    build = tf.read(sys.argv[1] if len(sys.argv) > 1 else DEMO)
    stated = requirements(build)
    whole_report = work_out(Evaluation(build, 4096), stated)
    one_pass = median_of(3, lambda: work_out(Evaluation(build, 4096), stated))

    whole = Evaluation(build, 4096)
    numbers = np.linspace(1, 4095, SAMPLE).astype(int)
    work_out(OneDraw(whole, 0), stated)
    begun = time.perf_counter()
    reports = [work_out(OneDraw(whole, int(number)), stated) for number in numbers]
    one_by_one = (time.perf_counter() - begun) / SAMPLE * 4096

    nominal = work_out(OneDraw(whole, 0), stated)
    largest = max(
        abs(one.value.nominal - other.value.nominal) / (abs(other.value.nominal) or 1)
        for one, other in zip(nominal.findings, whole_report.findings, strict=True)
        if one.value and other.value
    )
    print(f"{len(whole_report.findings)} findings, {len(whole_report.figures)} figures of {build.name}")
    print(f"one pass of 4096 draws       {one_pass * 1e3:10.0f} ms")
    print(
        f"4096 draws one at a time     {one_by_one * 1e3:10.0f} ms   ({SAMPLE} of them timed, {len(reports)} reports)"
    )
    print(f"ratio                        {one_by_one / one_pass:10.0f}")
    print(f"largest difference at draw 0 {largest:10.1e}")
    print("\ndraws      ms   ms per 1000 draws")
    for draws in (256, 1024, 4096, 16_384, 65_536):
        spent = median_of(3, lambda draws=draws: work_out(Evaluation(build, draws), stated))
        print(f"{draws:6d} {spent * 1e3:8.0f} {spent * 1e6 / draws:12.1f}")


if __name__ == "__main__":
    main()
