"""Any bytes whatever as the file of a build: it is read and worked out, or refused in sentences, and never anything else.

    .setup/venv/bin/python -W error::RuntimeWarning tests/fuzz/fuzz_builds.py -max_total_time=100 [FOLDER OF EXAMPLES]

Every other input is a demo with lines taken out and numbers changed, since bytes at random seldom make a build that reads.
What reads is worked out by two draws. Needs atheris.

Ran 101 seconds on 2026-11-25 from the two demos: 1,272 inputs, 787 of them worked out, nothing found; before that 101 seconds
of bytes alone: 31,145 files, nothing found. A shorter property test in tests/book/test_any_bytes.py keeps the promise of reading.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["trialfit"]):
    from trialfit.book import BadInput, read
    from trialfit.subjects import evaluate

FILE = Path(tempfile.mkdtemp()) / "fuzzed.toml"
DEMOS = [path.read_text("utf-8").splitlines() for path in sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))]
NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
EXTREMES = ["0", "1", "1e-9", "0.001", "89.9", "400", "1e6", "1e14"]


def one_input(data: bytes) -> None:
    """Writes the bytes, or a demo changed as they say, to a file, reads it as a build, and works out what it reads."""
    provider = atheris.FuzzedDataProvider(data)
    FILE.write_bytes(_changed_demo(provider) if provider.ConsumeBool() else data)
    try:
        evaluate(read(FILE), draws=2)
    except BadInput as refused:
        if not all(refused.sentences()):
            raise AssertionError(data) from None


def _changed_demo(provider: atheris.FuzzedDataProvider) -> bytes:
    lines = list(provider.PickValueInList(DEMOS))
    for _ in range(provider.ConsumeIntInRange(1, 6)):
        place = provider.ConsumeIntInRange(0, len(lines) - 1)
        if provider.ConsumeBool():
            del lines[place]
        else:
            number = provider.PickValueInList([*EXTREMES, f"{provider.ConsumeRegularFloat():.6g}"])
            lines[place] = NUMBER.sub(number, lines[place], count=1)
    return "\n".join(lines).encode()


if __name__ == "__main__":
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()
