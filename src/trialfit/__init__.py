"""trialfit: works out on paper whether another engine, gearbox and final drive go into a car, before anything is cut.

import trialfit as tf

build = tf.read("demos/hillclimb.toml")
report = tf.evaluate(build)
report["driveline.working_angle.front"].verdict
"""

from __future__ import annotations

TYPE_CHECKING = False  # the module typing takes longer to import than all that is here

__version__ = "0.1.0"

if TYPE_CHECKING:
    from trialfit.advice.what_to_measure import measure_next
    from trialfit.book.build import Build
    from trialfit.book.journal import Book
    from trialfit.book.opening import open_build
    from trialfit.book.problems import BadInput
    from trialfit.book.toml_text import read, read_text
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.subjects.catalogue import evaluate

_PLACES = {
    "BadInput": "trialfit.book.problems",
    "Book": "trialfit.book.journal",
    "Build": "trialfit.book.build",
    "Evaluation": "trialfit.evaluation.evaluation",
    "evaluate": "trialfit.subjects.catalogue",
    "measure_next": "trialfit.advice.what_to_measure",
    "open_build": "trialfit.book.opening",
    "read": "trialfit.book.toml_text",
    "read_text": "trialfit.book.toml_text",
}
__all__ = [
    "BadInput",
    "Book",
    "Build",
    "Evaluation",
    "__version__",
    "evaluate",
    "measure_next",
    "open_build",
    "read",
    "read_text",
]


def __getattr__(name: str) -> object:
    """Imports a name when it is first used: `import trialfit` alone costs next to nothing."""
    if name not in _PLACES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    from importlib import import_module

    return getattr(import_module(_PLACES[name]), name)
