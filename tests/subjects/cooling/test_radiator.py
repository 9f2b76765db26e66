"""What a radiator of a build does: which facts it goes by, and which it asks for."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.handbook.cooling import coolant
from trialfit.subjects.cooling import radiator


def evaluation(text, draws=1):
    return Evaluation(read_text(text), draws)


def test_an_engine_that_runs_on_anything_but_petrol_asks_for_its_heat():
    """The typical share is one of petrol engines; a share that is written counts for any."""
    petrol = evaluation('[engine]\nruns_on = "petrol"\n[radiator]')
    diesel = '[engine]\nruns_on = "diesel"\n[radiator]\n'

    assert radiator.heat_rejection_ratio(petrol).item() > 0
    with pytest.raises(MissingFact, match="heat_rejection_ratio"):
        radiator.heat_rejection_ratio(evaluation(diesel))
    written = evaluation(diesel + 'heat_rejection_ratio = "0.7 ± 0"')
    assert radiator.heat_rejection_ratio(written).item() == pytest.approx(0.7)


def test_the_air_is_as_thin_as_the_altitude_makes_it():
    """0 and 2000 m above the sea; in front of the radiator it is as warm as the day and what preheats it."""
    low, high = (evaluation(f'[radiator]\naltitude = "{metres} ± 0 m"') for metres in (0, 2000))

    assert radiator._pressure(low).item() == pytest.approx(101_325, rel=1e-3)  # noqa: SLF001
    assert radiator._pressure(high).item() == pytest.approx(float(coolant.air_pressure(2000.0)))  # noqa: SLF001
    assert np.all(radiator._pressure(high) < 0.85 * radiator._pressure(low))  # noqa: SLF001
