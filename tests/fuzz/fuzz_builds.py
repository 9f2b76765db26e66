"""Any bytes whatever as the file of a build: it is read, or refused in sentences, and never anything else.

    .setup/venv/bin/python tests/fuzz/fuzz_builds.py -max_total_time=120 [FOLDER OF EXAMPLES]

Needs atheris. Ran 151 seconds on 2026-11-25 from the two demos: 66,833 files, nothing found. The same promise is kept by a shorter property test in tests/book/test_any_bytes.py.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["trialfit"]):
    from trialfit.book import BadInput, read

FILE = Path(tempfile.mkdtemp()) / "fuzzed.toml"


def one_input(data: bytes) -> None:
    """Writes the bytes to a file and reads it as a build."""
    FILE.write_bytes(data)
    try:
        read(FILE)
    except BadInput as refused:
        if not all(refused.sentences()):
            raise AssertionError(data) from None


if __name__ == "__main__":
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()
