"""Plots of the demos, of nothing, and of hard names: sound, legible, and saying what the screen says."""

from __future__ import annotations

import csv
import json
from datetime import datetime

import numpy as np
import pytest
from svg import overlapping_texts, read, texts_outside

from trialfit.book.problems import BadInput
from trialfit.cli.sites import site_at
from trialfit.drawing.pen import Line, Stroke, Text
from trialfit.drawing.plot import Axis, Limit, Plot, Series, Spot, table_of
from trialfit.drawing.plot_picture import picture_of
from trialfit.drawing.plots.all_plots import plot_of, plots_of
from trialfit.evaluation.finding import Finding
from trialfit.facts.showing import interval_text
from trialfit.subjects.catalogue import evaluate

DRAWS = 257
MOMENT = datetime(2026, 3, 14, 16, 30)  # noqa: DTZ001 - the clock of the workshop
HARD = (
    "x" * 60,
    "ölwanne_mit_sehr_langem_namen_für_den_motor_aus_dem_anderen_w",
    "אגן_שמן_של_המנוע_הישן_שנשאר_מהרכב_הקודם_במוסך",
    "油底壳传感器接口在发动机左侧靠近滤清器的位置上面",
)


def site_of(build):
    return lambda: site_at(build, "demo.toml", MOMENT, with_findings=False)


_MADE = {}


def plots(build):
    """Every plot of a build, with one doubt; made once."""
    if build.name not in _MADE:
        _MADE[build.name] = _plots(build)
    return _MADE[build.name]


def _plots(build):
    names = [choice.name for choice in plots_of(build).plots if not choice.name.startswith("doubt.")]
    return [plot_of(build, name, site_of(build), DRAWS) for name in [*names, "doubt.gearing.top_speed"]]


def check(plot):
    picture = picture_of(plot)
    found = read(picture.svg())
    assert overlapping_texts(picture) == []
    assert texts_outside(picture) == []
    return found


def test_every_plot_of_every_demo_is_legible(demo):
    for plot in plots(demo):
        check(plot)


def test_every_plot_of_nothing_says_what_is_missing(build_of):
    build = build_of('name = "nothing yet"\n')
    for plot in plots(build):
        found = check(plot)
        if plot.name != "schedule":
            assert plot.is_empty
            assert plot.missing
            said = " ".join(found.texts)
            assert all(path in said for path in plot.missing)


def test_values_in_a_plot_are_those_of_the_screen(demo):
    """Each spot, bar and limit that shows a finding has its numbers in the words of `check`."""
    report = evaluate(demo, DRAWS)
    shown = 0
    for plot in plots(demo):
        said = " ".join(read(picture_of(plot).svg()).texts)
        for one in (*plot.spots, *plot.limits, *plot.bars):
            found = report.result(one.finding)
            if found is None or found.value is None:
                continue
            shown += 1
            value = found.value
            words = interval_text(value.nominal, value.low, value.high, value.unit)
            limit = found.limit if isinstance(found, Finding) else None
            limits = interval_text(limit.nominal, limit.low, limit.high, limit.unit) if limit else ""
            assert words in one.says or (limits and limits in one.says) or one.finding.startswith("senders.")
            assert one.says.split("…")[0][:20] in said
    assert shown > 8


def test_bands_hold_their_line(demo):
    """Of pull and engine speed; an angle is never negative, and one that is nearly zero may lie below its own band."""
    for plot in (one for one in plots(demo) if one.name in ("pull", "gears")):
        for series in plot.series:
            for y, low, high in zip(series.y, series.low, series.high, strict=False):
                if None not in (y, low, high):
                    assert low - abs(low) * 1e-3 <= y <= high + abs(high) * 1e-3


def test_a_pull_is_torque_times_ratio_over_radius(build_of):
    """F = T·i·η/r, power balance: 200 N·m through 3 × 4 at 90 % on 0.3 m give 7200 N; checked by hand."""
    build = build_of(
        """
[car]
mass = "1000 kg, weighed"
[engine]
max_speed = "6000 rpm, manual"
torque_curve = '''
rpm : N·m
1000 : 200
6000 : 200
'''
[gearbox]
ratios = ["3"]
efficiency = "90 %, manual"
[final_drive]
ratio = "4"
efficiency = "100 %, manual"
[tyre_rear]
kind = "tyre"
circumference = "1884.9556 mm, taped"
"""
    )
    plot = plot_of(build, "pull", site_of(build), 1)
    pulled = [value for value in plot.series[0].y if value is not None]

    assert pulled == pytest.approx([7200.0] * len(pulled), rel=1e-5)
    assert plot.series[0].x[-1] == pytest.approx(6000 / 60 * 1.8849556 / 12 * 3.6, rel=1e-5)
    assert "car.rear_axle_mass" in plot.missing or plot.missing


def test_the_ideal_brake_share_is_that_of_the_loads(build_of):
    """N_f/(N_f + N_r) = (b + z·h)/L: statics. M 1240 kg, a 1.15, h 0.54, L 2.6 m: 0.7238 at z = 0.8, worked out by hand."""
    build = build_of(
        """
[car]
mass = "1240 kg, weighed"
rear_axle_mass = "548.4615 kg, weighed"
wheelbase = "2.6 m, manual"
centre_of_mass_height = "0.54 m, computed"
"""
    )
    plot = plot_of(build, "brakes", site_of(build), 1)
    share = np.interp(0.8, plot.series[0].x, plot.series[0].y)

    assert share / 100 == pytest.approx(0.7238, abs=5e-5)
    assert {"front brakes", "rear brakes"} <= plot.missing.keys()


def test_the_ladder_is_load_over_capacity(demo):
    """Each bar of a torque is value over limit of its finding, at the nominal."""
    report = evaluate(demo, DRAWS, ("torque_path",))
    plot = plot_of(demo, "torque_path", site_of(demo), DRAWS)
    for bar in plot.bars:
        found = report[bar.finding]
        share = found.value.nominal / found.limit.nominal
        expected = share if found.side == "at most" else 1 / share
        assert bar.end == pytest.approx(100 * expected, rel=1e-4)
        assert bar.says.startswith(f"{found.verdict}: ")


def test_joint_angles_pass_through_those_of_the_findings(demo):
    plot = plot_of(demo, "joint_angles", site_of(demo), DRAWS)
    report = evaluate(demo, DRAWS, ("driveline",))
    for spot in plot.spots:
        place, found = spot.finding.split(".")[-1], report.result(spot.finding)
        if found.state:  # judged with the axle wound up in one gear: between the two lines, and the gear is named
            still, wound = (at_ride(plot, f"{place} joint{words}") for words in ("", ", axle wound up"))
            assert min(still, wound) - 0.15 < spot.y < max(still, wound) + 0.15
            assert spot.says.startswith(f"{place} at ride height, {found.state}: ")
        else:
            assert at_ride(plot, f"{place} joint") == pytest.approx(found.value.nominal, abs=0.15)
        assert spot.y == found.value.nominal


def test_what_is_too_long_beside_its_point_stands_whole_in_the_key():
    long = "centre at ride height, full drive, 5th gear: unsettled: 3.18 ± 0.46°"
    axes = {"x": Axis(says="rise", unit="mm"), "y": Axis(says="angle", unit="°", low=0.0)}
    spots = (Spot(says=long, x=0.0, y=3.0), Spot(says="front: holds", x=10.0, y=1.0))

    texts = read(picture_of(Plot(build="b", name="n", title="t", **axes, spots=spots, draws=1)).svg()).texts

    assert long in texts
    assert "front: holds" in texts
    assert not any("…" in text for text in texts)


def test_lines_of_the_axle_wound_up_have_no_tint_over_those_of_the_axle_without_torque(demo):
    series = plot_of(demo, "joint_angles", site_of(demo), DRAWS).series

    assert all((one.low == ()) for one in series if one.says.endswith("wound up"))


def at_ride(plot, says):
    """A line of a plot where it crosses ride height."""
    series = next(one for one in plot.series if one.says == says)
    return np.interp(0.0, series.x, series.y)


def test_the_table_has_the_numbers_of_the_plot(demo):
    plot = plot_of(demo, "pull", site_of(demo), DRAWS)
    rows = list(csv.DictReader(table_of(plot).splitlines()))

    assert list(rows[0])[2:4] == ["road speed [km/h]", "force at the road [N]"]
    assert sum(row["what"] == "series" for row in rows) == sum(len(series.x) for series in plot.series)
    assert float(rows[3]["force at the road [N]"]) == plot.series[0].y[3]


def test_a_plot_comes_back_from_its_json(demo):
    plot = plot_of(demo, "gears", site_of(demo), DRAWS)

    assert Plot.model_validate(json.loads(plot.model_dump_json())) == plot


def test_the_schedule_has_every_job_and_its_waits(demo):
    plot = next(one for one in plots(demo) if one.name == "schedule")

    assert any(bar.hatched and bar.says.startswith("then ") for bar in plot.bars)
    assert all(bar.end >= bar.start for bar in plot.bars)
    assert any(note.startswith("end (") for note in plot.notes)
    assert len(plot.bars) >= 40


@pytest.mark.parametrize("name", HARD)
def test_long_and_foreign_names_cover_nothing(build_of, name):
    build = build_of(
        f"""
name = "{name}"
["{name}"]
kind = "gauge"
sender = "s_{name}"
limit_temperature = "105 °C"
temperature_curve = '''
°C : Ω
40 : 290
120 : 22
'''
["s_{name}"]
kind = "sender"
temperature_curve = '''
°C : Ω ± 5 %, catalogue
40 : 300
120 : 20
'''
"""
    )
    check(plot_of(build, f"sender.{name}", site_of(build), DRAWS))
    check(plot_of(build, f"doubt.senders.{name}.reading_at_limit", site_of(build), DRAWS))


def test_an_unknown_plot_is_refused_with_the_names_there_are(demo):
    with pytest.raises(BadInput) as refused:
        plot_of(demo, "pulls", site_of(demo), DRAWS)

    assert refused.value.sentences() == [f'{demo.name}: unknown plot "pulls": did you mean "pull"?']


def test_the_same_plot_gives_the_same_picture(demo):
    first, second = (picture_of(plot_of(demo, "pull", site_of(demo), DRAWS)).svg() for _ in range(2))

    assert first == second


def test_verdicts_are_words_and_marks():
    """A failing value is crossed out, an unsettled one open: no colour says it."""
    from trialfit.drawing.plot_frame import spot_mark
    from trialfit.evaluation.verdict import Verdict

    kinds = {verdict: spot_mark((10, 10), verdict) for verdict in Verdict}

    assert sum(isinstance(mark, Line) for mark in kinds[Verdict.fails]) == 2
    assert kinds[Verdict.unsettled] != kinds[Verdict.holds]
    assert kinds[Verdict.unknown] != kinds[Verdict.unsettled]


def test_every_limit_of_a_plot_has_its_own_line():
    """Three limits that look alike cannot be told apart in the key."""
    limits = [Limit(says=f"limit {number}", value=number, side="at most") for number in (1, 2, 3)]
    plot = Plot(
        build="three limits",
        name="limits",
        title="Limits",
        x=Axis(says="x"),
        y=Axis(says="y"),
        limits=tuple(limits),
        draws=1,
        series=(Series(says="line", x=(0, 5), y=(0, 4), stroke=Stroke.thin),),
    )
    thick = {Stroke.thick_dashed, Stroke.thick_chain, Stroke.thick_double_chain}

    strokes = [mark.stroke for mark in picture_of(plot).marks if isinstance(mark, Line) and mark.stroke in thick]

    assert sorted(strokes) == sorted([*thick, *thick])  # once in the plot, once in the key


def test_the_words_of_a_row_go_on_a_second_line(demo):
    """Nothing of a value or its limit is cut off in the torque path."""
    plot = next(one for one in plots(demo) if one.name == "torque_path")
    texts = " ".join(mark.says for mark in picture_of(plot).marks if isinstance(mark, Text))

    assert plot.bars
    for bar in plot.bars:
        assert bar.says in texts
