"""The commands: name, what is typed behind it, one line of help, and where its function is.

Answers   COMMANDS    all of them
          overview    the text of `trialfit --help`
Not here  the way in (main.py)

This module, started.py and main.py import next to nothing: `trialfit --help` answers as fast as Python starts.
"""

from __future__ import annotations

from trialfit.cli.started import started_as

COMMANDS = {
    "check": ("BUILD", "what holds, what fails, and what nobody can say yet", "trialfit.cli.check:check"),
    "why": ("BUILD FINDING", "what it stands on, and which fact causes how much doubt", "trialfit.cli.why:why"),
    "measure": ("BUILD", "what to measure next, with what, and what that settles", "trialfit.cli.measure:measure"),
    "facts": (
        "BUILD [PART]",
        "facts as written, typical values in use, what is missing",
        "trialfit.cli.facts:facts",
    ),
    "place": ("BUILD", "where the drivetrain sits best, and what holds it back", "trialfit.cli.place:place"),
    "clearances": (
        "BUILD",
        "every gap that matters where the drivetrain sits",
        "trialfit.cli.clearances:clearances",
    ),
    "mesh": ("FILE", "bring in a scan or drawing as convex pieces", "trialfit.cli.mesh:mesh"),
    "set": ("FILE PATH VALUE", "write one fact into a build", "trialfit.cli.change:change"),
    "kinds": ("[KIND]", "the kinds of part and the facts each takes", "trialfit.cli.kinds:kinds"),
    "demo": ("", "work an invented build through and end", "trialfit.cli.demo:demo"),
    "schema": ("[NAME]", "the shape of what --json prints, as JSON Schema", "trialfit.cli.schema:schema"),
}
"""By name: the words behind it, one line of help, and the function as "module:name"."""

_OPENING = """\
trialfit works out on paper whether another engine, gearbox and final drive go
into a car, before anything is cut."""
_CLOSING = """\
{program} COMMAND --help says more about one. BUILD is a TOML file.

exit code  0 nothing fails   1 a finding fails   2 the input cannot be read
"""


def overview() -> str:
    """What there is to type, in 80 columns and without colour."""
    typed = {name: f"{name} {words}".strip() for name, (words, _, _) in COMMANDS.items()}
    width = max(map(len, typed.values()))
    lines = [f"  {typed[name]:{width}}  {says}" for name, (_, says, _) in COMMANDS.items()]
    return "\n".join(
        [_OPENING, "", f"usage: {started_as()} COMMAND ...", "", *lines, "", _CLOSING.format(program=started_as())]
    )
