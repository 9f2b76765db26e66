"""What can be looked up: kinds of part, and the shapes of JSON."""

from __future__ import annotations

import json

import jsonschema
import pytest

from trialfit.cli.shapes import SHAPES, schema_of
from trialfit.parts import KINDS


def test_every_kind_is_listed(trialfit):
    out = trialfit("kinds").out

    assert [kind for kind in KINDS if f"\n{kind} " not in f"\n{out}"] == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_fact_of_a_kind_is_shown_with_its_meaning(trialfit, kind):
    words = " ".join(trialfit("kinds", kind).out.split())

    for name, spec in KINDS[kind].specs().items():
        assert f"{name} {' '.join(spec.says.split())[:20]}" in words


def test_a_typical_value_is_shown_with_its_source(trialfit):
    words = " ".join(trialfit("kinds", "car").out.split())

    assert "typical 0.90 +0.20/-0.40 (from memory: 0.5 on a wet road, 1.1 for soft tyres on a dry one)" in words


def test_kinds_as_json_hold_unit_bounds_and_source(trialfit):
    (kind,) = trialfit("kinds", "car", "--json").json["kinds"]
    mass, friction = (
        next(fact for fact in kind["facts"] if fact["name"] == name) for name in ("mass", "tyre_friction")
    )

    assert (mass["unit"], mass["bounds"]) == ("kg", "from 100 kg to 10000 kg")
    assert (friction["typical"], friction["source"]) == (
        "0.90 +0.20/-0.40",
        "from memory: 0.5 on a wet road, 1.1 for soft tyres on a dry one",
    )


@pytest.mark.parametrize("name", SHAPES)
def test_every_shape_is_a_sound_schema(trialfit, name):
    schema = trialfit("schema", name).json

    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["properties"]


def test_the_shapes_are_listed_with_what_prints_them(trialfit):
    assert "report        check --json, demo --json" in trialfit("schema").out


@pytest.mark.parametrize("name", SHAPES)
def test_a_schema_is_the_same_with_json(trialfit, name):
    assert trialfit("schema", name, "--json") == trialfit("schema", name)


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ("report", ["check", "FILE", "--draws", "64"]),
        ("measurements", ["measure", "FILE", "--draws", "64"]),
        ("inventory", ["facts", "FILE"]),
        ("kinds", ["kinds"]),
        ("shapes", ["schema"]),
        ("change", ["set", "FILE", "car.mass", "900 kg"]),
        ("recorded", ["record", "FILE", "car.mass", "900 kg", "902", "--method", "scales"]),
        ("problems", ["facts", "nowhere.toml"]),
    ],
)
def test_what_is_printed_fits_its_schema(trialfit, written, shape, words):
    file = written('[car]\nmass = "960 kg, guess"\n[gearbox]\nratios = ["3.6", "2.1"]')
    ran = trialfit(*(file if word == "FILE" else word for word in words), "--json")

    jsonschema.validate(ran.json, json.loads(schema_of(shape)))


def test_a_word_of_the_workshop_leads_to_its_kind(trialfit):
    ran = trialfit("kinds", "motor")

    assert ran.code == 2
    assert 'unknown kind of part "motor": did you mean "engine"?' in " ".join(ran.err.split())


def test_the_example_of_a_fact_has_the_size_of_that_fact(trialfit):
    words = " ".join(trialfit("kinds", "car").out.split())

    assert (
        "distance from front axle to rear axle a length in mm, from 1 m to 6 m; usual 1.5 m to 4.5 m; for example 2.40 m, taped"
        in words
    )
