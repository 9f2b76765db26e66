"""The way in: `trialfit ...` and `python -m trialfit ...`.

Answers   main    runs one command and gives its exit code

Exit codes  0 done, and nothing fails          1 a finding of the build fails
            2 the input cannot be read, or     70 a defect of this program, with its traceback
              the output cannot be written
            130 interrupted                    141 the reader of the output has closed it (`| head`)
"""

from __future__ import annotations

import gc
import os
import sys

from trialfit.cli.commands import COMMANDS, overview
from trialfit.cli.exit_codes import BAD_INPUT, DEFECT, FINE, INTERRUPTED, READER_GONE
from trialfit.cli.streams import OUTPUT_FAILED, give_up, interrupts, open_closed_streams, say

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
    open_closed_streams()
    with interrupts() as interrupted:
        try:
            code = _run(typed)
            sys.stdout.flush()
        except KeyboardInterrupt:
            return INTERRUPTED
        except BrokenPipeError:
            give_up(sys.stdout)
            return READER_GONE
        except Exception as wrong:  # noqa: BLE001 - whatever it is, the exit code must not be that of a failing finding
            return INTERRUPTED if interrupted else _failed(wrong)
    return code


def _failed(wrong: Exception) -> int:
    """Prints an unexpected error and gives the exit code."""
    if isinstance(wrong, OSError) and wrong.filename is None and wrong.errno in OUTPUT_FAILED:
        give_up(sys.stdout)
        say(f"the output cannot be written: {(wrong.strerror or str(wrong)).lower()}")
        return BAD_INPUT
    if isinstance(wrong, ImportError) and not (wrong.name or "").startswith("trialfit"):
        say(f"{sys.prefix} lacks a package, or a part of one ({wrong}): delete that folder, then ./run sets it up anew")
        return DEFECT
    from traceback import format_exception

    from trialfit.book.problems import harmless

    say("\n".join(harmless(line) for line in "".join(format_exception(wrong)).splitlines()))
    return DEFECT


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
