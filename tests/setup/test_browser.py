"""What pages need: built once when it is first asked for; where that cannot be, one sentence, and everything else runs."""

from __future__ import annotations

import shutil

import pytest

BUILT = ["installer by python", "pip node.lock", "npm ci", "esbuild"]


@pytest.fixture
def set_up(machine):
    """A machine on which the command has run."""
    machine.start("run")
    machine.asked()
    return machine


@pytest.mark.parametrize("words", [("place", "mine.toml", "--look", "bay.html"), ("clearances", "--look=bay.html")])
def test_the_first_page_builds_the_view_and_the_next_one_finds_it(set_up, words):
    first = set_up.start("run", *words)
    assert (first.stderr, first.returncode) == ("Building the 3D view of pages, once.\n", 0)
    assert first.stdout == "".join(f"[{word}]" for word in words)
    assert set_up.asked() == BUILT
    assert (set_up.made / "browser/look.js").read_text() == "bundled\n"
    assert sorted(path.name for path in (set_up.made / "browser").iterdir()) == ["look.js", "stamp"]

    assert set_up.start("run", *words).stderr == ""
    assert set_up.asked() == []


def test_a_command_without_a_page_builds_nothing(set_up):
    assert set_up.start("run", "place", "mine.toml").stderr == ""
    assert set_up.asked() == []


@pytest.mark.parametrize("broken", ["pip", "npm", "esbuild"])
def test_where_the_view_cannot_be_built_one_sentence_says_so_and_the_command_runs(set_up, broken):
    fault = set_up.breaks(broken)

    done = set_up.start("run", "place", "--look", "bay.html")

    assert (done.stdout, done.returncode) == ("[place][--look][bay.html]", 0)
    building, sentence = done.stderr.splitlines()
    assert building == "Building the 3D view of pages, once."
    assert sentence == (
        "The 3D view could not be built, so pages show the side view and the plan alone: is there a network? "
        f"Details: {set_up.made}/browser.log"
    )
    assert not list((set_up.made / "browser").iterdir())

    fault.unlink()
    set_up.asked()
    assert set_up.start("run", "place", "--look", "bay.html").returncode == 0
    assert set_up.asked() == BUILT


def test_a_changed_script_is_built_anew(set_up):
    set_up.start("run", "--look")
    set_up.asked()
    (set_up.checkout / "src/trialfit/drawing/look/look.js").write_text("// changed\n")

    set_up.start("run", "--look")

    assert set_up.asked() == BUILT


def test_the_tests_install_the_browser_as_root(machine):
    (machine.programs / "chromium").unlink()
    machine.program("id", "#!/bin/sh\necho 0\n")
    machine.program("apt-get", '#!/bin/sh\necho "apt-get $*" >>"$MACHINE/notes"\n')

    done = machine.start("test", "-x")

    assert "Installing chromium, which the tests open pages in." in done.stderr
    assert [line for line in machine.asked() if line.startswith("apt-get")] == [
        "apt-get update",
        "apt-get install -y --no-install-recommends chromium",
    ]


def test_a_user_who_may_not_install_is_told_and_the_tests_run_all_the_same(machine):
    (machine.programs / "chromium").unlink()
    machine.program("apt-get", "#!/bin/sh\nexit 100\n")

    done = machine.start("test", "-x")

    assert done.stderr.splitlines()[-1] == (
        "The tests of pages will fail, because chromium is not here and could not be installed: apt-get install chromium."
    )
    assert machine.asked()[-1] == "pytest -x"


def test_a_user_with_sudo_installs_through_it_and_is_never_asked_for_a_password(machine):
    (machine.programs / "chromium").unlink()
    machine.program("apt-get", '#!/bin/sh\necho "apt-get $1" >>"$MACHINE/notes"\n')
    machine.program("sudo", '#!/bin/sh\necho "sudo $1" >>"$MACHINE/notes"\nshift\nexec "$@"\n')

    machine.start("test", "-x")

    assert [line for line in machine.asked() if line.startswith(("sudo", "apt"))] == [
        "sudo -n",
        "apt-get update",
        "sudo -n",
        "apt-get install",
    ]


def test_where_the_view_was_thrown_away_it_is_built_again(set_up):
    set_up.start("run", "--look")
    set_up.asked()
    shutil.rmtree(set_up.made / "browser")

    set_up.start("run", "--look")

    assert set_up.asked() == BUILT
