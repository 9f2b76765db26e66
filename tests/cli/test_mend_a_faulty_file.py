"""`set` on a TOML file with faults: a mend is written; a refusal says so first, and does not print every fault of the file."""

from __future__ import annotations

import pytest

FAULTY = """[car]
mas = "960 kg"
wheelbase = "-2.4 m, taped"
front_track = "1400"
rear_track = "1400"

[engine]
max_speed = "6500"
idle_speed = "8oo rpm"

[gearbox]
ratios = ["3.6", "x"]
"""


def test_a_mend_is_written_and_what_is_left_is_said(trialfit, written):
    file = written(FAULTY)
    ran = trialfit("set", file, "car.wheelbase", "2.4 m, taped")

    assert (ran.code, ran.err) == (0, "")
    assert file.read_text() == FAULTY.replace("-2.4 m", "2.4 m")
    assert "6 faults are left in the file: " in ran.out
    assert f"`trialfitcheck{file}`liststhem" in "".join(ran.out.split())  # a long path goes over several lines


def test_mend_by_mend_the_file_becomes_sound(trialfit, written):
    file = written('[tub]\nlength = "1"\n\n[gearbox]\nratios = ["3.6", "x"]\n\n[car]\nmass = true\n')
    mends = {
        "tub.kind": "prop_shaft",  # its length is read only then, and has a fault
        "tub.length": "1 m, taped",
        "gearbox.ratios.2": "2.1",
        "car.mass": "960 kg",
    }
    assert trialfit("set", file, "tub.kind", mends.pop("tub.kind")).code == 2
    file.write_text(file.read_text().replace('"1"', '"1 m, taped"').replace("[tub]", '[tub]\nkind = "pipe"'))
    assert trialfit("set", file, "tub.kind", "prop_shaft", "--json").json["faults_left"] == 2
    assert trialfit("set", file, "gearbox.ratios.2", mends["gearbox.ratios.2"], "--json").json["faults_left"] == 1
    ran = trialfit("set", file, "car.mass", mends["car.mass"])

    assert (ran.code, "left" in ran.out) == (0, False)
    assert trialfit("facts", file, "car").code == 0


def test_one_that_mends_nothing_is_refused_with_five_faults_at_most(trialfit, written):
    file = written(FAULTY)
    ran = trialfit("set", file, "car.mass", "960 kg, weighed")
    rows = ran.err.splitlines()

    assert ran.code == 2
    assert rows[0].endswith(
        ": nothing was changed: the file has 7 faults, and this change mends none; mend these first"
    )
    assert [row.partition(", line ")[2][:1] for row in rows[1:6]] == ["2", "3", "4", "5", "8"]
    assert rows[6].endswith(f": and 2 more: `trialfit check {file}` lists all")
    assert len(rows) == 7
    assert file.read_text() == FAULTY


def test_a_new_fault_is_refused_with_that_fault_and_not_with_the_old_ones(trialfit, written):
    file = written(FAULTY)
    ran = trialfit("set", file, "car.wheelbase", "2.4 kg")
    rows = ran.err.splitlines()

    assert ran.code == 2
    assert rows[0].endswith(": nothing was changed: with this change the file would have 1 new fault")
    assert "line 3: car.wheelbase" in rows[1]
    assert rows[2].endswith(f": has 7 faults already: `trialfit check {file}` lists all")
    assert len(rows) == 3
    assert file.read_text() == FAULTY


def test_of_many_new_faults_five_are_listed(trialfit, written):
    """The kind of a part decides how all its entries are read."""
    text = '[shell]\nkind = "car"\nwheelbase = "2.4 m"\nfront_track = "1.3 m"\nrear_track = "1.3 m"\n'
    text += 'mass = "900 kg"\nrear_axle_mass = "400 kg"\ndrag_area = "0.7 m²"\n'
    file = written(text)
    ran = trialfit("set", file, "shell.kind", "gearbox")

    assert ran.code == 2
    assert ran.err.count("is not a fact of a gearbox") == 5
    assert ran.err.splitlines()[-1].endswith(": and 1 more")
    assert file.read_text() == text


@pytest.mark.parametrize("value", ["-2.5 m, taped", "2.4"])
def test_another_wrong_value_in_its_place_is_no_mend(trialfit, written, value):
    file = written('[car]\nwheelbase = "-2.4 m, taped"\n')

    assert trialfit("set", file, "car.wheelbase", value).code == 2
    assert "-2.4 m" in file.read_text()


def test_a_fault_whose_words_change_with_a_mend_is_no_new_one(trialfit, written):
    """What is suggested for the shaft's neighbour are the parts that can be read: one more after the mend."""
    file = written('[box]\nkind = "gearbx"\n\n[prop_shaft]\nafter = "bx"\nlength = "1 m, taped"\n')
    before = trialfit("check", file).err.splitlines()
    ran = trialfit("set", file, "box.kind", "gearbox")
    after = trialfit("check", file).err.splitlines()

    assert (ran.code, len(before), len(after)) == (0, 2, 1)
    assert after[0] not in before
