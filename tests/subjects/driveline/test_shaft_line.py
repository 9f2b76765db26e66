"""Which shafts and joints a build has, how they are named, and what is asked for where the line has a gap."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book import BadInput, Build, read, read_text
from trialfit.book.toml_text import document_of
from trialfit.subjects import requirements
from trialfit.subjects.shaft_line import Gap, find_line

DEMOS = Path(__file__).parents[3] / "demos"
ENDS = """
[engine]
max_speed = "5000 rpm, manual"
[car]
rear_suspension = "independent"
"""
BOX = "[gearbox]\nratios = [3.2, 1.0]\n"


def working_angles(report) -> list[str]:
    """The places of all joints that have a working angle."""
    return sorted(finding.id.rpartition(".")[2] for finding in report.findings if "working_angle" in finding.id)


def test_a_final_drive_that_nothing_drives_names_the_entry_to_write(driveline) -> None:
    """The line has a gap at its end: unknown, with what to write and an example."""
    report = driveline(ENDS + BOX + '[prop_shaft]\nafter = "gearbox"\n[final_drive]\nratio = 3.5\n')
    finding = report["driveline.working_angle.rear"]

    assert finding.verdict == "unknown"
    assert list(finding.missing) == ["final_drive.after"]
    assert 'for example after = "prop_shaft"' in finding.missing["final_drive.after"]
    assert report["driveline.residual"].missing == finding.missing


def test_whoever_follows_the_hint_keeps_the_findings_on_the_prop_shaft(driveline) -> None:
    """No prop shaft is written: the hint adds one, instead of joining the final drive to the gearbox."""
    bare = ENDS + BOX + "[final_drive]\nratio = 3.5\n"
    before = driveline(bare)
    hint = before["driveline.working_angle.rear"].missing["final_drive.after"]
    after = driveline(bare + 'after = "prop_shaft"\n[prop_shaft]\nafter = "gearbox"\n')

    assert hint == (
        'what drives it, a prop shaft as a rule: add a table [prop_shaft] with after = "gearbox", and write '
        'after = "prop_shaft" here; after = "gearbox" is for a final drive in one case with the gearbox'
    )
    assert {one.id for one in before.findings} <= {one.id for one in after.findings}
    assert "final_drive.after" not in after["driveline.working_angle.rear"].missing
    assert working_angles(after) == ["front", "rear"]


def test_the_hint_names_the_choice_of_a_gearbox(driveline) -> None:
    """What is joined to a choice stays joined when the pick changes."""
    text = (
        ENDS
        + '[choice.box]\noptions = ["five", "six"]\npicked = "five"\n'
        + "".join(f'[{name}]\nkind = "gearbox"\nratios = [3.2, 1.0]\n' for name in ("five", "six"))
        + "[final_drive]\nratio = 3.5\n"
    )

    missing = driveline(text)["driveline.working_angle.rear"].missing

    assert 'add a table [prop_shaft] with after = "box"' in missing["final_drive.after"]


def test_a_shaft_that_nothing_drives_names_the_gearbox(driveline) -> None:
    """The line has a gap at its front."""
    report = driveline(ENDS + BOX + '[prop_shaft]\n[final_drive]\nratio = 3.5\nafter = "prop_shaft"\n')
    missing = report["driveline.working_angle.front"].missing

    assert list(missing) == ["prop_shaft.after"]
    assert 'for example after = "gearbox"' in missing["prop_shaft.after"]


def test_an_empty_build_asks_for_gearbox_and_final_drive(driveline) -> None:
    """Nothing is written: the findings stand there and name the parts."""
    finding = driveline('name = "nothing yet"')["driveline.working_angle.front"]

    assert set(finding.missing) == {"gearbox", "final_drive"}


def test_two_joints_at_one_place_are_asked_about(driveline) -> None:
    """A first tube that ends in a joint, in front of a second that begins with one, is a contradiction."""
    text = (
        ENDS + BOX + '[front]\nkind = "prop_shaft"\nafter = "gearbox"\n[rear]\nkind = "prop_shaft"\nafter = "front"\n'
        '[final_drive]\nratio = 3.5\nafter = "rear"\n'
    )
    report = driveline(text)

    assert working_angles(report) == ["centre", "front", "rear"]
    missing = report["driveline.working_angle.centre"].missing
    assert list(missing) == ["front.rear_joint"]
    assert 'write rear_joint = "rigid"' in missing["front.rear_joint"]
    mended = driveline(text.replace('after = "gearbox"', 'after = "gearbox"\nrear_joint = "rigid"'))
    assert "front.rear_joint" not in mended["driveline.working_angle.centre"].missing


def test_a_final_drive_on_the_gearbox_past_a_shaft_is_asked_about(driveline) -> None:
    """A shaft is written and nothing is driven by it."""
    report = driveline(ENDS + BOX + '[prop_shaft]\n[final_drive]\nratio = 3.5\nafter = "gearbox"\n')

    assert "name the shaft that drives it" in report["driveline.working_angle.rear"].missing["final_drive.after"]


@pytest.mark.parametrize(
    "text",
    [
        BOX + '[final_drive]\nratio = 3.5\nafter = "gearbox"\n',
        BOX + '[car]\ndriven_axle = "front"\n[final_drive]\nratio = 3.5\n',
    ],
)
def test_a_car_without_prop_shaft_has_no_findings_on_one(driveline, text: str) -> None:
    """Gearbox and final drive in one case: only the half-shafts are left."""
    report = driveline(text)

    assert {finding.id.split(".")[1] for finding in report.findings} == {
        "half_shaft_angle",
        "half_shaft_running_angle",
        "plunge",
    }


def test_four_joints_are_numbered(driveline) -> None:
    """Three tubes: no word of the trade is left, so the joints are counted from the front."""
    tubes = "".join(
        f'[tube_{n}]\nkind = "prop_shaft"\nafter = "{before}"\nrear_joint = "{"cardan" if n == 3 else "rigid"}"\n'
        for n, before in ((1, "gearbox"), (2, "tube_1"), (3, "tube_2"))
    )
    report = driveline(ENDS + BOX + tubes + '[final_drive]\nratio = 3.5\nafter = "tube_3"\n')

    assert working_angles(report) == ["joint_1", "joint_2", "joint_3", "joint_4"]
    assert report["driveline.working_angle.joint_4"].about == "tube_3"


def test_a_rigid_end_is_no_joint(driveline) -> None:
    """A shaft that is bolted to the pinion has one joint, at its front; the other way round, at its rear."""
    text = (
        ENDS
        + BOX
        + '[prop_shaft]\nafter = "gearbox"\nrear_joint = "rigid"\n[final_drive]\nratio = 3.5\nafter = "prop_shaft"\n'
    )

    assert working_angles(driveline(text)) == ["front"]
    assert working_angles(driveline(text.replace("rear_joint", "front_joint"))) == ["rear"]


def test_ids_stay_when_another_shaft_is_picked(driveline) -> None:
    """Findings are named by the choice, not by the option."""
    text = (
        ENDS + BOX + '[choice.shaft]\noptions = ["thick", "thin"]\npicked = "thick"\n'
        '[thick]\nkind = "prop_shaft"\nafter = "gearbox"\nlength = "1.2 m"\n'
        '[thin]\nkind = "prop_shaft"\nafter = "gearbox"\nlength = "1.2 m"\n'
        '[final_drive]\nratio = 3.5\nafter = "shaft"\n'
    )
    thick, thin = driveline(text), driveline(text.replace('picked = "thick"', 'picked = "thin"'))

    assert {one.id for one in thick.findings} == {one.id for one in thin.findings}
    assert thick["driveline.whirl.shaft"].about == "thick"
    assert thin["driveline.whirl.shaft"].about == "thin"


def test_ids_are_unique_on_both_demo_builds() -> None:
    """No two results share an id."""
    for name in ("hillclimb", "pickup"):
        ids = [one.id for one in requirements(read(DEMOS / f"{name}.toml"), ["driveline"])]
        assert len(set(ids)) == len(ids)


def test_a_line_that_closes_a_circle_is_refused_and_never_followed_for_ever() -> None:
    """The reader of builds refuses it; the subject, asked anyway, finds a gap."""
    text = (
        '[one]\nkind = "prop_shaft"\nafter = "two"\n[two]\nkind = "prop_shaft"\nafter = "one"\n[gearbox]\nratios = [1.0]\n'
        '[final_drive]\nratio = 3.5\nafter = "one"\n'
    )
    with pytest.raises(BadInput, match="makes a loop"):
        read_text(text)
    document, _ = document_of(text, "the text")
    found = find_line(Build.from_document(document)[0])

    assert isinstance(found, Gap)
    assert any(path.endswith(".after") for path in found.wanted)
