"""What nothing judges in a build is said: by way of failing, and by part."""

from __future__ import annotations

from trialfit.book import read_text
from trialfit.book.build import Build
from trialfit.subjects.catalogue import evaluate, requirements
from trialfit.subjects.unjudged import modes_unjudged, parts_unjudged

CAR = """
[car]
mass = "900 kg"
rear_suspension = "live axle"
"""
TUBE = """
[prop_shaft]
after = "gearbox"
"""
LINE = """
[gearbox]
ratios = ["3.4"]
[final_drive]
after = "gearbox"
ratio = "3.9"
"""


def unjudged(text: str) -> dict[str, tuple[str, ...]]:
    """The ids of what nothing judges, each with its parts."""
    build = read_text(text)
    return {one.mode.id: one.parts for one in modes_unjudged(build, requirements(build), _report(build))}


def alone(text: str) -> tuple[str, ...]:
    """The parts that no finding judges."""
    build = read_text(text)
    return parts_unjudged(build, requirements(build), _report(build))


def _report(build: Build):
    return evaluate(build, draws=1, all_figures=False, all_facts=False)


def test_what_a_finding_judges_is_not_listed_even_while_a_fact_is_missing():
    found = unjudged(CAR + LINE.replace('"gearbox"', '"prop_shaft"') + TUBE)

    assert "prop_shaft.whirls" not in found
    assert found["prop_shaft.falls"] == ("prop_shaft",)


def test_what_is_judged_by_a_usual_limit_is_not_listed_for_want_of_its_makers():
    """Over the travel of a live axle the angle of a joint is judged against its maker's limit, or where such joints bind."""
    assert found_joint(TUBE) is None
    assert found_joint(TUBE + 'front_joint_angle_limit = "20°"\n') is None


def found_joint(shaft: str) -> tuple[str, ...] | None:
    return unjudged(CAR + shaft + LINE.replace('"gearbox"', '"prop_shaft"')).get("prop_shaft.joint_binds")


def test_the_worst_stake_comes_first():
    build = read_text(CAR + LINE)
    stakes = [one.mode.stake for one in modes_unjudged(build, requirements(build), _report(build))]

    assert stakes == sorted(stakes, key=["safety", "durability", "comfort"].index)


def test_every_car_has_brakes_and_tyres_also_where_they_are_not_written():
    found = unjudged(CAR)

    assert found["brake.pulls"] == ()
    assert found["tyre.overloaded"] == ()
    assert not [name for name in found if name.startswith("weld.")]


def test_of_two_parts_only_the_one_that_nothing_judges_is_named():
    text = CAR + '[joint]\nkind = "bolted_joint"\nthread = "M8"\nwrench = "big"\n[other]\nkind = "bolted_joint"\n'
    text += '[big]\nkind = "torque_wrench"\n'

    assert unjudged(text)["bolted_joint.wrench"] == ("other",)


def test_what_holds_for_one_part_alone_is_looked_up_in_that_part():
    text = '[pipe]\nkind = "solid"\nneighbour = "hot"\n[box]\nkind = "solid"\n'

    assert unjudged(text)["solid.burns_a_line"] == ("pipe",)


def test_a_hub_that_is_strong_by_the_builders_word_is_named_and_a_rated_one_is_not():
    """Hubs of as strong a car have no finding: what stands behind them is the builder's word, at stake safety, and that is said."""
    text = CAR + LINE + '[hub_rear]\nkind = "hub"\norigin = "as strong a car"\n'
    build = read_text(text)
    by_word = next(
        one for one in modes_unjudged(build, requirements(build), _report(build)) if one.mode.id == "hub.by_word"
    )

    assert (by_word.parts, by_word.mode.stake, by_word.mode.before) == (("hub_rear",), "safety", "first-roll")
    assert "hub.hub_breaks" not in unjudged(text)
    for mended in (
        text + 'rated_torque = "2500 N·m, catalogue"\n',
        text.replace("as strong a car", "weaker car"),
        CAR + LINE,
    ):
        assert "hub.by_word" not in unjudged(mended)


def test_an_electric_car_has_no_fuel_tank_and_a_petrol_car_no_high_voltage():
    electric, petrol = (unjudged(f'[engine]\nruns_on = "{word}"\n') for word in ("electricity", "petrol"))

    assert "car.fuel_tank" not in electric
    assert "car.high_voltage" in electric
    assert "car.fuel_tank" in petrol
    assert "car.high_voltage" not in petrol


def test_a_part_that_no_finding_is_about_or_reads_is_named():
    assert alone(CAR + LINE + '[horn]\nkind = "circuit"\n') == ("horn",)


def test_a_part_is_judged_through_the_part_that_holds_it():
    """A fitting has no finding of its own: the port that it is screwed into has."""
    text = '[hole]\nkind = "port"\nthread = "M10×1"\nfitted = "elbow"\n[elbow]\nkind = "fitting"\n'

    assert alone(text) == ()
    assert alone(text.replace('fitted = "elbow"\n', "")) == ("elbow",)


def test_the_report_counts_and_names_and_a_report_of_one_subject_does_not():
    build = read_text(CAR + LINE + '[horn]\nkind = "circuit"\n')
    found = evaluate(build, draws=1).not_judged

    assert found is not None
    assert 0 < found.at_safety < found.ways
    assert found.parts == ("horn",)
    assert evaluate(build, draws=1, subjects=("gearing",)).not_judged is None
