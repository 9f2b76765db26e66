"""Brackets and spots by other routes: a root cut into strips, spots as springs at their places, and the states taken one by one.

No section modulus and no row formula: stress is force over what the strips and springs give.
"""

from __future__ import annotations

import numpy as np
import pytest
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.structure import brackets, spots

EACH_SIDE = 200
AGREES = 2e-3
MARGIN = {"once": 1.5, "repeated": 3.0}
METALS = {"mild steel": (180.0, 180.0), "S355": (355.0, 180.0), "6082-T6": (120.0, 72.0), "DP800": (421.0, 180.0)}
"""As welded, middle of what is typical, and for a load that repeats, MPa."""


def root_stress(load: float, case: dict[str, float]) -> float:
    """Largest equivalent stress at the root, Pa, by strips of the plate on both sides of its hole."""
    edges = np.linspace(case["root_hole"] / 2, case["depth"] / 2, 2001)
    middles, wide = (edges[1:] + edges[:-1]) / 2, np.diff(edges) * case["thickness"] * case["plates"]
    turned = load * case["reach"] / (2 * (middles**2 * wide).sum())
    return float(np.hypot(turned * edges[-1], np.sqrt(3) * load / (2 * wide.sum())))


def test_the_root_of_a_bracket_by_strips() -> None:
    """200 random brackets of several metals on each side of the limit, within two thousandths."""
    worst, sides = 0.0, {Verdict.holds: 0, Verdict.fails: 0}
    for seed in some(range(2 * EACH_SIDE)):
        rng = np.random.default_rng(seed)
        depth = rng.uniform(0.03, 0.12)
        case = {
            "reach": rng.uniform(0.03, 0.2),
            "depth": depth,
            "thickness": rng.uniform(2e-3, 10e-3),
            "plates": float(rng.integers(1, 3)),
            "root_hole": depth * rng.choice([0.0, 0.3]),
        }
        metal, repeats = str(rng.choice(list(METALS))), str(rng.choice(["once", "repeated"]))
        yields = METALS[metal][0] if repeats == "once" else min(METALS[metal])
        allowed = yields * 1e6 / MARGIN[repeats]
        use = rng.uniform(0.5, 0.98) if seed // 10 % 2 else rng.uniform(1.02, 2.0)
        load = use * allowed / root_stress(1.0, case)
        text = "".join(
            f'{name} = "{case[name] * 1e3:.9f} ± 0 mm, calipered"\n'
            for name in ("reach", "depth", "thickness", "root_hole")
        )
        build = read_text(
            f'[b]\nkind = "bracket"\nmaterial = "{metal}"\nrepeats = "{repeats}"\nonce_as = "by its manual"\nyield_strength = "{METALS[metal][0]} ± 0 MPa, manual"\n'
            f'plates = "{case["plates"]:.0f} ± 0"\nload_factor = "1 ± 0, manual"\nload = "{load:.9f} ± 0 N; really"\n{text}'
        )
        found = work_out(
            Evaluation(build, 2), [one for one in brackets.requirements(build) if "bracket_stress" in one.id]
        )
        ours = found["structure.bracket_stress.b"]
        worst = max(worst, abs(ours.value.nominal * 1e6 / root_stress(load, case) - 1))
        verdict = Verdict.holds if use < 1 else Verdict.fails
        sides[verdict] += 1
        assert ours.verdict is verdict, seed
    print(f"bracket: worst disagreement {worst:.1e}, {sides}")
    assert worst < AGREES


def hardest(load: float, pull: float, reach: float, rows: int, across: int, depth: float) -> tuple[float, float]:
    """Shear and pull of the hardest loaded spot, N: a stiff part on springs at the places of the spots."""
    heights = np.repeat(np.linspace(-depth / 2, depth / 2, rows), across)
    by = np.stack([np.ones_like(heights), heights], axis=1)
    shift, turn = np.linalg.solve(by.T @ by, [pull, load * reach])
    return load / len(heights), float((shift + turn * heights).max())


@pytest.mark.parametrize("pulled", ["square", "peeled"])
def test_spots_as_springs(pulled: str) -> None:
    """100 random groups on each side of the limit for each way of pulling; the chart read at its own thicknesses."""
    chart = {
        0.8: (2500, 4.0),
        1.0: (4100, 4.8),
        1.25: (6000, 5.6),
        1.6: (8200, 6.3),
        2.0: (12000, 7.4),
        2.4: (15300, 7.9),
    }
    worst, sides = 0.0, {Verdict.holds: 0, Verdict.fails: 0}
    for seed in some(range(EACH_SIDE)):
        rng = np.random.default_rng([seed, len(pulled)])
        thickness = float(rng.choice(list(chart)))
        rows, across, depth = int(rng.integers(2, 6)), int(rng.integers(1, 5)), rng.uniform(0.03, 0.15)
        nugget = chart[thickness][1] * rng.uniform(0.7, 1.3)
        one, share = (
            chart[thickness][0] * min(1, nugget / chart[thickness][1]) ** 2,
            0.6 if pulled == "square" else 0.15,
        )
        repeats = str(rng.choice(["once", "repeated"]))
        reach, pull = rng.uniform(0.01, 0.1), rng.uniform(0, 1)
        shear, off = hardest(1.0, pull, reach, rows, across, depth)
        use = rng.uniform(0.5, 0.98) if seed // 10 % 2 else rng.uniform(1.02, 2.0)
        per_newton = (shear + off / share) / one * MARGIN[repeats] / 0.6
        load = use / per_newton
        build = read_text(
            f'[s]\nkind = "spot_welds"\nload_factor = "1 ± 0, manual"\nnumber = "{rows * across} ± 0"\nrows = "{rows} ± 0"\npulled = "{pulled}"\n'
            f'thinner = "{thickness} ± 0 mm, calipered"\ndiameter = "{nugget:.9f} ± 0 mm, calipered; really"\nstrength_share = "1 ± 0, manual"\npull_share = "{share} ± 0, manual"\n'
            f'repeats = "{repeats}"\nonce_as = "by its manual"\nload = "{load:.9f} ± 0 N; really"\npull = "{load * pull:.9f} ± 0 N; really"\n'
            f'reach = "{reach * 1e3:.9f} ± 0 mm, calipered"\ndepth = "{depth * 1e3:.9f} ± 0 mm, calipered"\n'
        )
        ours = work_out(Evaluation(build, 2), list(spots.of(build, [build.named("s")])))["structure.spot_load.s"]
        worst = max(worst, abs(ours.value.nominal / ours.limit.nominal / use - 1))
        verdict = Verdict.holds if use < 1 else Verdict.fails
        sides[verdict] += 1
        assert ours.verdict is verdict, seed
    print(f"spots {pulled}: worst disagreement {worst:.1e}, {sides}")
    assert worst < AGREES
