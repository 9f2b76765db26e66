"""One set-up with the real Python and the real pip, from a package lying in a folder: nothing is fetched.

uv finds no way out here, so this is the fall-back by pip; ./test itself was set up by uv a moment ago.
"""

from __future__ import annotations

import base64
import hashlib
import os
import sys
import zipfile

from thorough import only_long

COMMAND = """import random, sys
from pathlib import Path
import nut
print(nut.SPANNER, sys.argv[1:], Path(__file__).parents[2].name, random.choice([7]))
"""


def make_wheel(folder, version="1.0"):
    """A package of one line; returns its line for a lock."""
    record = f"nut-{version}.dist-info/RECORD"
    members = {
        "nut.py": f"SPANNER = 'nut {version}'\n",
        f"nut-{version}.dist-info/METADATA": f"Metadata-Version: 2.1\nName: nut\nVersion: {version}\n",
        f"nut-{version}.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    lines = [f"{name},sha256={digest(text)},{len(text)}\n" for name, text in members.items()]
    members[record] = "".join([*lines, f"{record},,\n"])
    path = folder / f"nut-{version}-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        for name, text in members.items():
            wheel.writestr(name, text)
    return f"nut=={version} --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


def digest(text):
    return base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()


@only_long
def test_a_whole_set_up_in_a_path_with_a_space_and_an_umlaut(machine):
    machine.checkout = machine.checkout.rename(machine.folder / "mein Geländewagen")
    (machine.programs / "python3").unlink()
    (machine.programs / "python3").symlink_to(os.path.realpath(sys.executable))
    (machine.checkout / "requirements.lock").write_text(make_wheel(machine.folder))
    command = machine.checkout / "src/trialfit/__main__.py"
    command.parent.mkdir(parents=True, exist_ok=True)
    command.write_text(COMMAND)
    # The builder's own file in the folder the command is started in; it must not be taken for the module of that name.
    (machine.folder / "random.py").write_text("raise SystemExit('imported the file of the builder')\n")
    machine.settings |= {
        "HOME": str(machine.folder),
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(machine.folder),
        # Settings that would send the package elsewhere.
        "PIP_USER": "1",
        "PYTHONPATH": str(machine.folder),
    }

    first = machine.start("run", "demo")
    second = machine.start("run", "demo")

    said = "nut 1.0 ['demo'] mein Geländewagen 7\n"
    assert first.stdout == second.stdout == said
    assert first.stderr.splitlines() == [
        f"Setting up, once: fetching packages into {machine.made}.",
        "The fast installer did not get through: trying pip, which takes longer.",
    ]
    assert second.stderr == ""

    make_wheel(machine.folder, "2.0")
    (machine.checkout / "requirements.lock").write_text("nut==2.0 --hash=sha256:" + "0" * 64 + "\n")
    another_file_of_that_name = machine.start("run", "demo")
    assert (another_file_of_that_name.stdout, another_file_of_that_name.returncode) == ("", 2)
    assert "THESE PACKAGES DO NOT MATCH THE HASHES" in (machine.made / "install.log").read_text()
