"""Old names at the command line: a remark, the new name in the answer, and the file rewritten by one command."""

from __future__ import annotations

import pytest

OLD = """\
[engine]
max_speed = "6200 rpm"
shock_factor = "1.6 ± 0.3, guess"  # firing pulses

[arm_weld]
kind = "weld"
torch_room = "90 mm, taped"
"""
NEW = OLD.replace("shock_factor", "application_factor").replace("torch_room", "torch_access")


def test_a_build_with_old_names_is_read_with_a_remark_that_the_command_makes_go_away(tmp_path, trialfit):
    file = tmp_path / "old.toml"
    file.write_text(OLD, encoding="utf-8")

    read = trialfit("facts", file)
    done = trialfit("update-names", file)
    again = trialfit("facts", file)

    assert read.code == 0
    assert read.err == (
        'engine.shock_factor is now called "application_factor", and 1 more name is old: '
        f"`trialfit update-names {file}` rewrites them\n"
    )
    assert "application_factor" in read.out
    said = " ".join(done.out.split())
    assert "2 old names are now those of today" in said
    assert "engine.shock_factor shock_factor → application_factor" in said
    assert (again.out, again.err) == (read.out, "")
    assert file.read_text(encoding="utf-8") == NEW


@pytest.mark.parametrize(
    "words",
    [
        ("sheet", "old.toml"),
        ("draw", "old.toml", "--json", "--draws", "16"),
        ("draw", "new.toml", "--against", "old.toml", "--json", "--draws", "16"),
    ],
)
def test_what_is_drawn_and_printed_says_so_too(tmp_path, trialfit, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.toml").write_text(OLD, encoding="utf-8")
    (tmp_path / "new.toml").write_text(NEW, encoding="utf-8")

    assert trialfit(*words).err == (
        'engine.shock_factor is now called "application_factor", and 1 more name is old: '
        "`trialfit update-names old.toml` rewrites them\n"
    )


def test_check_says_it_once_on_its_page(tmp_path, trialfit):
    file = tmp_path / "old.toml"
    file.write_text(OLD, encoding="utf-8")

    ran = trialfit("check", file, "--subject", "lifting")

    assert ran.err == ""
    assert " ".join(ran.out.split()).count('engine.shock_factor is now called "application_factor"') == 1


def test_a_file_of_today_is_not_touched(tmp_path, trialfit):
    file = tmp_path / "new.toml"
    file.write_text(NEW, encoding="utf-8")
    before = file.stat().st_mtime_ns

    assert "no old names; nothing was changed" in " ".join(trialfit("update-names", file).out.split())
    assert trialfit("update-names", file, "--json").json == {"file": str(file), "names": [], "remark": ""}
    assert file.stat().st_mtime_ns == before


def test_an_old_path_is_answered_with_the_new_name(tmp_path, trialfit):
    file = tmp_path / "mine.toml"
    file.write_text(NEW, encoding="utf-8")

    assert (
        trialfit("set", file, "engine.shock_factor", "1.7, guess", "--json").json["path"] == "engine.application_factor"
    )
    assert trialfit("why", file, "structure.weld_room.arm_weld", "--json").json["finding"]["id"] == (
        "structure.torch_access.arm_weld"
    )
    assert trialfit("kinds", "given_back", "--json").json["kinds"][0]["kind"] == "reinforcement"


def test_readings_are_recorded_by_an_old_path(tmp_path, trialfit):
    file = tmp_path / "mine.toml"
    file.write_text(NEW, encoding="utf-8")

    ran = trialfit("record", file, "arm_weld.torch_room", "92 mm", "93 mm", "--method", "tape", "--json")

    assert ran.json["path"] == "arm_weld.torch_access"
