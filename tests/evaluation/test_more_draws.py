"""A verdict near its threshold is no lucky draw: more draws are taken for it, always the same ones, and what stays open is unsettled."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from statistics import NormalDist

import numpy as np
import pytest
from thorough import some

import trialfit as tf
from trialfit.advice.explaining import explain
from trialfit.book import read_text
from trialfit.evaluation import draws as drawing
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.more_draws import MOST, stages
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Limit, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH

CAR = read_text(
    '[car]\nwheelbase = "2.40 m ± 20 mm, taped"\nfront_track = "1.40 m ± 20 mm, taped"\nrear_track = "1.40 m ± 20 mm, taped"\n'
)
DEVIATION = 0.010 * np.sqrt(3)
PICKUP = Path(__file__).parents[2] / "demos" / "pickup.toml"


def length(ev: Evaluation) -> np.ndarray:
    """The sum of three lengths, each with a standard deviation of 10 mm."""
    car = ev.build.parts["car"]
    return sum(ev.each(car.wheelbase, car.front_track, car.rear_track))


def kept_by(share: float, stake: Stake = Stake.safety, **more) -> Requirement:
    """A requirement that this share of all cars would keep."""
    limit = AtLeast(5.2 - NormalDist().inv_cdf(share) * DEVIATION)
    return Requirement("test.sum", "car", "long enough", length, LENGTH, stake, limit, COMMON_PRACTICE, **more)


def found(requirement: Requirement, draws: int = 4096, **options):
    return work_out(Evaluation(CAR, draws), [requirement], **options)["test.sum"]


@pytest.fixture
def salted(monkeypatch):
    """Draws everything with other seeds."""

    def salt(number: int) -> None:
        def seed_of(path: str, block: int = 0) -> int:
            return int.from_bytes(sha256(f"{number} {path} {block}".encode()).digest()[:8], "big")

        monkeypatch.setattr(drawing, "seed_of", seed_of)

    return salt


def test_what_is_far_from_its_limit_stops_at_the_first_block() -> None:
    for share in (0.9995, 0.9, 0.5, 0.005):
        finding = found(kept_by(share))
        assert (finding.draws, finding.is_astride) == (4095, False)


def test_what_is_near_its_threshold_goes_on() -> None:
    near, at = found(kept_by(0.9935)), found(kept_by(0.995))

    assert (near.draws > 4095, near.verdict, near.is_astride) == (True, Verdict.unsettled, False)
    assert (at.draws, at.verdict, at.is_astride) == (MOST - 1, Verdict.unsettled, True)
    assert "kept by 99.5 ± 0.1 % of 65,535 draws, too near to the threshold: 99.5 % holds" in at.remark
    low = found(kept_by(0.025))
    assert (low.is_astride, "too near to the threshold: at most 2.5 % fails" in low.remark) == (True, True)


def test_the_numbers_shown_are_those_of_the_first_block() -> None:
    """Only the share is counted over all draws, so that what is shown does not hang on how near a verdict is."""
    at, alone = found(kept_by(0.995)), found(kept_by(0.995), most=4096)

    assert (at.value, at.margin, at.facts) == (alone.value, alone.margin, alone.facts)
    assert at.share_ok != alone.share_ok


def test_the_same_build_gives_the_same_report_however_it_is_asked() -> None:
    alone = found(kept_by(0.995))
    beside = work_out(Evaluation(CAR), [kept_by(0.995), kept_by(0.9)])["test.sum"]

    assert found(kept_by(0.995)) == alone
    assert beside.id == alone.id


@pytest.mark.parametrize("stake", [Stake.safety, Stake.durability])
def test_no_seed_lets_a_limit_hold_that_too_few_would_keep(salted, stake) -> None:
    """Neither does any seed turn a verdict from holds to fails; just beside the threshold it is open."""
    holds_from = {Stake.safety: 0.995, Stake.durability: 0.975}[stake]
    below = holds_from - 0.15 * (1 - holds_from)
    verdicts = {share: set() for share in (below, 0.6, 0.02)}
    for number in some(range(200)):
        salted(number)
        for share, seen in verdicts.items():
            seen.add(found(kept_by(share, stake)).verdict)

    assert verdicts == {below: {Verdict.unsettled}, 0.6: {Verdict.unsettled}, 0.02: {Verdict.fails}}


def test_what_enough_would_keep_holds_with_every_seed(salted) -> None:
    """The twin: 99.65 % against 99.5 %."""
    for number in some(range(200)):
        salted(number)
        assert found(kept_by(0.9965)).verdict is Verdict.holds


def test_a_mount_near_its_threshold_is_open_and_why_says_the_same() -> None:
    """99.3 % of the draws keep it: at 4096 draws one seed in ten would have let it hold."""
    finding = explain(tf.read(PICKUP), "structure.mount_pull.mount_right").finding

    assert finding.verdict is Verdict.unsettled
    assert finding.share_ok == pytest.approx(0.9934, abs=5e-4)
    assert finding.draws > 4095


def test_few_draws_are_made_up_for() -> None:
    """Whatever number is asked for, a verdict stands on enough draws; a build without spreads needs none."""
    finding = found(kept_by(0.99999), draws=16)
    assert (finding.verdict, 755 <= finding.draws <= 4095) == (Verdict.holds, True)

    exact = Requirement("test.sum", "car", "long", lambda _: 1.0, LENGTH, Stake.safety, AtLeast(0.5), COMMON_PRACTICE)
    assert (found(exact, draws=16).verdict, found(exact, draws=16).draws) == (Verdict.holds, 15)
    assert found(kept_by(0.6), draws=1).verdict is Verdict.holds


def test_another_limit_can_come_to_decide_by_more_draws() -> None:
    """Both are open after 16 draws; in the end the stricter one decides, with its own numbers."""
    code = Limit("code", AtLeast(5.2 - DEVIATION), Source("a code", SourceKind.published))
    finding = found(kept_by(0.9975, also=(code,)), draws=16)

    assert [(one.id, one.verdict) for one in finding.limits] == [("code", Verdict.unsettled), ("stated", Verdict.holds)]
    assert finding.limit.nominal == pytest.approx(5.2e3 - 17.3, abs=0.05)


def test_further_blocks_are_hypercubes_of_their_own() -> None:
    """Each fills its strata evenly, with the nominal before them; the first is that of every report, and no two are alike."""
    ev, car = Evaluation(CAR), CAR.parts["car"]
    blocks = [ev(car.wheelbase), *(ev.further(number, 4095)(car.wheelbase) for number in (1, 2))]

    for block in blocks:
        assert block[0] == 2.40
        assert np.sort(block[1:]) == pytest.approx(np.sort(blocks[0][1:]))
    assert not (blocks[0] == blocks[1]).all()
    assert not (blocks[1] == blocks[2]).all()
    assert abs(np.corrcoef(blocks[0][1:], blocks[1][1:])[0, 1]) < 0.05


def test_the_stages_end_at_the_most_draws() -> None:
    for draws in (2, 300, 4096, 5000, 65_535):
        assert draws + sum(size for blocks in stages(draws) for _, size in blocks) == MOST
    numbers = [number for blocks in stages(4096) for number, _ in blocks]
    assert numbers == list(range(1, len(numbers) + 1))
    assert [list(stages(draws)) for draws in (1, MOST, 2 * MOST)] == [[], [], []]
