"""How long a whole build takes now, against an older commit on the same machine in the same run.

    .setup/venv/bin/python benchmarks/against.py COMMIT [BUILD.toml] [ROUNDS]

The older program is taken out of the repository into a folder of its own. Both are then timed in turn, each round in a process
of its own after one warm-up: processor time of one evaluation of all findings at 4096 draws, on one processor. Prints the least of
each, their ratio, and the ratio of the medians.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parent.parent
ONE_PROCESSOR = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}
TIMED = """
import sys, time
import trialfit as tf
from trialfit.subjects.catalogue import evaluate
build = tf.read(sys.argv[1])
evaluate(build, 256)
begun = time.process_time()
evaluate(build, 4096)
print(time.process_time() - begun)
"""


def seconds(source: Path, build: Path) -> float:
    """Processor time of one evaluation with the program in that folder."""
    environment = {**os.environ, **ONE_PROCESSOR, "PYTHONPATH": str(source)}
    ran = subprocess.run(  # noqa: S603 - ours
        [sys.executable, "-c", TIMED, str(build)], env=environment, capture_output=True, text=True, check=True
    )
    return float(ran.stdout)


def main() -> None:
    """Times both in turn and prints the comparison."""
    commit, *rest = sys.argv[1:] or ["HEAD~1"]
    build = Path(rest[0] if rest else ROOT / "demos" / "hillclimb.toml").resolve()
    rounds = int(rest[1]) if len(rest) > 1 else 5
    with tempfile.TemporaryDirectory() as folder:
        packed = Path(folder) / "old.tar"
        command = ["git", "-C", str(ROOT), "archive", "-o", str(packed), commit, "src"]
        subprocess.run(command, check=True)  # noqa: S603 - the commit is given by whoever starts it
        with tarfile.open(packed) as archive:
            archive.extractall(folder, filter="data")
        old, new = Path(folder) / "src", ROOT / "src"
        spent = [(seconds(old, build), seconds(new, build)) for _ in range(rounds)]
    before, now = ([pair[number] for pair in spent] for number in (0, 1))
    print(f"{build.name}, 4096 draws, {rounds} rounds")
    print(f"{commit:12} {min(before) * 1e3:8.0f} ms")
    print(f"{'now':12} {min(now) * 1e3:8.0f} ms")
    print(f"ratio        {min(now) / min(before):8.2f}    of the medians {median(now) / median(before):.2f}")


if __name__ == "__main__":
    main()
