"""`trialfit unjudged`: the ways of failing that nothing judges in a build."""

from __future__ import annotations

from trialfit.cli.options import BuildFile, Json, read_build


def unjudged(build: BuildFile, /, *, json: Json = False) -> int:
    """Shows what nothing judges in this build: how it fails, how to see it by hand, and before which gate.

    The worst stake comes first. The list follows from the parts of the build and from a register of the ways in which
    each kind of part fails. The gate sheet has a box for each one at stake safety. A register is never complete.
    """
    from trialfit.cli.pages.unjudged import page
    from trialfit.cli.screen import answer, working
    from trialfit.planning.hand_checks import hand_checks

    read = read_build(build)
    with working("looking for what nothing judges"):
        checks = hand_checks(read)
    answer(checks, page(checks), as_json=json)
    return 0
