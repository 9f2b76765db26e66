"""./run: sets up once, in whatever state it finds the checkout and the machine, and then is the command."""

from __future__ import annotations

import shutil

import pytest

AGAIN = ["installer by python3", "pip installer.lock", "uv requirements.lock"]
FIRST = ["venv by python3", *AGAIN]


def test_the_first_start_sets_up_and_runs_the_command_with_its_words_untouched(machine):
    done = machine.start("run", "why", "two words", "", "*", "$HOME")

    assert done.stdout == "[why][two words][][*][$HOME]"
    assert done.stderr == f"Setting up, once: fetching packages into {machine.made}.\n"
    assert done.returncode == 0
    assert machine.asked() == FIRST
    assert (machine.made / "venv/site/trialfit.pth").read_text() == "../../../../../src\n"
    assert not (machine.made / "installer").exists()


def test_tests_and_sources_inside_packages_are_thrown_away(machine):
    """They are never imported, and weigh 40 MB."""
    machine.program(
        "python3", (machine.programs / "python3").read_text().replace('"$last/site"', '"$last/site/numpy/lib/tests"')
    )
    machine.start("run")

    assert (machine.made / "venv/site/numpy/lib").is_dir()
    assert not (machine.made / "venv/site/numpy/lib/tests").exists()


def test_an_environment_of_before_with_installers_in_it_is_made_anew(machine):
    machine.start("run")
    machine.asked()
    (machine.made / "venv/bin/pip").touch()
    (machine.checkout / "requirements.lock").write_text("nothing==2.0\n")

    machine.start("run")

    assert machine.asked() == FIRST
    assert not (machine.made / "venv/bin/pip").exists()


def test_the_second_start_installs_nothing_and_says_nothing(machine):
    machine.start("run", "demo")
    machine.asked()

    done = machine.start("run", "demo")

    assert (done.stdout, done.stderr) == ("[demo]", "")
    assert machine.asked() == []


def test_the_exit_code_is_the_command_s(machine):
    machine.settings["EXIT"] = "1"

    assert machine.start("run", "check").returncode == 1


def test_a_link_to_the_script_works_from_elsewhere(machine):
    (machine.folder / "fit").symlink_to(machine.checkout / "run")
    (machine.checkout / "fit").symlink_to(machine.folder / "fit")

    assert machine.start("fit", "demo").stdout == "[demo]"


def test_the_command_is_told_the_name_it_was_started_by(machine):
    """So that the commands it prints can be pasted."""
    machine.start("run", "demo")
    assert (machine.folder / "started-as").read_text().endswith("run")

    (machine.checkout / "fit").symlink_to(machine.checkout / "run")
    machine.start("fit", "demo")
    assert (machine.folder / "started-as").read_text().endswith("fit")


def test_an_interrupt_is_held_back_while_the_program_starts(machine):
    (machine.programs / "true").symlink_to(shutil.which("true"))
    machine.program("env", '#!/bin/sh\necho "$*" >>"$MACHINE/envs"\nshift\nexec "$@"\n')
    done = machine.start("run", "demo")

    assert (done.stdout, done.returncode) == ("[demo]", 0)
    held = (machine.folder / "envs").read_text().splitlines()[-1]
    assert held == f"--block-signal=INT {machine.made}/venv/bin/python -P -m trialfit demo"


def test_an_env_that_cannot_hold_it_back_is_done_without(machine):
    machine.program("env", "#!/bin/sh\nexit 125\n")
    done = machine.start("run", "demo")

    assert (done.stdout, done.returncode) == ("[demo]", 0)


def test_settings_of_other_environments_are_left_outside(machine):
    machine.settings |= dict.fromkeys(("PYTHONPATH", "PYTHONHOME", "PIP_USER", "VIRTUAL_ENV"), "elsewhere")

    assert machine.start("run", "demo").returncode == 0
    assert machine.asked() == FIRST


def test_a_changed_lock_is_installed_into_the_same_environment(machine):
    machine.start("run")
    machine.asked()
    (machine.checkout / "requirements.lock").write_text("nothing==2.0\n")

    machine.start("run")

    assert machine.asked() == AGAIN


def test_a_checkout_that_was_moved_is_set_up_again(machine):
    """The scripts in an environment hold its path."""
    machine.start("run")
    machine.asked()
    machine.checkout = machine.checkout.rename(machine.folder / "moved")

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked() == FIRST


def test_an_environment_with_a_python_that_has_gone_is_made_anew(machine):
    machine.start("run")
    machine.asked()
    interpreter = machine.made / "venv/bin/python"
    interpreter.unlink()
    interpreter.symlink_to("/gone/python3.11")

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked() == FIRST


def test_an_environment_that_somebody_made_with_an_older_python_is_made_anew(machine):
    machine.start("run")
    machine.asked()
    shutil.rmtree(machine.made / "venv")
    (machine.made / "venv/bin").mkdir(parents=True)
    shutil.copy(machine.programs / "python3", machine.made / "venv/bin/python")
    (machine.made / "venv/bin/python-is-old").touch()

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked() == FIRST


def test_an_environment_that_turned_old_in_place_is_made_anew_when_the_lock_changes(machine):
    machine.start("run")
    machine.asked()
    (machine.made / "venv/bin/python-is-old").touch()
    (machine.checkout / "requirements.lock").write_text("nothing==2.0\n")

    machine.start("run")

    assert machine.asked() == FIRST


def test_a_set_up_that_was_killed_is_done_again(machine):
    power = machine.breaks("power")
    killed = machine.start("run", "demo")
    assert (killed.stdout, killed.returncode) == ("", -9)
    assert machine.asked() == FIRST
    power.unlink()

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked() == FIRST


def test_of_two_starts_at_once_the_second_waits_and_finds_everything_done(machine):
    speed = machine.breaks("speed")
    starts = [machine.popen("run", "demo"), machine.popen("run", "demo")]
    notices = [start.stderr.readline() for start in starts]
    speed.unlink()

    assert [start.communicate(timeout=120)[0] for start in starts] == ["[demo]", "[demo]"]
    assert sorted(notices) == [
        "Another set-up is at work here: waiting for it.\n",
        f"Setting up, once: fetching packages into {machine.made}.\n",
    ]
    assert machine.asked() == FIRST


def test_uv_tries_the_certificates_of_the_machine_where_its_own_are_not_enough(machine):
    machine.breaks("certificates")

    done = machine.start("run", "demo")

    assert done.stdout == "[demo]"
    assert len(done.stderr.splitlines()) == 1
    assert machine.asked() == [*FIRST, "uv requirements.lock"]


def test_where_uv_does_not_get_through_pip_installs_the_same_lock(machine):
    machine.breaks("uv")

    done = machine.start("run", "demo")

    assert done.stdout == "[demo]"
    assert "The fast installer did not get through: trying pip, which takes longer." in done.stderr
    assert machine.asked() == [*FIRST, "uv requirements.lock", "pip requirements.lock"]


def test_without_a_network_the_set_up_says_so_and_the_next_start_tries_again(machine):
    network = machine.breaks("pip")

    failed = machine.start("run", "demo")

    assert (failed.stdout, failed.returncode) == ("", 2)
    assert failed.stderr.splitlines()[-1] == (
        f"The packages could not be installed: is there a network? Details: {machine.made}/install.log"
    )
    network.unlink()
    assert machine.start("run", "demo").stdout == "[demo]"


def test_after_the_tests_the_command_needs_nothing_more(machine):
    machine.start("test", "-x")
    machine.asked()

    assert machine.start("run", "demo").stderr == ""
    assert machine.asked() == []


def test_the_tests_packages_stay_when_the_command_needs_something_new(machine):
    machine.start("test", "-x")
    machine.asked()
    (machine.checkout / "requirements.lock").write_text("nothing==2.0\n")

    machine.start("run")

    assert machine.asked() == [*AGAIN[:-1], "uv requirements-test.lock"]


def test_the_reader_of_step_drawings_is_added_by_a_script_of_its_own(machine):
    machine.start("run")
    machine.asked()

    added = machine.start("setup/step.sh")

    assert (added.stdout, added.returncode) == ("STEP drawings can be read.\n", 0)
    assert machine.asked() == [*AGAIN[:-1], "uv requirements-step.lock"]
    assert machine.start("run", "demo").stderr == ""
    assert machine.start("setup/step.sh").stderr == ""
    assert machine.asked() == []


def test_the_reader_of_step_drawings_stays_when_the_command_needs_something_new(machine):
    machine.start("setup/step.sh")
    machine.asked()
    (machine.checkout / "requirements.lock").write_text("nothing==2.0\n")

    machine.start("run")

    assert machine.asked() == [*AGAIN[:-1], "uv requirements-step.lock"]


def test_after_the_tests_the_reader_of_step_drawings_is_there(machine):
    machine.start("test", "-x")
    machine.asked()

    assert machine.start("setup/step.sh").stderr == ""
    assert machine.asked() == []


@pytest.mark.parametrize("name", ["python3.13", "python3.12", "python3.11"])
def test_a_newer_python_is_found_by_its_name(machine, name):
    shutil.copy(machine.programs / "python3", machine.programs / name)
    (machine.programs / "python3-is-old").touch()

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked()[0] == f"venv by {name}"


def test_debian_s_missing_part_of_python_is_installed_for_root(machine):
    machine.breaks("ensurepip")
    machine.program("id", "#!/bin/sh\necho 0\n")
    machine.program("apt-get", '#!/bin/sh\necho "apt-get $*" >>"$MACHINE/notes"\nrm -f "$MACHINE/broken/ensurepip"\n')

    done = machine.start("run", "demo")

    assert done.stdout == "[demo]"
    assert f"Installing python3.11-venv, which {machine.programs}/python3 lacks." in done.stderr
    assert machine.asked() == [
        "venv by python3",
        "apt-get update",
        "apt-get install -y --no-install-recommends python3.11-venv",
        *AGAIN,
    ]


def test_an_environment_from_which_a_package_has_gone_is_made_anew(machine):
    machine.start("run", "demo")
    machine.asked()
    (machine.made / "venv/site/trialfit.pth").unlink()

    assert machine.start("run", "demo").stdout == "[demo]"
    assert machine.asked() == FIRST
    assert machine.start("run", "demo").stderr == ""
    assert machine.asked() == []
