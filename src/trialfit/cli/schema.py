"""`trialfit schema`: the shape of what --json prints."""

from __future__ import annotations

import sys
from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

Name = Annotated[str | None, Parameter(help="one shape, for example report; without a name all are listed")]


def schema(name: Name = None, /, *, json: Json = False) -> int:
    """Prints the JSON Schema (draft 2020-12) of what a command prints with --json.

    A schema is always JSON; the list of shapes is JSON with --json.
    """
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.shapes import SHAPES, ShapeList, as_json, schema_of
    from trialfit.parts.reading import nearest

    if name is None and json:
        sys.stdout.write(as_json(ShapeList(shapes={one: printed_by for one, (_, printed_by) in SHAPES.items()})))
        return 0
    if name is None:
        width = max(map(len, SHAPES))
        sys.stdout.writelines(f"{one:{width}}  {printed_by}\n" for one, (_, printed_by) in SHAPES.items())
        return 0
    if name not in SHAPES:
        raise BadInput("trialfit schema", [Located("", f'unknown shape "{name}": {nearest(name, SHAPES)}')])
    sys.stdout.write(schema_of(name))
    return 0
