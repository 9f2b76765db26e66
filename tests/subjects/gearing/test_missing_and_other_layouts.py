"""What is not written is named; one gear, a motor, a choice of parts and a whole evaluation work anyway."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from trialfit.book import read_text
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.requirement import Source, SourceKind
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.gearing import SUBJECT, requirements


def without(text: str, fact: str) -> str:
    """The text without the line of one fact of one part: "car.mass"; or without the whole part: "clutch"."""
    part, _, key = fact.partition(".")
    blocks = text.split("\n[")
    kept = []
    for block in blocks:
        if not block.startswith(f"{part}]"):
            kept.append(block)
        elif key:
            lines = block.splitlines(keepends=True)
            start = next(number for number, line in enumerate(lines) if line.startswith(f"{key} ="))
            end = start + 1
            if lines[start].count('"""') == 1:
                end = next(number for number in range(start + 1, len(lines)) if '"""' in lines[number]) + 1
            kept.append("".join(lines[:start] + lines[end:]))
    return "\n[".join(kept)


@pytest.mark.parametrize(
    ("fact", "unknown"),
    [
        ("car.mass", ["pull_at_cruise.1", "climb.1", "hill_start.grade", "time.400_m", "top_speed", "launch.heat"]),
        ("car.rear_axle_mass", ["grip", "first_gear.grip", "hill_start.grade", "time.0_100_kmh"]),
        ("car.wheelbase", ["grip", "grip_limited_up_to.1", "time.0_60_mph"]),
        ("car", ["cruise.1", "grip", "climb.1", "top_speed.1", "hill_start.grade"]),
        ("engine.max_speed", ["rpm_after_shift.1_2", "gap.1_2", "top_speed.1", "climb.3", "time.400_m"]),
        ("engine.idle_speed", ["first_gear.crawl", "reverse.crawl"]),
        ("engine.cruise_low", ["cruise.1", "cruise.2"]),
        ("engine.cruise_high", ["cruise.1"]),
        ("engine.launch_speed", ["hill_start.grade", "launch.heat", "launch.time", "time.0_100_kmh"]),
        (
            "engine.torque_curve",
            ["gap.1_2", "tractive_effort.1", "pull_at_cruise.1", "climb.5", "top_speed", "time.400_m"],
        ),
        ("engine", ["gap.1_2", "cruise.1", "first_gear.crawl", "top_speed.1"]),
        ("clutch", ["launch.heat_rise", "hill_start.heat_rise"]),
        ("gearbox.reverse_ratio", ["reverse.crawl", "reverse.ratio"]),
        ("gearbox.ratios", ["speed_per_1000rpm.1", "rpm_after_shift.1_2", "gap.1_2", "cruise.1", "top_speed.1"]),
        ("gearbox", ["speed_per_1000rpm.1", "rpm_after_shift.1_2", "gap.1_2", "cruise.1", "reverse.crawl"]),
        ("final_drive", ["speed_per_1000rpm.1", "cruise.1", "speedometer", "reverse.ratio"]),
        ("tyre", ["speed_per_1000rpm.1", "cruise.1", "speedometer", "first_gear.crawl"]),
        ("tyre.circumference", ["speed_per_1000rpm.1"]),
        ("speedometer", ["speedometer", "speedometer.40_kmh"]),
        ("speedometer.original_final_drive", ["speedometer"]),
    ],
)
def test_a_fact_nobody_wrote_is_named_by_all_that_need_it(base, gearing, fact, unknown) -> None:
    """The finding is unknown, the figure has no value, and both say what to get."""
    report = gearing(without(base, fact))

    for which in unknown:
        result = report.result(f"gearing.{which}")
        assert result is not None, which
        assert result.value is None, which
        named = set(result.missing)
        expected = {"tyre.circumference": "tyre.size"}.get(fact, fact)
        assert expected in named, (which, named)
        if isinstance(result, Finding):
            assert result.verdict is Verdict.unknown


def test_what_does_not_need_the_fact_stays_known(base, gearing, value) -> None:
    """Without a torque curve the ratios still say how fast and how far the engine drops."""
    report = gearing(without(base, "engine.torque_curve"))

    for what in ("speed_per_1000rpm.1", "rpm_after_shift.1_2", "cruise.1", "first_gear.crawl", "speedometer"):
        assert math.isfinite(value(report, f"gearing.{what}"))


@pytest.mark.parametrize("text", ["", "[car]\n", '[engine]\nmax_speed = "6000 rpm"\n', "[gearbox]\n"])
def test_a_build_of_nearly_nothing_is_all_unknown(gearing, text) -> None:
    """Every requirement is still there, and each names something to get."""
    report = gearing(text)

    assert {finding.verdict for finding in report.findings} == {Verdict.unknown}
    assert all(result.missing for result in (*report.findings, *report.figures))


def test_one_gear_has_no_shift_and_no_gap(base, gearing, value) -> None:
    """A single ratio in an ordinary car."""
    report = gearing(base, ('["3.3", "2.0", "1.4", "1.0", "0.82"]', '["1.4"]'))

    assert not [
        result for result in (*report.findings, *report.figures) if ".gap." in result.id or "_after_" in result.id
    ]
    assert value(report, "gearing.speed_per_1000rpm.1") == pytest.approx(60 * 1.927 / 1.4 / 3.73)
    assert report.result("gearing.top_speed.2") is None


def test_a_motor_without_clutch_pulls_from_standstill(motor, gearing, value) -> None:
    """Nothing asks for launch speed, idle, clutch or reverse gear, and nothing but the speedometer is unknown."""
    report = gearing(motor)
    ids = {result.id for result in (*report.findings, *report.figures)}
    unknown = {finding.id for finding in report.findings if finding.verdict is Verdict.unknown}

    assert not [one for one in ids if "crawl" in one or "reverse" in one or "heat" in one or "launch" in one]
    assert unknown == {"gearing.speedometer"}
    assert value(report, "gearing.hill_start.grade") > 20


def test_a_motor_s_time_against_an_integral(motor, gearing, value) -> None:
    """One gear, no clutch, no shift: t = ∫ dv/a by scipy, the smaller of engine and front tyres at each speed."""
    total, radius, weight = 2.6 * 3.6, 1.95 / (2 * math.pi), 1300 * 9.80665
    grip = 0.9 * weight * 0.5 / (1 + 0.9 * 0.5 / 2.5)
    heavier = 1300 * 1.04 + 0.04 * (total / radius) ** 2

    def slowness(speed: float) -> float:
        rpm = speed * total / radius * 60 / (2 * math.pi)
        pull = np.interp(rpm, [0, 4000, 8000, 12000], [250, 250, 125, 80]) * total * 0.97 * 0.97 / radius
        resistance = 0.012 * weight + 0.5 * 1.2 * 0.65 * speed**2
        return float(1 / min((pull - resistance) / heavier, (grip - resistance) / 1300))

    knee = 4000 * 2 * math.pi / 60 * radius / total
    time = sum(quad(slowness, low, high, limit=200)[0] for low, high in ((0, knee), (knee, 60 * 0.44704)))

    assert value(gearing(motor), "gearing.time.0_60_mph") == pytest.approx(time, abs=1e-4)


def test_a_motor_behind_a_clutch_is_asked_for_its_launch_speed(motor, gearing) -> None:
    """With a clutch part the start is a clutch's start."""
    finding = gearing(motor + "\n[clutch]\n")["gearing.hill_start.grade"]

    assert "engine.launch_speed" in finding.missing


def test_ids_stay_when_an_option_is_swapped(base) -> None:
    """Another final drive or gearbox of the same number of gears changes values, not ids."""
    text = base.replace("[final_drive]", '[long]\nkind = "final_drive"') + (
        '[short]\nkind = "final_drive"\nratio = "4.10"\n[choice.axle]\noptions = ["long", "short"]\npicked = "long"\n'
    )
    long, short = (
        [one.id for one in requirements(read_text(text.replace('picked = "long"', f'picked = "{pick}"')))]
        for pick in ("long", "short")
    )

    assert long == short


def test_every_requirement_is_named_sourced_and_explained(base, motor) -> None:
    """Ids are unique and begin with the subject; limits have a source; formulas say where they come from."""
    for text in (base, motor, ""):
        stated = list(requirements(read_text(text)))
        assert len({one.id for one in stated}) == len(stated)
        for one in stated:
            assert one.subject == SUBJECT
            assert one.says
            assert one.about
            assert one.formulas or one.id == "gearing.reverse.ratio"
            assert (one.limit is None) == (one.source is None)


def test_the_regulation_alone_is_published(base) -> None:
    """All other limits say that they are common practice or the builder's."""
    stated = [one for one in requirements(read_text(base)) if one.source]
    published = {one.id for one in stated if isinstance(one.source, Source) and one.source.kind is SourceKind.published}

    assert published == {"gearing.speedometer"}


@pytest.mark.parametrize("draws", [1, 2, 4096])
def test_exact_facts_give_the_same_with_any_number_of_draws(base, gearing, draws) -> None:
    """Nothing but the spread of the facts spreads a value."""
    few, many = gearing(base, draws=16), gearing(base, draws=draws)

    for one in (*few.findings, *few.figures):
        other = many.result(one.id)
        if one.value is None:
            assert other.value is None, one.id
        else:
            assert other.value.nominal == pytest.approx(one.value.nominal, rel=1e-12), one.id
            assert other.value.low == pytest.approx(other.value.high, rel=1e-9), one.id


def test_a_spread_of_the_mass_reaches_the_times(base, gearing) -> None:
    """A heavier car is slower: the mass causes all of the spread when it alone is uncertain."""
    figure = gearing(base, ("1200 ± 0 kg", "1200 ± 50 kg"), draws=4096).figure("gearing.time.400_m")

    assert figure.value.low < figure.value.nominal < figure.value.high
    assert figure.facts[0].path == "car.mass"
    assert figure.facts[0].share == pytest.approx(1, abs=0.02)


def test_every_finding_says_what_to_do_where_it_fails(base) -> None:
    """A cure is a whole sentence; figures have none, since nothing is asked of them."""
    for one in requirements(read_text(base)):
        assert bool(one.cure) == (one.limit is not None), one.id
        assert not one.cure or one.cure.endswith("."), one.id
