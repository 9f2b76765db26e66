"""The pictures of the manual, drawn from a demo."""

from __future__ import annotations

from pathlib import Path

from trialfit.book import read
from trialfit.drawing.arrangement.general import arrangement_of
from trialfit.drawing.plot_picture import picture_of
from trialfit.drawing.plots.brake_share import brake_share
from trialfit.drawing.plots.pull import pull
from trialfit.drawing.plots.torque_ladder import torque_ladder
from trialfit.evaluation.evaluation import Evaluation

_DEMO = Path(__file__).parents[2] / "demos" / "hillclimb.toml"
_DRAWS = 1024


def pictures() -> dict[str, str]:
    """SVG by path."""
    build = read(_DEMO)
    ev = Evaluation(build, _DRAWS)
    return {
        "pictures/arrangement.svg": arrangement_of(build, draws=_DRAWS).pictures[0].svg(),
        "pictures/brakes.svg": picture_of(brake_share(ev)).svg(),
        "pictures/pull.svg": picture_of(pull(ev)).svg(),
        "pictures/torque_path.svg": picture_of(torque_ladder(ev)).svg(),
    }
