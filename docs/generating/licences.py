"""The licences of all packages that the command runs on, from what is installed: docs/licences.md.

Answers   licence_page   the text of the page
          run_time       the packages, by the lock
          licence_of     what a package says of itself, in SPDX words
          unpermitted    what is not allowed, and what is said here of packages without need

Writes the page anew: `.setup/venv/bin/python docs/generating/licences.py`. The tests compare it.
"""

from __future__ import annotations

import re
import sys
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "licences.md"
LOCK = ROOT / "requirements-step.lock"  # the command's packages and the extra

PERMITTED = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "BSD", "CC0-1.0", "ISC", "MIT", "MIT-CMU", "OFL-1.1", "PSF-2.0", "Zlib",
}  # fmt: skip
"""Free for every use, also when it is sold, with no more asked than that the notice stays."""

SAID = {
    "vhacdx": (
        "MIT AND BSD-3-Clause",
        "read in its LICENSE file: MIT for the package, BSD-3-Clause for V-HACD inside it",
    ),
}
"""Packages whose metadata name no licence, by what their files say."""

CARRIED = {
    "cascadio": "Open CASCADE (LGPL-2.1 with an exception, from memory), as libraries of its own",
    "numpy": "OpenBLAS (BSD-3-Clause) and the run-time of GCC (GPL-3.0 with the exception for every use, libquadmath LGPL-2.1)",
    "ortools": "solvers: SCIP (Apache-2.0), HiGHS (MIT), Cbc and Clp (EPL-2.0), all from memory",
    "pillow": "readers of picture formats, listed in its LICENSE file",
    "python-fcl": "FCL, libccd and OctoMap (BSD, from memory)",
    "scipy": "OpenBLAS (BSD-3-Clause) and the run-time of GCC (GPL-3.0 with the exception for every use, libquadmath LGPL-2.1)",
    "shapely": "GEOS (LGPL-2.1), as a library of its own",
}
"""Libraries of others inside a package. The LGPL asks that such a library can be replaced: it lies in a file of its own."""

_CLASSES = {
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD",
    "ISC License (ISCL)": "ISC",
    "MIT License": "MIT",
    "SIL Open Font License 1.1 (OFL-1.1)": "OFL-1.1",
}
_WORDS = {"Apache 2.0": "Apache-2.0", "The MIT License (MIT)": "MIT", "MIT License": "MIT"}
_OPERATORS = re.compile(r"\s+(?:AND|OR)\s+|[()]")
_ABOUT = """\
# Licences

Every package that `./run` installs, and those of the extra `step`, by what its metadata say. All are free for every use, also
when it is sold. The versions stand in `requirements.lock`. This page is made by `docs/generating/licences.py`, and the tests
refuse a package whose licence is not on the list of permitted ones.

trialfit itself is under the MIT licence. It brings two files of the fonts DejaVu Sans under the Bitstream Vera licence
(`src/trialfit/sheets/dejavu/LICENSE`); pages with a 3D view hold three.js (MIT).
"""


def run_time() -> list[str]:
    """Names of the packages that the command and the extra need on this machine, in the order of the alphabet."""
    lines = (line.partition("--hash")[0].strip(" \\") for line in LOCK.read_text(encoding="utf-8").splitlines())
    wanted = [Requirement(line) for line in lines if "==" in line]
    return sorted({one.name for one in wanted if one.marker is None or one.marker.evaluate()})


def licence_of(package: str) -> str:
    """The licence that a package declares, empty where it declares none that is known here. Raises PackageNotFoundError."""
    says = metadata(package)
    if says["License-Expression"]:
        return says["License-Expression"]
    classes = [one.rpartition(":: ")[2] for one in says.get_all("Classifier", []) if one.startswith("License ::")]
    if classes:
        return " AND ".join(_CLASSES.get(one, one) for one in classes)
    first = (says["License"] or "").strip().partition("\n")[0].strip()
    return next((spdx for word, spdx in _WORDS.items() if first.startswith(word)), first)


def unpermitted(packages: list[str] | None = None) -> list[str]:
    """One sentence for each package that may not be here, or of which more is said here than is needed."""
    found = []
    wanted = run_time() if packages is None else packages
    for package in wanted:
        declared = licence_of(package)
        if package in SAID and declared:
            found.append(f"{package} declares {declared} by now: take it out of SAID")
        licence = SAID[package][0] if package in SAID else declared
        strange = [one for one in _OPERATORS.split(licence) if one and one not in PERMITTED]
        if strange or not licence:
            found.append(f"{package}: {' and '.join(strange) or 'no licence'} is not on the list of permitted licences")
    if packages is None:
        found += [f"{one} is spoken of and is no package of the command" for one in {*SAID, *CARRIED} - set(wanted)]
    return found


def licence_page() -> str:
    """The page, in Markdown."""
    rows = ["| package | licence | |", "|---|---|---|"]
    for package in run_time():
        licence, why = SAID.get(package, (licence_of(package), ""))
        notes = "; ".join(one for one in (why, f"brings {CARRIED[package]}" if package in CARRIED else "") if one)
        rows.append(f"| {package} | {licence} | {notes} |")
    return "\n".join([_ABOUT, *rows]) + "\n"


if __name__ == "__main__":
    try:
        PAGE.write_text(licence_page(), encoding="utf-8")
    except PackageNotFoundError as wrong:
        sys.exit(
            f"{wrong.name} is not installed here: ./test installs all packages of the list, then start this again."
        )
