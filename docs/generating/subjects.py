"""A page for each subject: what it says of itself, and what it requires of the demo builds."""

from __future__ import annotations

import inspect
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from generating.writing import contents, table, verbatim
from trialfit.book import read
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.working import listed
from trialfit.subjects.catalogue import OURS, requirements

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.requirement import Requirement

DEMOS = tuple(sorted((Path(__file__).parents[2] / "demos").glob("*.toml")))


def subject_pages() -> dict[str, str]:
    """The pages by path."""
    index = "\n".join(
        [
            "# Subjects",
            "",
            "What is looked at. A subject states requirements: a value, its limit, and where the limit comes from; and figures,",
            "which have no limit until you set one.",
            "",
            contents(OURS),
        ]
    )
    return {"subjects/index.md": index, **{f"subjects/{name}.md": _page(name) for name in OURS}}


def _page(name: str) -> str:
    about = inspect.getdoc(import_module(f"trialfit.subjects.{name}")) or ""
    stated = list(_stated(name))
    findings = [(one.id, one.says, str(one.stake), _source(one)) for one in stated if one.limits]
    figures = [(one.id, one.says) for one in stated if not one.limits]
    pieces = [f"# {name}", verbatim(about)]
    pieces += [
        "## Requirements",
        _of_demos(),
        table(("finding", "requirement", "stake", "source of the limit"), findings),
    ]
    if figures:
        pieces += ["## Figures", table(("figure", "what it is"), figures)]
    return "\n\n".join(pieces)


def _of_demos() -> str:
    return f"As stated for {' and '.join(f'`demos/{file.name}`' for file in DEMOS)}; other builds have other parts and gears."


def _stated(name: str) -> Iterator[Requirement]:
    seen = set()
    for file in DEMOS:
        build = read(file)
        for requirement in listed(Evaluation(build, 1), requirements(build, (name,)))[0]:
            if requirement.id not in seen:
                seen.add(requirement.id)
                yield requirement


def _source(requirement: Requirement) -> str:
    source = requirement.source
    return f"{source.text} ({source.kind})" if source else "the build"
