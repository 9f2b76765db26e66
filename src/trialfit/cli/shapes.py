"""What `--json` prints: a model for each shape.

Answers   SHAPES             the models by the name that `trialfit schema` takes
          Problems           the shape of bad input
          problems_as_json   bad input as one document
          as_json            any of the shapes as one document
"""

from __future__ import annotations

import json
from importlib import import_module
from typing import TYPE_CHECKING, cast

from pydantic import BaseModel, Field
from pydantic_core import PydanticSerializationError

from trialfit.facts.frozen import Frozen

if TYPE_CHECKING:
    from trialfit.book.problems import BadInput

SHAPES = {
    "report": ("trialfit.evaluation.finding:Report", "check --json, demo --json"),
    "explanation": ("trialfit.advice.explaining:Explanation", "why --json"),
    "unjudged": ("trialfit.planning.hand_checks:HandChecks", "unjudged --json"),
    "measurements": ("trialfit.advice.what_to_measure:MeasuringList", "measure --json"),
    "tightening": ("trialfit.advice.how_to_tighten:TighteningSheet", "tighten --json"),
    "sheet": ("trialfit.sheets.sheet:Sheet", "sheet BUILD NAME --json"),
    "sheets": ("trialfit.sheets.listing:SheetList", "sheet BUILD --json, sheet BUILD --all FOLDER --json"),
    "drawing": ("trialfit.drawing.arrangement.report:Drawing", "draw --json"),
    "plot": ("trialfit.drawing.plot:Plot", "plot BUILD NAME --json"),
    "plots": ("trialfit.drawing.plot:PlotList", "plot BUILD --json"),
    "inventory": ("trialfit.advice.inventory:Inventory", "facts --json"),
    "recorded": ("trialfit.advice.recorded:Recorded", "record --json"),
    "jobs": ("trialfit.planning.reports:JobsReport", "jobs --json"),
    "next": ("trialfit.advice.weekend:NextList", "next --json"),
    "plan": ("trialfit.planning.plan_report:PlanReport", "plan --json"),
    "done": ("trialfit.planning.reports:Done", "start, finish, loose --add, loose --close, gate --pass --json"),
    "loose": ("trialfit.planning.reports:LooseReport", "loose --json"),
    "gate": ("trialfit.planning.reports:GateReport", "gate --json"),
    "placement": ("trialfit.advice.placement_shapes:Placement", "place --json"),
    "clearances": ("trialfit.advice.placement_shapes:Clearances", "clearances --json"),
    "mesh": ("trialfit.advice.placement_shapes:MeshBrought", "mesh --json"),
    "change": ("trialfit.book.changing:Change", "set --json"),
    "updated": ("trialfit.book.updating:Updated", "update-names --json"),
    "made": ("trialfit.book.reports:Made", "undo, remove, move, attach, forget-attachment --json"),
    "journal": ("trialfit.book.reports:JournalPage", "journal --json"),
    "carried": ("trialfit.book.reports:Carried", "new, write-out, read-in, keep-copy --json"),
    "verification": ("trialfit.book.reports:Verification", "verify --json"),
    "kinds": ("trialfit.parts.describing:KindList", "kinds --json"),
    "thread": ("trialfit.advice.identifying:ThreadList", "thread --json"),
    "join": ("trialfit.advice.joining:JoinPlan", "join --json"),
    "shapes": ("trialfit.cli.shapes:ShapeList", "schema --json"),
    "problems": ("trialfit.cli.shapes:Problems", "every command, if the input is bad (exit code 2)"),
}
"""By name: the model as "module:class", and what prints it."""


class Problem(Frozen):
    """One fault of the input."""

    path: str = Field(description="the entry of the build; empty if it is not about one")
    line: int | None = Field(description="the line of the file, if known")
    says: str = Field(description="one sentence: what was read, what was expected, an example")


class Problems(Frozen):
    """All faults of the input."""

    problems: tuple[Problem, ...]


class ShapeList(Frozen):
    """All shapes."""

    shapes: dict[str, str] = Field(description="by name: what prints it")


def problems_as_json(wrong: BadInput) -> str:
    """Bad input as one document; `says` is the sentence shown without --json."""
    pairs = zip(wrong.problems, wrong.sentences(), strict=True)
    return as_json(
        Problems(problems=tuple(Problem(path=one.path, line=one.line, says=says) for one, says in pairs)),
    )


def model_of(name: str) -> type[BaseModel]:
    """The model of a shape. Raises KeyError."""
    module, _, model = SHAPES[name][0].partition(":")
    return cast("type[BaseModel]", getattr(import_module(module), model))


def schema_of(name: str) -> str:
    """The JSON Schema of a shape. Raises KeyError."""
    schema = model_of(name).model_json_schema(mode="serialization")
    return (
        json.dumps({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}, indent=2, ensure_ascii=False)
        + "\n"
    )


def as_json(model: BaseModel) -> str:
    """The document, indented, with a line end."""
    try:
        return model.model_dump_json(indent=2) + "\n"
    except PydanticSerializationError:  # the name of a file that is not UTF-8: JSON can escape it
        return json.dumps(model.model_dump(), indent=2, default=str) + "\n"
