"""The reference of the commands, made from what `--help` prints."""

from __future__ import annotations

import io
from contextlib import redirect_stdout

from generating.writing import contents, sentence, verbatim
from trialfit.cli.commands import COMMANDS, overview
from trialfit.cli.running import app_of


def command_pages() -> dict[str, str]:
    """The pages by path."""
    index = "\n".join(
        [
            "# Commands",
            "",
            "In a checkout `./run` takes the place of `trialfit`.",
            "",
            verbatim(overview()),
            "",
            contents(COMMANDS),
        ]
    )
    return {"commands/index.md": index, **{f"commands/{name}.md": _page(name) for name in COMMANDS}}


def _page(name: str) -> str:
    return "\n\n".join([f"# trialfit {name}", sentence(COMMANDS[name][1]) + ".", verbatim(help_of(name))])


def help_of(name: str) -> str:
    """What `trialfit NAME --help` prints, in 80 columns."""
    from rich.console import Console

    caught = io.StringIO()
    with redirect_stdout(caught):
        app_of(name)([name, "--help"], console=Console(file=caught, width=80), exit_on_error=False)
    return "\n".join(line.rstrip() for line in caught.getvalue().splitlines())
