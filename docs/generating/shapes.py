"""A page for each shape of JSON that the commands print."""

from __future__ import annotations

from generating.writing import contents, sentence, verbatim
from trialfit.cli.shapes import SHAPES, model_of, schema_of


def shape_pages() -> dict[str, str]:
    """The pages by path."""
    index = "\n".join(
        [
            "# Shapes of JSON",
            "",
            "What the commands print with `--json`, as JSON Schema (draft 2020-12), made from the models that make the output.",
            "`trialfit schema NAME` prints the same. A shape only grows within one main version: entries may be added, none is",
            "taken away or given another meaning.",
            "",
            contents(SHAPES),
        ]
    )
    return {"shapes/index.md": index, **{f"shapes/{name}.md": _page(name) for name in SHAPES}}


def _page(name: str) -> str:
    says = " ".join((model_of(name).__doc__ or "").split())
    printed_by = f"Printed by {SHAPES[name][1]}."
    return "\n\n".join([f"# {name}", sentence(f"{says} {printed_by}"), verbatim(schema_of(name), "json")])
