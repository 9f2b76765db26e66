"""The way in: `trialfit ...` and `python -m trialfit ...`.

Answers   main    runs one command and gives its exit code

Exit codes  0 done, and nothing fails          1 a finding of the build fails
            2 the input cannot be read         70 a defect of this program, with its traceback
            130 interrupted                    141 the reader of the output has gone (`| head`)
"""

from __future__ import annotations

import gc
import os
import sys

from trialfit.cli.commands import COMMANDS, overview
from trialfit.cli.exit_codes import DEFECT, FINE, INTERRUPTED, READER_GONE

_HELP = ("-h", "--help", "help")
_RARELY = (
    1_000_000  # allocations between two collections: a command that lives a second leaves next to nothing to collect
)


def main(words: list[str] | None = None) -> int:
    """Runs the command typed in `words` (those of the process when None) and gives its exit code."""
    typed = sys.argv[1:] if words is None else words
    gc.set_threshold(_RARELY)
    # Arrays of a few thousand numbers: waking a second thread takes longer than what it would take over.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Nobody extends the checks of our own data: looking through all installed packages for who does takes a hundredth of a second.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    try:
        code = _run(typed)
        sys.stdout.flush()
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Python flushes stdout once more when it ends; without this that would fail again, loudly
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_GONE
    except Exception:  # noqa: BLE001 - whatever it is, the exit code must not be that of a failing finding
        from traceback import print_exc

        print_exc()
        return DEFECT
    return code


def _run(typed: list[str]) -> int:
    if not typed or typed[0] in _HELP:
        sys.stdout.write(overview())
        return FINE
    if typed == ["--version"]:
        from trialfit import __version__

        sys.stdout.write(f"trialfit {__version__}\n")
        return FINE
    from trialfit.cli.running import no_such_command, run

    return run(typed) if typed[0] in COMMANDS else no_such_command(typed)
