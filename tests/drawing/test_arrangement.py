"""The general arrangement: to scale, everything that does not hold in a balloon, nothing over anything."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from svg import overlapping_texts, read, texts_outside
from thorough import some

from trialfit.book.opening import open_build
from trialfit.drawing.arrangement.general import SCALES, arrangement_of
from trialfit.drawing.arrangement.listed import finding_words
from trialfit.drawing.arrangement.scene import scene_of
from trialfit.drawing.pen import Circle, Line, Text
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

DRAWS = 129
SOLID = """
[{name}]
kind = "solid"
fixed_to = "{fixed}"
x = "{x} mm, taped"
y = "{y} mm, taped"
z = "{z} mm, taped"
length = "{length} mm, taped"
width = "{width} mm, taped"
height = "{height} mm, taped"
"""
CAR = """
name = "{name}"
[car]
wheelbase = "{wheelbase} mm, taped"
front_track = "1400 mm, taped"
rear_track = "1420 mm, taped"
rear_axle_mass = "500 kg, weighed"
mass = "1000 kg, weighed"
[drivetrain]
x = "-300 mm, taped"
y = "0 mm, taped"
z = "400 mm, taped"
inclination = "3 deg, gauged"
[tyre_rear]
kind = "tyre"
size = "205/55 R16"
"""
_MADE = {}


def made(build):
    """The arrangement of a build, made once."""
    if build.name not in _MADE:
        _MADE[build.name] = arrangement_of(build, date="2026-03-14", journal="83", draws=DRAWS)
    return _MADE[build.name]


def legible(arrangement):
    """Every sheet sound, nothing over anything, nothing off the paper."""
    for picture in arrangement.pictures:
        read(picture.svg())
        assert overlapping_texts(picture) == []
        assert texts_outside(picture) == []
        rings = [mark.box for mark in picture.marks if isinstance(mark, Circle) and mark.of.startswith("balloon")]
        large = [ring for ring in rings if ring.width > 4]
        assert not any(one.meets(other) for one, other in combinations(large, 2))


def test_every_demo_is_legible(demo):
    legible(made(demo))


def test_the_scale_is_true(demo):
    """The distance of two axles on the paper, times the scale, is the wheelbase of the build."""
    drawing = made(demo)
    scale = float(drawing.scale.removeprefix("1:"))
    wheelbase = scene_of(demo).wheelbase
    for view in drawing.views:
        front, rear = view.on((0, 0, 0)), view.on((-wheelbase, 0, 0))
        assert (rear[0] - front[0]) * scale == pytest.approx(wheelbase * 1e3)
        assert view.on((0, 1.0, 0))[1] - view.on((0, 0, 1.0))[1] == pytest.approx(1e3 / scale)
    axles = sorted(
        {
            round(mark.points[0][0], 6)
            for mark in drawing.pictures[0].marks
            if isinstance(mark, Line) and mark.of == "axle" and mark.points[0][0] == mark.points[1][0]
        }
    )
    assert (axles[-1] - axles[0]) * scale == pytest.approx(wheelbase * 1e3, abs=1e-3)
    assert int(scale) in SCALES


def test_dimensions_say_what_they_measure(demo):
    drawing = made(demo)
    texts = read(drawing.pictures[0].svg()).texts

    assert f"{scene_of(demo).wheelbase * 1e3:.0f}" in texts


def test_everything_that_does_not_hold_is_in_a_balloon_or_in_the_list(demo):
    drawing = made(demo)
    report = evaluate(demo, DRAWS)
    wanted = {finding.id for finding in report.findings if finding.verdict is not Verdict.holds}
    listed = [finding.id for one in drawing.balloons for finding in one.findings]

    assert sorted(listed) == sorted(wanted)
    said = unspaced("".join(text for picture in drawing.pictures for text in read(picture.svg()).texts))
    for finding in report.findings:
        if finding.verdict is not Verdict.holds:
            assert unspaced(finding_words(finding)) in said  # the same numbers as on the screen
    numbers = {one.number for one in drawing.balloons if one.number is not None}
    drawn = {about for about in read(drawing.pictures[0].svg()).about if about.startswith("balloon ")}
    assert drawn == {f"balloon {number}" for number in numbers}


def unspaced(text):
    """Without its spaces: a long name goes on in the next line without one."""
    return "".join(text.split())


def test_a_balloon_points_at_its_part(demo):
    """The end of its leader is where the part's place falls in one of the views."""
    drawing = made(demo)
    dots = [
        mark
        for mark in drawing.pictures[0].marks
        if isinstance(mark, Circle) and mark.of.startswith("balloon ") and mark.radius < 1
    ]
    for dot in dots:
        one = next(one for one in drawing.balloons if f"balloon {one.number}" == dot.of)
        assert any(view.on(one.at) == pytest.approx(dot.centre) for view in drawing.views)
    assert len(dots) == sum(one.number is not None for one in drawing.balloons)


def test_balloons_stand_in_rows(demo):
    picture = made(demo).pictures[0]
    heights = {
        round(mark.centre[1], 3)
        for mark in picture.marks
        if isinstance(mark, Circle) and mark.of.startswith("balloon ") and mark.radius > 2.5
    }

    assert len(heights) <= 2


def test_the_title_block_says_whose_and_which(demo):
    texts = read(made(demo).pictures[0].svg()).texts

    assert demo.name in texts
    assert "2026-03-14" in texts
    assert "83" in texts
    assert made(demo).scale in texts
    assert f"1 of {len(made(demo).pictures)}" in texts


def test_what_is_drawn_is_what_was_taped(build_of):
    """A box of 600 by 300 mm at 1:20 is 30 by 15 mm on the paper; drawn level it keeps its corners."""
    text = CAR.format(name="boxes", wheelbase=2400).replace("3 deg", "0 deg")
    text += SOLID.format(name="block", fixed="drivetrain", x=100, y=0, z=0, length=600, width=300, height=400)
    drawing = arrangement_of(build_of(text), draws=16)
    block = [mark for mark in drawing.pictures[0].marks if isinstance(mark, Line) and mark.of == "block"]
    times = 1e3 / float(drawing.scale.removeprefix("1:"))

    assert [round(mark.box.width / times, 6) for mark in block] == [0.6, 0.6]
    assert [round(mark.box.height / times, 6) for mark in block] == [0.4, 0.3]
    assert block[0].box.middle == pytest.approx(drawing.views[0].on((-0.2, 0.0, 0.4)))


def test_the_drivetrain_drops_to_the_rear(build_of):
    """3° down to the rear: the rear end of a level box on it lies lower than its front end by its length × sin 3°."""
    text = CAR.format(name="boxes", wheelbase=2400)
    text += SOLID.format(name="block", fixed="drivetrain", x=0, y=0, z=0, length=1000, width=300, height=100)
    (body,) = scene_of(build_of(text)).bodies
    points = body.pieces[0]
    front, rear = points[points[:, 0] > -0.3], points[points[:, 0] < -0.3]

    assert front[:, 2].mean() - rear[:, 2].mean() == pytest.approx(1.0 * 0.0523360, abs=1e-6)


def test_an_empty_build_gets_lines_to_fill_in(build_of):
    drawing = arrangement_of(build_of('name = "nothing yet"\n'), draws=16)
    said = " ".join(read(drawing.pictures[0].svg()).texts)

    legible(drawing)
    assert drawing.scale == ""
    assert "no part has a position yet" in said
    assert all(path in said for path in drawing.missing)


def test_without_solids_the_points_are_drawn(build_of):
    drawing = arrangement_of(build_of(CAR.format(name="no solids", wheelbase=2400)), draws=16)

    legible(drawing)
    assert drawing.scale == "1:20"
    assert "solid" in drawing.missing


MOVED = CAR.format(name="moved", wheelbase=2400) + SOLID.format(
    name="sump", fixed="drivetrain", x=200, y=0, z=-200, length=400, width=300, height=120
)


def test_what_has_moved_is_named_in_mm_and_drawn_twice(build_of, tmp_path):
    earlier = tmp_path / "earlier.toml"
    earlier.write_text(
        MOVED.replace('x = "-300 mm', 'x = "-330 mm').replace('z = "400 mm', 'z = "412 mm'), encoding="utf-8"
    )
    drawing = arrangement_of(build_of(MOVED), against=open_build(earlier), against_name="earlier.toml", draws=16)
    sump = [mark for mark in drawing.pictures[0].marks if isinstance(mark, Line) and mark.of == "sump"]

    legible(drawing)
    assert [one.says for one in drawing.movements] == ["drivetrain: 30 mm forward, 12 mm down"]
    assert [mark.stroke for mark in sump] == ["thick", "before", "thick", "before"]
    assert (sump[1].box.left - sump[0].box.left) * 20 == pytest.approx(30)
    assert "drivetrain: 30 mm forward, 12 mm down" in read(drawing.pictures[0].svg()).texts


def test_a_tilt_moves_the_drivetrain_and_nothing_on_it(build_of, tmp_path):
    earlier = tmp_path / "earlier.toml"
    earlier.write_text(MOVED.replace("3 deg", "4.5 deg"), encoding="utf-8")
    drawing = arrangement_of(build_of(MOVED), against=open_build(earlier), against_name="earlier", draws=16)

    assert [one.says for one in drawing.movements] == ["drivetrain: 1.5° nose down"]


def test_nothing_moved_is_said(build_of):
    build = build_of(MOVED)
    drawing = arrangement_of(build, against=build, against_name="itself", draws=16)

    assert drawing.movements == ()
    assert "nothing has moved since itself" in read(drawing.pictures[0].svg()).texts


def test_the_same_build_gives_the_same_drawing(demo):
    again = arrangement_of(demo, date="2026-03-14", journal="83", draws=DRAWS)

    assert [picture.svg() for picture in again.pictures] == [picture.svg() for picture in made(demo).pictures]


NAMES = st.lists(
    st.sampled_from(
        ["x" * 60, "אגן_שמן_של_המנוע", "油底壳传感器接口", "Ölwanne", "sump", "rail_left", "tunnel", "rack", "radiator"]
    ),
    min_size=1,
    max_size=7,
    unique=True,
)
SIZES = st.integers(20, 1500)
COORDINATES = st.integers(-2000, 900)


@settings(max_examples=some(20), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(NAMES, st.data())
def test_any_car_is_legible(build_of, names, data):
    text = CAR.format(name="x" * 60, wheelbase=data.draw(st.integers(1500, 3500)))
    for name in names:
        text += SOLID.format(
            name=f'"{name}"',
            fixed=data.draw(st.sampled_from(["car", "drivetrain"])),
            x=data.draw(COORDINATES),
            y=data.draw(st.integers(-700, 700)),
            z=data.draw(st.integers(-100, 900)),
            length=data.draw(SIZES),
            width=data.draw(SIZES),
            height=data.draw(SIZES),
        )
    legible(arrangement_of(build_of(text), draws=8))


def test_on_a3_the_scale_is_no_smaller(demo):
    larger = arrangement_of(demo, paper="A3", draws=8)

    legible(larger)
    assert int(larger.scale.removeprefix("1:")) <= int(made(demo).scale.removeprefix("1:"))
    assert {(picture.width, picture.height) for picture in larger.pictures} == {(420.0, 297.0)}


def test_text_is_large_enough_to_read():
    """ISO 3098-1: letters of 1.8 mm at the least, from memory; names of fields in the title block are smaller, values are not."""
    from trialfit.drawing.pen import CAPITAL, SMALL

    assert pytest.approx(1.8) == SMALL * CAPITAL
    assert Text((0, 0), "a").size > SMALL


def test_what_rides_on_a_drivetrain_of_unknown_place_gets_no_balloon(build_of):
    """Its own coordinates are the drivetrain's: taken for the car's they would point below the ground."""
    drawing = arrangement_of(build_of(MOVED.replace('x = "-300 mm, taped"\ny =', "y =")), draws=8)

    assert "drivetrain.x" in drawing.missing
    assert [one.number for one in drawing.balloons if one.part == "sump"] in ([], [None])
