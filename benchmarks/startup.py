"""How fast the command starts, against Python doing nothing.

    .setup/venv/bin/python benchmarks/startup.py [ROUNDS]

Each round (15) runs every command once, in turn, so that a busy moment of the machine meets all of them alike. Prints the
median time of each in milliseconds and its ratio to `python -c pass`. The first line below it is the one to look at:
`trialfit --help`. `./run --help` adds the shell that finds the environment.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parent.parent
DEMO = str(ROOT / "demos" / "hillclimb.toml")
COMMANDS = {
    "python -c pass": [sys.executable, "-c", "pass"],
    "trialfit --help": [sys.executable, "-m", "trialfit", "--help"],
    "./run --help": [str(ROOT / "run"), "--help"],
    "trialfit kinds --help": [sys.executable, "-m", "trialfit", "kinds", "--help"],
    "trialfit check --help": [sys.executable, "-m", "trialfit", "check", "--help"],
    "trialfit kinds prop_shaft": [sys.executable, "-m", "trialfit", "kinds", "prop_shaft"],
    "trialfit facts hillclimb": [sys.executable, "-m", "trialfit", "facts", DEMO],
    "trialfit check hillclimb": [sys.executable, "-m", "trialfit", "check", DEMO],
    "trialfit measure hillclimb": [sys.executable, "-m", "trialfit", "measure", DEMO],
}


def spent(command: list[str]) -> float:
    """Seconds from start to end of a command, its output thrown away."""
    begun = time.perf_counter()
    ran = subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)  # noqa: S603 - ours
    if ran.returncode not in (0, 1):
        raise SystemExit(ran.stderr.decode())
    return time.perf_counter() - begun


def main() -> None:
    """Runs the rounds and prints the table."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    for command in COMMANDS.values():  # bytecode is written here, once
        spent(command)
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(rounds):
        for name, command in COMMANDS.items():
            times[name].append(spent(command))
    nothing = median(times["python -c pass"])
    print(f"median of {rounds}                     ms    times python -c pass")
    for name, found in times.items():
        print(f"{name:28} {median(found) * 1e3:6.0f} {median(found) / nothing:10.1f}")


if __name__ == "__main__":
    main()
