"""What to do about a finding that only waits for an unusual value to be confirmed."""

from __future__ import annotations

from trialfit.advice.next_step import next_step
from trialfit.advice.what_to_measure import measure_next
from trialfit.book import read_text
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

HEAVY = """
[car]
mass = "900 kg, weighed"
rear_axle_mass = "400 kg, weighed"
wheelbase = "2400 mm, taped"
[stands_rear]
kind = "stands"
under = "rear"
rated_mass = "20 t, catalogue"
spacing = "900 mm, taped"
"""


def _worked(text):
    build = read_text(text)
    report = evaluate(build, 256, ("lifting",))
    asked = [one for one in report.findings if any(use.path == "stands_rear.rated_mass" for use in one.facts)]
    return build, report, asked


def test_the_next_step_is_to_look_at_the_value_again():
    build, _, (finding, *_) = _worked(HEAVY)

    assert (finding.verdict, finding.stake) == (Verdict.unsettled, "safety")
    assert finding.share_ok == 1
    says = next_step(build, finding)
    assert says.startswith("Check stands_rear.rated_mass again: it is 20 t, usual is 300 kg to 12000 kg.")
    assert 'write "20 t, catalogue; really".' in says


def test_a_confirmed_value_needs_no_step():
    build, _, (finding, *_) = _worked(HEAVY.replace("20 t, catalogue", "20 t, catalogue; really"))

    assert finding.verdict is Verdict.holds
    assert next_step(build, finding) == ""


def test_measuring_the_value_again_would_settle_it():
    build, report, (finding, *_) = _worked(HEAVY.replace("20 t, catalogue", "20 ± 3 t, guess"))

    assert finding.verdict is Verdict.unsettled
    served = {one.finding: one.would for line in measure_next(build, report) for one in line.findings}
    assert finding.id in served
