"""`trialfit unjudged`, and what `check` says of it."""

from __future__ import annotations

import pytest

TEXT = '[car]\nmass = "900 kg"\n[gearbox]\nratios = ["3.4"]\n[horn]\nkind = "circuit"\n'


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(TEXT, encoding="utf-8")
    return str(path)


def test_it_lists_what_nothing_judges_with_how_to_see_it_and_when(trialfit, file):
    out = trialfit("unjudged", file).out
    words = " ".join(out.split())

    assert "of them at stake safety" in words
    assert out.index("stake: safety, before first-crank") < out.index("stake: safety, before first-roll")
    assert out.index("stake: safety, yearly") < out.index("stake: durability")
    assert "gear lever: it jumps out of gear" in words
    assert "Hold the lever lightly on the overrun in each gear" in words
    assert "circuit: horn" in out


def test_as_json_it_has_the_same(trialfit, file):
    found = trialfit("unjudged", file, "--json").json
    (one,) = [one for one in found["checks"] if one["id"] == "gearbox.jumps_out"]

    assert (one["stake"], one["before"], one["parts"]) == ("safety", "first-roll", ["gearbox"])
    assert found["parts"] == {"horn": "circuit"}


def test_check_counts_them_in_one_line_and_names_the_part_that_nothing_judges(trialfit, file):
    listed = len(trialfit("unjudged", file, "--json").json["checks"])
    words = " ".join(trialfit("check", file, "--draws", "1").out.split())

    assert f"{listed} ways of failing not judged, " in words
    assert "No finding judges horn." in words
    assert "not judged" not in trialfit("check", file, "--draws", "1", "--subject", "gearing").out
