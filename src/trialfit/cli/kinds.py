"""`trialfit kinds`: the kinds of part and the facts each takes."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

Kind = Annotated[str | None, Parameter(help="one kind, for example prop_shaft")]


def kinds(kind: Kind = None, /, *, json: Json = False) -> int:
    """Shows the kinds of part, or the facts that one kind takes: meaning, unit, typical value and its source."""
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.pages.kinds import kind_page, overview_page
    from trialfit.cli.screen import answer
    from trialfit.parts import KINDS
    from trialfit.parts.describing import KindList, describe_kind, describe_kinds
    from trialfit.parts.everyday import nearest_kind
    from trialfit.parts.old_names import kind_now

    kind = None if kind is None else kind_now(kind)
    if kind is not None and kind not in KINDS:
        raise BadInput("trialfit kinds", [Located("", f'unknown kind of part "{kind}": {nearest_kind(kind)}')])
    listed = KindList(kinds=(describe_kind(kind),)) if kind else describe_kinds()
    answer(listed, kind_page(listed.kinds[0]) if kind else overview_page(listed), as_json=json)
    return 0
