"""What a builder may get wrong in a file, and the one sentence each mistake yields."""

from __future__ import annotations

from textwrap import dedent

import pytest

from trialfit.book import BadInput, read, read_text

SHAFT = """
    [shaft]
    kind = "prop_shaft"
"""


def sentences(text: str) -> list[str]:
    """What is said about a text, with lines counted from its first written line."""
    with pytest.raises(BadInput) as caught:
        read_text(dedent(text).strip(), "build.toml")
    return caught.value.sentences()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            '[gerabox]\nkind = "gerabox"',
            'build.toml, line 2: gerabox.kind has the unknown kind "gerabox": did you mean "gearbox"?',
        ),
        (
            "[qqq]\n",
            'build.toml, line 1: qqq has an unknown kind: add kind = "..." to the table, or name the table after its kind; known are: car, engine',
        ),
        (
            '[spare]\nkind = "motor"',
            'build.toml, line 2: spare.kind has the unknown kind "motor": did you mean "engine"?',
        ),
        (
            '[cluch]\nrated_torque = "400 N·m"',
            (
                'build.toml, line 1: cluch has an unknown kind: add kind = "..." to the table, or name the table after its '
                'kind; did you mean "clutch"?'
            ),
        ),
        (
            '[a]\nkind = "half_shaft"\nside = "left"\n[b]\nkind = "half_shaft"\nside = "left"',
            (
                "build.toml, line 4: b has the place left half-shaft, which a already has: remove one, or put both in a choice: "
                "[choice.left_half_shaft]"
            ),
        ),
        (
            '[engine]\nidle_speed = "0 rpm"',
            (
                'build.toml, line 2: engine.idle_speed "0 rpm" is out of range: expected a rotational speed from 50 rpm to 5000 rpm, '
                'for example "850 rpm, gauged"; leave it out for a motor that does not idle'
            ),
        ),
        (
            '[engine]\nlaunch_speed = "0 rpm"',
            (
                'build.toml, line 2: engine.launch_speed "0 rpm" is out of range: expected a rotational speed from 1 rpm to 40000 rpm, '
                'for example "2400 rpm"; leave it out for a motor without a clutch'
            ),
        ),
        (
            '[car]\nwheelbse = "2.4 m"',
            'build.toml, line 2: car.wheelbse is not a fact of a car: did you mean "wheelbase"',
        ),
        (
            '[car]\nmass = "-960 kg"',
            'build.toml, line 2: car.mass "-960 kg" is out of range: expected a mass from 100 kg to',
        ),
        (
            '[shaft]\nkind = "prop_shaft"\ntube_outside_diameter = "76 mm"\ntube_wall_thickness = "40 mm"',
            "build.toml, line 4: shaft.tube_wall_thickness is 40 mm, half of the 76 mm tube or more",
        ),
        ("[gearbox]\nratios = []", "build.toml, line 2: gearbox.ratios holds 0 values: expected at least 1"),
        ('[gearbox]\nratios = "3.5"', 'build.toml, line 2: gearbox.ratios is "3.5": expected a list'),
        (
            '[gearbox]\nratios = ["2.0", "3.5"]',
            "build.toml, line 2: gearbox.ratios.2 is 3.5, not below the gear before it (2): write the ratios from first",
        ),
        (
            '[gearbox]\nratios = ["3.5", "two"]',
            "build.toml, line 2: gearbox.ratios number 2 of the list:",
        ),
        (
            '[engine]\nidle_speed = "900 rpm"\nmax_speed = "800 rpm"',
            "build.toml, line 3: engine.max_speed is 800 rpm, not above engine.idle_speed (900 rpm)",
        ),
        (
            '[car]\nmass = "960 kg, weighed"\nrear_axle_mass = "960 kg, weighed"',
            (
                "build.toml, line 3: car.rear_axle_mass is 960 kg, weighed, not below car.mass (960 kg, weighed): "
                "expected the load on the rear wheels, about half of the car"
            ),
        ),
        (
            '[car]\nwheelbase = "1 µm"',
            (
                'build.toml, line 2: car.wheelbase "1 µm" is out of range: expected a length from 1 m to 6 m, '
                'for example "2.40 m, taped"'
            ),
        ),
        (
            '[car]\nmass = "960 t"',
            'build.toml, line 2: car.mass "960 t" is out of range: expected a mass from 100 kg to 10000 kg',
        ),
        (
            '[car]\nrear_track = "1.4 mm"',
            'build.toml, line 2: car.rear_track "1.4 mm" is out of range: expected a length from',
        ),
        (
            '[car]\ncentre_of_mass_height = "0.5 mm"',
            'build.toml, line 2: car.centre_of_mass_height "0.5 mm" is out of range: expected a length from 0.1 m to 3 m',
        ),
        (
            '[engine]\ntorque_curve = "rpm : N·m | 1000 : 100 | 2000 : -5 | 3000 : -9"',
            (
                "build.toml, line 2: engine.torque_curve has -5 N·m at 2000 rpm: expected full-load torque, which is not "
                "negative; leave out overrun"
            ),
        ),
        (
            '[engine]\nmax_speed = "6000 rpm"\ntorque_curve = "rpm : N·m | 1000 : 100 | 4000 : 120"',
            (
                "build.toml, line 3: engine.torque_curve ends at 4000 rpm, well below engine.max_speed (6000 rpm), and the "
                "torque beyond its last point is unknown: write more points, up to the limit, or the limit at which you shift"
            ),
        ),
        (
            '[engine]\ntorque_curve = """\nrpm : N·m\n1000 : 100\n900 : 110\n"""',
            "build.toml, line 2: engine.torque_curve",
        ),
        ('[car]\ndriven_axle = "reer"', 'build.toml, line 2: car.driven_axle is "reer": did you mean "rear"?'),
        (
            '[tyre]\nsize = "big ones"',
            "build.toml, line 2: tyre.size",
        ),
        (
            '[a]\nkind = "gearbox"\n[b]\nkind = "gearbox"',
            "build.toml, line 3: b has the place gearbox, which a already has: remove one, or put both in a choice",
        ),
        (
            '[choice.box]\noptions = ["a", "b"]\n[a]\nkind = "gearbox"\n[b]\nkind = "gearbox"',
            "build.toml, line 1: choice.box has no part picked: write picked = one of a, b",
        ),
        (
            '[choice.box]\noptions = ["a", "b"]\npicked = "c"\n[a]\nkind = "gearbox"\n[b]\nkind = "gearbox"',
            'build.toml, line 3: choice.box.picked is "c": known are: a, b',
        ),
        (
            '[choice.box]\noptions = ["a", "z"]\npicked = "a"\n[a]\nkind = "gearbox"',
            'build.toml, line 2: choice.box.options names "z", which is not a part',
        ),
        (
            '[s]\nkind = "prop_shaft"\nafter = "gearbx"\n[gearbox]\nratios = ["1"]',
            'build.toml, line 3: s.after is "gearbx", which is not a part of this build: did you mean "gearbox"?',
        ),
        (
            '[s]\nkind = "prop_shaft"\nafter = "car"\n[car]\n',
            'build.toml, line 3: s.after is "car", a car: expected a gearbox or prop_shaft',
        ),
        (
            '[s]\nkind = "prop_shaft"\nafter = "t"\n[t]\nkind = "prop_shaft"\nafter = "s"',
            "build.toml, line 6: t.after makes a loop: s after t after s",
        ),
        ('[s]\nkind = "prop_shaft"\nafter = "s"', "build.toml, line 3: s.after makes a loop: s after s"),
        ("mass = 4", "build.toml, line 1: mass is outside a part"),
        ("[car]\nmass = true", "build.toml, line 2: car.mass is True: expected text"),
        ("[car]\nmass = 2020-01-01", "build.toml, line 2: car.mass is datetime.date(2020, 1, 1): expected text"),
        ("[car]\nmass = 960", "build.toml, line 2: car.mass"),
        ("format = 99", "build.toml, line 1: format is 99: this program reads format 1"),
        ("name = 3", "build.toml, line 1: name is 3: expected text in quotes"),
        ("choice = 3", "build.toml, line 1: choice is not a table"),
        ('[limit]\na.b = "3 deg"', "build.toml, line 2: limit.a is not a limit: write the finding in quotes"),
        ('["two words"]\nkind = "hub"', "build.toml, line 1: two words is not a valid part name"),
    ],
)
def test_a_mistake_is_said_in_one_sentence(text: str, said: str) -> None:
    """Each mistake names the line, the entry, what was read and what was expected, and nothing else is said."""
    found = sentences(text)

    assert len(found) == 1, found
    assert found[0].startswith(said)


def test_every_mistake_is_named_not_only_the_first() -> None:
    """Three mistakes in one file are three sentences."""
    assert len(sentences('[car]\nmass = "5 m"\nweelbase = "2 m"\n[engine]\nmax_speed = "-1 rpm"')) == 3


def test_a_syntax_error_shows_line_and_column() -> None:
    """The place of a TOML mistake is shown; what is never closed is placed at the end."""
    assert sentences('[car]\nmass = = "960 kg"')[0].startswith(
        "build.toml, line 2, column 8: not sound TOML: Invalid value"
    )
    assert sentences('[car]\nmass = "960 kg')[0].startswith(
        "build.toml, line 2, column 15: not sound TOML: Unterminated"
    )


def test_an_option_that_was_not_picked_cannot_be_built_upon() -> None:
    """A part that names a spare option is told to name the choice."""
    text = """
        [choice.box]
        options = ["a", "b"]
        picked = "a"
        [a]
        kind = "gearbox"
        [b]
        kind = "gearbox"
        [shaft]
        kind = "prop_shaft"
        after = "b"
    """
    assert sentences(text) == [
        'build.toml, line 10: shaft.after is "b", which is not the picked option: write the name of the choice instead'
    ]


def test_a_file_that_is_not_there_is_said(tmp_path) -> None:
    """No file, a folder and a binary file: one sentence each."""
    binary = tmp_path / "photo.toml"
    binary.write_bytes(b"name = 'x'\n\xff\xd8\xff")

    with pytest.raises(BadInput, match="does not exist"):
        read(tmp_path / "none.toml")
    with pytest.raises(BadInput, match="cannot be read"):
        read(tmp_path)
    with pytest.raises(BadInput, match="line 2: is not UTF-8 text"):
        read(binary)


def test_nesting_without_end_is_refused() -> None:
    """A file made to exhaust the reader gets a sentence."""
    assert "nested too deep" in sentences("a = " + "[" * 5000)[0]
