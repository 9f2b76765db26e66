"""The commands: name, what is typed behind it, one line of help, and where its function is.

Answers   COMMANDS    all of them
          overview    the text of `trialfit --help`
          as_started  a text with the name that this program was started by in front of each command that it tells to type
Not here  the way in (main.py)

This module, started.py and main.py import next to nothing: `trialfit --help` answers as fast as Python starts.
"""

from __future__ import annotations

from trialfit.cli.started import started_as

COMMANDS = {
    "check": ("BUILD", "what holds, what fails, and what is still open", "trialfit.cli.check:check"),
    "why": (
        "BUILD FINDING",
        "its facts, and how much uncertainty comes from each",
        "trialfit.cli.why:why",
    ),
    "unjudged": ("BUILD", "what nothing judges, and how to see it by hand", "trialfit.cli.unjudged:unjudged"),
    "measure": ("BUILD", "what to measure next, with which instrument", "trialfit.cli.measure:measure"),
    "record": (
        "BUILD REQUIREMENT READING...",
        "write several readings as one fact",
        "trialfit.cli.record:record",
    ),
    "tighten": (
        "BUILD JOINT",
        "order and stages of a bolted joint, drawn",
        "trialfit.cli.tighten:tighten",
    ),
    "sheet": (
        "BUILD [NAME]",
        "a sheet for the bench as a PDF; without NAME the list",
        "trialfit.cli.sheet:sheet",
    ),
    "draw": (
        "BUILD",
        "the general arrangement to scale, as SVG",
        "trialfit.cli.draw:draw",
    ),
    "plot": (
        "BUILD [NAME]",
        "a plot as SVG or CSV; without NAME the list",
        "trialfit.cli.plot:plot",
    ),
    "facts": (
        "BUILD [PART]",
        "facts as written, typical values in use, what is missing",
        "trialfit.cli.facts:facts",
    ),
    "place": ("BUILD", "the best place of the drivetrain, and what limits it", "trialfit.cli.place:place"),
    "clearances": (
        "BUILD",
        "every gap that matters where the drivetrain sits",
        "trialfit.cli.clearances:clearances",
    ),
    "mesh": ("FILE", "bring in a scan or drawing as convex pieces", "trialfit.cli.mesh:mesh"),
    "jobs": ("BUILD", "every job: in hand, ready, waiting for what, done", "trialfit.cli.jobs:jobs"),
    "next": ("BUILD", "what to do in the hours you have", "trialfit.cli.jobs:next_jobs"),
    "plan": ("BUILD", "dates with spread, critical chain, deliveries, money", "trialfit.cli.plan:plan"),
    "start": ("BOOK JOB", "begin a job, or take up a finished one again", "trialfit.cli.work:start"),
    "finish": ("BOOK JOB", "write down a finished job and its loose ends", "trialfit.cli.work:finish"),
    "loose": ("BUILD", "every loose end, what closes it, the gate it blocks", "trialfit.cli.work:loose"),
    "gate": ("BUILD GATE", "whether this gate may be passed, and what blocks it", "trialfit.cli.work:gate"),
    "new": ("BOOK", "begin a book, empty or from a TOML file", "trialfit.cli.new:new"),
    "set": ("FILE PATH VALUE", "write one fact into a build", "trialfit.cli.change:change"),
    "update-names": ("FILE", "rewrite old names of facts to those of today", "trialfit.cli.update:update_names"),
    "remove": ("BOOK PATH", "remove a part, a fact, a limit, a choice", "trialfit.cli.edit:remove"),
    "move": ("BOOK PATH TO", "move one value of a list", "trialfit.cli.edit:move"),
    "attach": ("BOOK PART FILE", "keep a photo, certificate or drawing", "trialfit.cli.attach:attach"),
    "forget-attachment": ("BOOK NAME", "delete an attachment for good", "trialfit.cli.attach:forget"),
    "journal": ("BOOK", "every change: when, which device, before, after", "trialfit.cli.journal:journal"),
    "undo": ("BOOK [NUMBER]", "take back a change", "trialfit.cli.journal:undo"),
    "as-of": ("BOOK DATE COMMAND ...", "run a reading command on the build at a past date", "trialfit.cli.as_of:as_of"),
    "write-out": ("BUILD FILE", "write a build as TOML, attachments beside it", "trialfit.cli.carry:write_out"),
    "read-in": ("FILE BOOK", "make a book equal to a TOML file", "trialfit.cli.carry:read_in"),
    "keep-copy": ("BOOK FOLDER", "keep a consistent copy, also while it is in use", "trialfit.cli.carry:keep_copy"),
    "verify": ("BOOK", "read a book from end to end, name what is damaged", "trialfit.cli.verify:verify"),
    "kinds": ("[KIND]", "the kinds of part and the facts each takes", "trialfit.cli.kinds:kinds"),
    "thread": ("READING", "which thread it is, by caliper and pitch gauge", "trialfit.cli.thread:thread"),
    "join": ("BUILD PORT PORT", "find the fittings from one end to another", "trialfit.cli.join:join"),
    "demo": ("", "work through an invented build", "trialfit.cli.demo:demo"),
    "schema": ("[NAME]", "the shape of what --json prints, as JSON Schema", "trialfit.cli.schema:schema"),
}
"""By name: the words behind it, one line of help, and the function as "module:name"."""

_WIDEST = 20
_OPENING = """\
trialfit works out on paper whether another engine, gearbox and final drive
fit a car, before anything is cut."""
_CLOSING = """\
{program} COMMAND --help says more about one. BUILD is a book or a TOML file.

exit code  0 nothing fails   1 a finding fails   2 the input cannot be read
"""
_TYPED = 20  # columns for what is typed; what is longer has a line of its own


def overview() -> str:
    """All commands, in 80 columns and without colour."""
    typed = {name: f"{name} {words}".strip() for name, (words, _, _) in COMMANDS.items()}
    width = max(len(words) for words in typed.values() if len(words) <= _WIDEST)
    lines = [_line(typed[name], says, width) for name, (_, says, _) in COMMANDS.items()]
    return "\n".join(
        [_OPENING, "", f"usage: {started_as()} COMMAND ...", "", *lines, "", _CLOSING.format(program=started_as())]
    )


def _line(typed: str, says: str, width: int) -> str:
    """One command; if it is too long for its column, its help is on the next line."""
    return f"  {typed:{width}}  {says}" if len(typed) <= width else f"  {typed}\n  {'':{width}}  {says}"


def as_started(text: str) -> str:
    """A text with its commands as the builder has to type them."""
    name = started_as()
    if name == "trialfit" or "trialfit " not in text:
        return text
    import re  # here: help does without

    return re.sub(rf"(?<![\w/.-])(?<!-m )trialfit (?=(?:{'|'.join(COMMANDS)})\b)", f"{name} ", text)
