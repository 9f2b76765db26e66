"""What nothing judges in a build, as a page: by stake and by gate, each with how to see it by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from trialfit.cli.rows import Hanging
from trialfit.cli.screen import CAUTION, clean, line
from trialfit.evaluation.requirement import Stake
from trialfit.planning.templates import is_gate

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.planning.hand_checks import HandCheck, HandChecks


def page(checks: HandChecks) -> Iterator[RenderableType]:
    """All of it."""
    at_safety = sum(one.stake is Stake.safety for one in checks.checks)
    name = checks.build or "a build without a name"
    yield line(f"{name}: {len(checks.checks)} ways of failing not judged, {at_safety} of them at stake safety", "bold")
    heading = ""
    for one in checks.checks:
        now = _heading(one)
        if now != heading:
            heading = now
            yield Text()
            yield line(heading, "bold underline")
        yield Hanging([("", clean(f"{one.about}: {one.fails}"), "bold"), ("    ", clean(one.by_hand), "")])
    if checks.parts:
        yield Text()
        yield line("parts that no finding judges", "bold underline")
        for kind in dict.fromkeys(checks.parts.values()):
            names = ", ".join(part for part, its_kind in checks.parts.items() if its_kind == kind)
            yield line(f"{kind}: {names}")
    yield Text()
    yield line("A register is never complete: look at the whole car.")
    yield line(CAUTION)


def _heading(one: HandCheck) -> str:
    return f"stake: {one.stake}, {'before ' if is_gate(one.before) else ''}{one.before}"
