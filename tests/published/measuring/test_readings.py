"""Few readings against printed tables of Student's distribution and of Grubbs' test, and a printed chain of tolerances."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.working import work_out
from trialfit.handbook.measuring.readings import combine, outlier_limit, student_factor
from trialfit.subjects.measuring import requirements


# JCGM 100 (GUM), table G.2, p = 95.45 %, from memory; it gives k = 2.000 for very many.
@pytest.mark.parametrize(
    ("freedom", "factor"),
    [(1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (8, 2.37), (10, 2.28), (20, 2.13), (50, 2.05)],
)
def test_coverage_factors_of_the_guide(freedom: float, factor: float) -> None:
    """Few readings cost a larger factor."""
    assert student_factor(freedom) == pytest.approx(factor, abs=0.005)


# NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, in a public reprint: upper 97.5 % and 99.5 % points.
@pytest.mark.parametrize(
    ("freedom", "two_sided_95", "two_sided_99"),
    [(1, 12.706205, 63.656741), (2, 4.3026527, 9.9248432), (3, 3.1824463, 5.8409093), (4, 2.7764451, 4.6040949)],
)
def test_points_of_students_distribution(freedom: float, two_sided_95: float, two_sided_99: float) -> None:
    """To all digits printed."""
    assert student_factor(freedom, 0.95) == pytest.approx(two_sided_95, rel=1e-7)
    assert student_factor(freedom, 0.99) == pytest.approx(two_sided_99, rel=1e-7)


# Analytical chemistry textbook, appendix: critical values of Grubbs' test, significance 0.05. Its 2.202 for seven readings is
# a misprint for 2.020 and is left out; the rows of 3 and 8 stand 1 in the last digit off the formula.
@pytest.mark.parametrize(
    ("count", "printed"),
    [
        *((3, 1.155), (4, 1.481), (5, 1.715), (6, 1.887), (8, 2.126), (9, 2.215), (10, 2.290)),
        *((11, 2.355), (12, 2.412), (13, 2.462), (14, 2.507), (15, 2.549)),
    ],
)
def test_limits_of_the_outlier_test(count: int, printed: float) -> None:
    """The largest distance from the mean that chance gives."""
    assert outlier_limit(count) == pytest.approx(printed, abs=1.1e-3)


# Analytical chemistry textbook, the same appendix: significance 0.01.
@pytest.mark.parametrize(("count", "printed"), [(4, 1.496), (5, 1.764), (6, 1.973), (8, 2.274), (10, 2.482)])
def test_stricter_limits_of_the_outlier_test(count: int, printed: float) -> None:
    """One sound set in a hundred is suspected."""
    assert outlier_limit(count, 0.01) == pytest.approx(printed, abs=1e-3)


# Mechanical engineering design (textbook), chapter 1, from memory: 1.750 ± 0.003 less 0.750 ± 0.001, 0.120 ± 0.005 and
# 0.875 ± 0.001 in: gap 0.005 in, worst case ± 0.010, root of the squares ± 0.006.
def test_a_chain_of_pin_washers_and_nut_as_a_builder_writes_it() -> None:
    """The sums alone stand in test_measurement.py; here the text of a build gives them."""
    build = read_text(
        '[pin]\nkind = "stack"\nmembers = ["1.750 ± 0.003 in, manual", "-0.750 ± 0.001 in, manual", '
        '"-0.120 ± 0.005 in, manual", "-0.875 ± 0.001 in, manual"]'
    )
    report = work_out(Evaluation(build, 64), list(requirements(build)))

    def inches(what: str) -> float:
        return report.figure(f"measuring.pin.{what}").value.nominal / 25.4

    assert (inches("gap"), inches("worst_case"), inches("root_sum_square")) == pytest.approx(
        (0.005, 0.010, 0.006), rel=1e-6
    )


# JCGM 100 (GUM), 4.4.3, from memory: twenty temperatures of mean 100.14 °C and s 1.49 °C give u 0.33 °C.
def test_standard_uncertainty_of_a_mean() -> None:
    """s/√n: with these 20 printed readings."""
    printed = [
        *(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07),
        *(100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72),
    ]
    combined = combine(printed, instrument=0.0)

    assert combined.mean == pytest.approx(100.14, abs=0.005)
    assert combined.scatter == pytest.approx(1.49, abs=0.005)
    assert combined.standard_uncertainty == pytest.approx(0.33, abs=0.005)
