"""Where ./run and ./test cannot set up they say in one sentence what to do, end with 2, and touch nothing."""

from __future__ import annotations

import pytest


def refusal(machine, script="run"):
    """The one sentence on stderr."""
    done = machine.start(script)
    assert (done.stdout, done.returncode) == ("", 2)
    assert len(done.stderr.splitlines()) == 1
    return done.stderr.strip()


@pytest.mark.parametrize("script", ["run", "test"])
def test_a_folder_with_the_user_s_own_files_is_left_alone(machine, script):
    (machine.made / "venv").mkdir(parents=True)
    (machine.made / "venv/letter.txt").write_text("mine")

    assert refusal(machine, script) == (
        f"{machine.made} is there already and was not made by this script: "
        "move it away, then start again. Nothing was touched."
    )
    assert [path.relative_to(machine.made).as_posix() for path in sorted(machine.made.rglob("*"))] == [
        "venv",
        "venv/letter.txt",
    ]
    assert (machine.made / "venv/letter.txt").read_text() == "mine"
    assert machine.asked() == []


def test_a_file_in_the_place_of_the_folder_is_left_alone(machine):
    machine.made.write_text("mine")

    assert "was not made by this script" in refusal(machine)
    assert machine.made.read_text() == "mine"


def test_a_link_to_nowhere_in_the_place_of_the_folder_is_left_alone(machine):
    machine.made.symlink_to("nowhere")

    assert "was not made by this script" in refusal(machine)
    assert machine.made.is_symlink()


def test_an_empty_folder_is_taken(machine):
    """A first start that was killed at its first step leaves one."""
    machine.made.mkdir()

    assert machine.start("run", "demo").stdout == "[demo]"


def test_a_link_in_the_place_of_the_environment_goes_and_what_it_points_to_stays(machine):
    machine.start("run")
    theirs = machine.folder / "theirs"
    (machine.made / "venv").rename(theirs)
    (theirs / "run-stamp").unlink()
    (machine.made / "venv").symlink_to(theirs)

    assert machine.start("run", "demo").stdout == "[demo]"
    assert (theirs / "bin/python").exists()
    assert not (machine.made / "venv").is_symlink()


def test_a_checkout_that_cannot_be_written_is_named(machine):
    machine.program("mkdir", "#!/bin/sh\necho 'mkdir: read-only file system' >&2\nexit 1\n")

    assert refusal(machine) == (
        f"{machine.made} cannot be written: copy the checkout to a folder of your own, or start as its owner."
    )


def test_a_python_that_is_too_old_is_named(machine):
    (machine.programs / "python3-is-old").touch()

    assert refusal(machine) == (
        "Python 3.11 or newer is needed and was not found (python3 is 3.9): install python3.11, then start again."
    )
    assert not machine.made.exists()


def test_a_machine_without_python_is_told_what_to_install(machine):
    (machine.programs / "python3").unlink()

    assert refusal(machine) == "Python 3.11 or newer is needed and was not found: install python3.11, then start again."
    assert not machine.made.exists()


def test_a_user_without_debian_s_missing_part_of_python_is_told_its_name(machine):
    machine.breaks("ensurepip")
    machine.program("apt-get", '#!/bin/sh\necho "apt-get $*" >>"$MACHINE/notes"\n')

    done = machine.start("run")

    assert done.returncode == 2
    assert done.stderr.splitlines()[-1] == (
        f"{machine.programs}/python3 cannot make environments: install the package python3.11-venv "
        "(apt-get install python3.11-venv), then start again."
    )
    assert machine.asked() == ["venv by python3"]


def test_root_is_told_where_that_part_could_not_be_installed(machine):
    machine.breaks("ensurepip")
    machine.program("id", "#!/bin/sh\necho 0\n")
    machine.program("apt-get", "#!/bin/sh\nexit 100\n")

    done = machine.start("run")

    assert done.returncode == 2
    assert done.stderr.splitlines()[-1] == (
        f"python3.11-venv could not be installed, and without it {machine.programs}/python3 cannot make environments. "
        f"Details: {machine.made}/installer.log"
    )
