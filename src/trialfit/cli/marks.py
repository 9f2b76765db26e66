"""A verdict on the screen: a word and a line, never a colour alone.

The lines are those of the drawing office: continuous for holds, dashed for unsettled (hidden behind the spread), dotted for
unknown, a struck line for fails.

Answers   MARKS    the line of each verdict
          PLAIN    the same for an ASCII terminal
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
