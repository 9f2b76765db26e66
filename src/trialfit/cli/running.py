"""One command run: its words understood, its function called, bad input said in plain sentences.

Answers   run               runs a command; 2 where the input is bad
          app_of            the application that understands the words of one command
          no_such_command   says which commands are near
Not here  help for all commands (commands.py); exit codes (main.py)
"""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Literal, get_args, get_origin

from cyclopts import App, CycloptsError
from cyclopts.exceptions import CoercionError, MissingArgumentError, UnknownOptionError, UnusedCliTokensError

from trialfit.cli.commands import COMMANDS, as_started
from trialfit.cli.exit_codes import BAD_INPUT
from trialfit.cli.started import started_as
from trialfit.cli.streams import say

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from trialfit.book.problems import BadInput

_HELP = frozenset({"--help", "-h"})


def run(typed: list[str]) -> int:
    """Runs the command that is typed first, and gives its exit code."""
    try:
        app = app_of(typed[0], says_help=not _HELP.isdisjoint(typed))
        return app(typed, exit_on_error=False, print_error=False) or 0
    except CycloptsError as wrong:
        return _refuse_words(typed, f"trialfit {typed[0]}", _sentence(wrong, typed[0]))
    except Exception as wrong:
        from trialfit.book.problems import BadInput  # here: help needs no book

        if isinstance(wrong, BadInput):
            return _refuse(typed, wrong)
        raise


def app_of(name: str, *, says_help: bool = True) -> App:
    """The application with that one command in it: the modules of the others are not imported, nor those that lay out help unless it is said."""
    words, _, place = COMMANDS[name]
    module, _, function = place.partition(":")
    command = getattr(import_module(module), function)
    app = App(
        name="trialfit",
        help_formatter="plain" if says_help else None,
        help_format="plaintext",
        version_flags=[],
        result_action="return_value",
    )
    app.command(
        command, name=name, usage=f"{started_as()} {name} {words}".rstrip(), help=_paragraphs(command.__doc__ or "")
    )
    return app


def _paragraphs(text: str) -> str:
    """The text with each paragraph on one line, so that the terminal's width alone breaks it."""
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))


def no_such_command(typed: list[str]) -> int:
    """Says which commands are near."""
    return _refuse_words(typed, "trialfit", f'unknown command "{typed[0]}": {_nearest(typed[0], COMMANDS)}')


def _refuse_words(typed: Sequence[str], where: str, says: str) -> int:
    from trialfit.book.problems import BadInput, Located

    return _refuse(typed, BadInput(where, [Located("", says)]))


def _nearest(word: str, known: Iterable[str]) -> str:
    from trialfit.parts.reading import nearest

    return nearest(word, known)


def _refuse(typed: Sequence[str], wrong: BadInput) -> int:
    """Every problem as a sentence on stderr; with --json as one document on stdout instead."""
    if "--json" in typed:
        from trialfit.cli.shapes import problems_as_json

        sys.stdout.write(problems_as_json(wrong))
    else:
        for sentence in wrong.sentences():
            say(as_started(sentence))
    return BAD_INPUT


def _sentence(wrong: CycloptsError, command: str) -> str:
    see = f"{started_as()} {command} --help shows what it takes"
    if isinstance(wrong, UnusedCliTokensError) and wrong.unused_tokens:
        return f'unexpected argument "{wrong.unused_tokens[0]}": {see}'
    if isinstance(wrong, UnknownOptionError):
        option = wrong.token.keyword or wrong.token.value
        known = [name for argument in wrong.argument_collection for name in argument.names]
        return f'unknown option "{option}": {_nearest(option, known) if known else see}'
    if isinstance(wrong, MissingArgumentError) and wrong.argument is not None:
        return f"{wrong.argument.name} is missing: {see}"
    if isinstance(wrong, CoercionError) and wrong.token is not None:
        return f'{wrong.token.keyword or "a word"} is "{wrong.token.value}": {_wanted(wrong)}'
    return f"{wrong}: {see}"


def _usual(wrong: CoercionError) -> int:
    """What stands there where nothing is typed, as an example; 2 where that is not a number."""
    default = wrong.argument.field_info.default if wrong.argument else None
    return default if isinstance(default, int) else 2


def _wanted(wrong: CoercionError) -> str:
    """What should stand there: one of a few words, or a number."""
    words = get_args(wrong.target_type) if get_origin(wrong.target_type) is Literal else ()
    if words:
        return f"expected one of {', '.join(map(str, words))}"
    return (
        "expected a number, for example 6"
        if wrong.target_type is float
        else f"expected a whole number, for example {_usual(wrong)}"
    )
