"""What the findings of a port read, and what they say where something is missing."""

from __future__ import annotations

import pytest

from trialfit.book.problems import BadInput
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict

RUN = """
[feed]
kind = "port"
thread = "R 1/8"
medium = "oil"
pressure = "5 ± 0.5 bar, guess"
temperature = "120 ± 10 °C, guess"
fitted = "adapter"
sealant = "paste"

[adapter]
kind = "fitting"
end = "male R 1/8"
other_end = "female 1/8-27 NPT"
bore = "4 ± 0 mm"
fitted = "tail"
sealant = "paste"

[tail]
kind = "fitting"
end = "male 1/8-27 NPT"
other_end = "male -4 37° flare"
bore = "4.4 ± 0 mm"
fitted = "hose"

[hose]
kind = "line"
end = "female -4 37° flare"
other_end = "female -4 37° flare"
far_port = "inlet"
bore = "4.8 ± 0 mm"
rated_pressure = "50 bar, manual"
rated_temperature = "125 °C, manual"

[inlet]
kind = "port"
gender = "male"
thread = "-4"
sealing = "37° flare"
medium = "oil"
"""


def test_a_run_of_four_pieces_holds(ports):
    report = ports(RUN)

    for finding in ("feed.plugged", "feed.mates", "feed.sealing", "inlet.plugged", "inlet.mates", "feed.pressure"):
        assert report[f"ports.{finding}"].verdict is Verdict.holds, finding
    assert report["ports.feed.temperature"].verdict is Verdict.unsettled
    assert report.figure("ports.feed.bore").value.nominal == pytest.approx(4)
    assert "hose closes it" in report["ports.feed.plugged"].remark


def test_a_line_that_ends_nowhere_is_an_open_end(ports):
    text = RUN.replace('far_port = "inlet"\n', "")
    report = ports(text)

    assert report["ports.feed.plugged"].verdict is Verdict.fails
    assert "hose ends open" in report["ports.feed.plugged"].remark
    assert report["ports.inlet.plugged"].verdict is Verdict.fails


def test_nobody_wrote_what_is_on_the_thread(ports):
    """Where sealant belongs it must be said; on a flare nothing said is nothing put."""
    finding = ports(RUN.replace('fitted = "tail"\nsealant = "paste"', 'fitted = "tail"'))["ports.feed.sealing"]

    assert finding.verdict is Verdict.unknown
    assert list(finding.missing) == ["adapter.sealant"]


def test_a_dry_taper_fails(ports):
    finding = ports(RUN.replace('fitted = "tail"\nsealant = "paste"', 'fitted = "tail"\nsealant = "none"'))[
        "ports.feed.sealing"
    ]

    assert finding.verdict is Verdict.fails
    assert "tail has nothing on its thread" in finding.remark


@pytest.mark.parametrize(
    ("old", "new", "finding", "missing"),
    [
        ('thread = "R 1/8"\n', "", "feed.mates", "feed.thread"),
        ('thread = "R 1/8"', 'thread = "M10×1"', "feed.mates", "feed.sealing"),
        ('end = "male R 1/8"\n', "", "feed.mates", "adapter.end"),
        ('rated_pressure = "50 bar, manual"\n', "", "feed.pressure", "hose.rated_pressure"),
        ('pressure = "5 ± 0.5 bar, guess"\n', "", "feed.pressure", "feed.pressure"),
    ],
)
def test_what_is_missing_is_named(ports, old, new, finding, missing):
    assert RUN.count(old) == 1 or old.startswith("pressure")
    found = ports(RUN.replace(old, new, 1))[f"ports.{finding}"]

    assert found.verdict is Verdict.unknown
    assert missing in found.missing


def test_a_rating_below_the_pressure_fails(ports):
    finding = ports(RUN.replace("50 bar, manual", "4 bar, manual"))["ports.feed.pressure"]

    assert finding.verdict is Verdict.fails
    assert finding.limit.nominal == pytest.approx(4)


def test_the_medium_decides_the_stake(ports):
    assert ports(RUN)["ports.feed.plugged"].stake is Stake.durability
    assert ports(RUN.replace('medium = "oil"', 'medium = "fuel"'))["ports.feed.plugged"].stake is Stake.safety


CALIPERED = """
[return]
kind = "port"
thread = "THREAD"
sealing = "washer"
gender = "male"
medium = "fuel"
crest_diameter = "READING"
PITCH
"""


def calipered(thread, reading, pitch=""):
    text = CALIPERED.replace("THREAD", thread).replace("READING", reading)
    return text.replace("PITCH", f'pitch = "{pitch}"' if pitch else "")


def test_a_reading_confirms_or_refutes_the_thread(ports):
    """9.7 mm with 28 threads per inch is G 1/8, whatever is stamped on the bag."""
    right = ports(calipered("G 1/8", "9.66 ± 0.05 mm, calipered", "0.907 ± 0.02 mm"))["ports.return.identity"]
    wrong = ports(calipered("M10×1", "9.66 ± 0.05 mm, calipered", "0.907 ± 0.02 mm"))["ports.return.identity"]

    assert right.verdict is Verdict.holds
    assert wrong.verdict is Verdict.fails
    assert "it can be G 1/8" in wrong.remark


def test_a_coarse_reading_leaves_it_unsettled(ports):
    finding = ports(calipered("G 1/8", "9.75 ± 0.4 mm, taped"))["ports.return.identity"]

    assert finding.verdict is Verdict.unsettled
    assert finding.facts[0].path == "return.crest_diameter"
    assert finding.facts[0].share > 0.3
    assert "G 1/8" in finding.remark
    assert "M10" in finding.remark


def test_a_reading_without_a_designation_asks_for_it(ports):
    text = calipered("G 1/8", "9.66 mm, calipered").replace('thread = "G 1/8"\n', "")

    assert list(ports(text)["ports.return.identity"].missing) == ["return.thread"]


def test_the_drill_of_a_parallel_thread_has_two_sides(ports):
    """Too small breaks the tap, too large strips."""
    text = """
[hole]
kind = "port"
thread = "M12×1.5"
sealing = "washer"
material = "aluminium"
cut_by = "builder"
drill = "DRILL ± 0 mm"
thread_depth = "14 ± 0 mm"
edge_distance = "13 ± 0 mm"
"""
    verdicts = [
        ports(text.replace("DRILL", drill))["ports.hole.tapping_height"].verdict for drill in ("10.3", "10.5", "11")
    ]

    assert verdicts == [Verdict.fails, Verdict.holds, Verdict.fails]
    assert "20 mm deep" in ports(text.replace("DRILL", "10.5"))["ports.hole.tapping_depth"].remark


def test_a_thread_that_is_none_is_refused_with_an_example():
    from trialfit.book import read_text

    with pytest.raises(BadInput) as wrong:
        read_text('[hole]\nkind = "port"\nthread = "big"')

    assert '"big" is not a known thread' in str(wrong.value)


def test_a_sender_says_itself_which_end_it_has(ports):
    """And closes the port it is screwed into."""
    text = """
[gallery]
kind = "port"
thread = "M10×1"
sealing = "washer"
fitted = "pressure"

[pressure]
kind = "sender"
end = "male 1/8-27 NPT"
"""
    report = ports(text)

    assert report["ports.gallery.plugged"].verdict is Verdict.holds
    assert "a tapered sender in a straight metric port" in report["ports.gallery.mates"].remark
    assert ports(text.replace('end = "male 1/8-27 NPT"\n', ""))["ports.gallery.mates"].missing == {
        "gallery.fitted_end": "end of the part screwed in, if that part does not state it"
    }
