"""A verdict on the screen: a word and a line, never a colour alone.

The lines follow the drawing office: continuous for what is settled and good, dashed for what is hidden behind the spread,
dotted for what is not there yet, a struck line for what fails.

Answers   MARKS    the line of each verdict
          PLAIN    the same for a terminal that knows no more than ASCII
"""

from __future__ import annotations

from trialfit.evaluation.verdict import Verdict

MARKS = {
    Verdict.holds: "────",
    Verdict.unsettled: "╌╌╌╌",
    Verdict.unknown: "····",
    Verdict.fails: "─╳╳─",
}
PLAIN = {
    Verdict.holds: "----",
    Verdict.unsettled: "- - ",
    Verdict.unknown: "....",
    Verdict.fails: "-XX-",
}
