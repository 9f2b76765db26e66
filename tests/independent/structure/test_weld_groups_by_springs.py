"""Weld groups by direct statics: a stiff part on many small springs along its runs, its six movements solved for, each load with its sign.

The handbook's way is line moments about the centre of the runs. Here nothing knows a centre or a moment: the runs are cut into pieces, each
as stiff in every direction, the part moves as a whole, and the force at the ends of the runs is what their springs carry. Throat, metal fused
in and metal beside are then judged by hand.
"""

from __future__ import annotations

import numpy as np
import pytest
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.structure import welds

EACH_SIDE = 200
PIECES = 150
AGREES = 5e-3
"""Relative difference allowed: the pieces are short, but not infinitely so."""
PATTERNS = ("one upright", "two upright", "two level", "channel", "all round", "circle")
MILD, ONCE, OFTEN, METAL = 180e6, 1.5, 3.0, 480e6


def lines(pattern: str, width: float, depth: float) -> list[np.ndarray]:
    """The runs as points from end to end, y to the right, z up, from the middle of the pattern."""
    w, d, t = width / 2, depth / 2, np.linspace(0, 1, PIECES + 1)[:, None]
    if pattern == "circle":
        turn = 2 * np.pi * np.linspace(0, 1, 4 * PIECES + 1)
        return [d * np.stack([np.cos(turn), np.sin(turn)], axis=1)]
    sides = {
        "left": ((-w, -d), (-w, d)),
        "right": ((w, -d), (w, d)),
        "low": ((-w, -d), (w, -d)),
        "high": ((-w, d), (w, d)),
        "middle": ((0, -d), (0, d)),
    }
    of = {
        "one upright": ("middle",),
        "two upright": ("left", "right"),
        "two level": ("low", "high"),
        "channel": ("left", "low", "high"),
        "all round": ("left", "right", "low", "high"),
    }[pattern]
    return [np.asarray(sides[one][0]) + t * (np.asarray(sides[one][1]) - np.asarray(sides[one][0])) for one in of]


def at_ends(runs: list[np.ndarray], force: np.ndarray, where: np.ndarray) -> np.ndarray:
    """Force per length (x out, y, z) at every corner point, of a force (x, y, z) at a place (x, y, z)."""
    middles = np.concatenate([(run[1:] + run[:-1]) / 2 for run in runs])
    lengths = np.concatenate([np.linalg.norm(np.diff(run, axis=0), axis=1) for run in runs])

    def moved(points: np.ndarray) -> np.ndarray:
        """Movement (points, 3, 6) of points by three shifts and three turns of the part."""
        y, z = points.T
        o, one = np.zeros_like(y), np.ones_like(y)
        return np.stack(
            [
                np.stack([one, o, o, o, z, -y], axis=-1),
                np.stack([o, one, o, -z, o, o], axis=-1),
                np.stack([o, o, one, y, o, o], axis=-1),
            ],
            axis=1,
        )

    by = moved(middles)
    stiffness = np.einsum("p,pij,pik->jk", lengths, by, by)
    load = np.concatenate([force, np.cross(where, force)])
    movement = np.linalg.lstsq(stiffness, load, rcond=1e-12)[0]
    ends = np.concatenate([run[[0, -1]] for run in runs]) if len(runs) > 1 or len(runs[0]) == PIECES + 1 else runs[0]
    return moved(ends) @ movement


def by_springs(case: dict[str, float | str]) -> tuple[float, float]:
    """Largest force per length, and largest tension that strains the plate as much, over both ways of the side load and the lever.

    Pull and side load act through the middle of the length of the runs, as the words of the facts have it.
    """
    load, aside, pull, reach, offset = (float(case[name]) for name in ("load", "side_load", "pull", "reach", "offset"))
    runs = lines(str(case["pattern"]), float(case["width"]), float(case["depth"]))
    pieces = np.concatenate([(run[1:] + run[:-1]) / 2 for run in runs])
    lengths = np.concatenate([np.linalg.norm(np.diff(run, axis=0), axis=1) for run in runs])
    centre = lengths @ pieces / lengths.sum()
    beside = -offset if case["legs"] == "away from the load" else offset
    down = at_ends(runs, np.array([0, 0, -load]), np.array([reach, beside, 0]))
    out = at_ends(runs, np.array([pull, 0, 0]), np.array([0, *centre]))
    across = at_ends(runs, np.array([0, aside, 0]), np.array([reach, *centre]))
    ways = np.stack([up * down + out + way * across for up in (-1, 1) for way in (-1, 1)])
    return np.linalg.norm(ways, axis=-1).max(), np.sqrt(ways**2 @ [1.0, 3.0, 3.0]).max()


def random_case(rng: np.random.Generator) -> dict[str, float | str]:
    """A weld of any pattern under loads of every kind."""
    pattern = str(rng.choice(PATTERNS))
    aside = 0.0 if pattern == "one upright" else float(rng.choice([0.0, 1.0])) * rng.uniform(50, 800)
    return {
        "pattern": pattern,
        "width": rng.uniform(0.03, 0.12),
        "depth": rng.uniform(0.03, 0.15),
        "leg": rng.uniform(0.002, 0.008),
        "load": rng.uniform(200, 8000),
        "side_load": aside,
        "pull": float(rng.choice([0.0, 1.0])) * rng.uniform(50, 1500),
        "reach": rng.uniform(0.0, 0.15),
        "offset": float(rng.choice([0.0, 1.0])) * rng.uniform(0.0, 0.1),
        "legs": str(rng.choice(["towards the load", "away from the load"])),
        "thinner": rng.uniform(0.8e-3, 6e-3),
        "more": rng.uniform(0, 4e-3),
        "repeats": str(rng.choice(["once", "repeated"])),
    }


def written(case: dict[str, float | str]) -> str:
    """The case as a build, every fact exact."""
    lengths = ("width", "depth", "leg", "reach", "offset", "thinner")
    text = "".join(f'{name} = "{float(case[name]) * 1e3:.9f} ± 0 mm, calipered"\n' for name in lengths)
    text += f'thicker = "{(float(case["thinner"]) + float(case["more"])) * 1e3:.9f} ± 0 mm, calipered"\n'
    text += "".join(f'{name} = "{float(case[name]):.9f} ± 0 N; really"\n' for name in ("load", "side_load", "pull"))
    text += "".join(f'{name} = "{case[name]}"\n' for name in ("pattern", "legs", "repeats"))
    return f'[w]\nkind = "weld"\nload_factor = "1 ± 0, manual"\nmetal_strength = "480 ± 0 MPa, manual"\nbase = "solid"\nonce_as = "by its manual"\n{text}'


def by_hand(case: dict[str, float | str]) -> dict[str, tuple[float, float]]:
    """Value and limit of each finding."""
    shear, tension = by_springs(case)
    throat, thin, thick = (
        float(case["leg"]) / np.sqrt(2),
        float(case["thinner"]),
        float(case["thinner"]) + float(case["more"]),
    )
    both_faces = case["pattern"] in ("two upright", "all round", "channel") and float(case["width"]) <= 2 * thick
    allowed = MILD / (ONCE if case["repeats"] == "once" else OFTEN)
    return {
        "weld_throat": (shear / throat, 0.3 * METAL),
        "weld_yield": (np.sqrt(3) * shear / throat, allowed),
        "weld_parent": (tension * max(1 / thin, (2 if both_faces else 1) / thick), allowed),
    }


@pytest.mark.parametrize("finding", ["weld_throat", "weld_yield", "weld_parent"])
def test_a_stiff_part_on_springs_comes_to_the_same_verdict(finding: str) -> None:
    """200 random welds on each side of the limit; loads are scaled so that the value is within a factor of two of it."""
    worst, sides = 0.0, {Verdict.holds: 0, Verdict.fails: 0}
    for seed in some(range(2 * EACH_SIDE)):
        rng = np.random.default_rng([seed, len(finding)])
        case = random_case(rng)
        value, limit = by_hand(case)[finding]
        aim = limit * (rng.uniform(0.5, 0.98) if seed // 10 % 2 else rng.uniform(1.02, 2.0))
        for name in ("load", "side_load", "pull"):
            case[name] = float(case[name]) * aim / value
        value, limit = by_hand(case)[finding]
        build = read_text(written(case))
        report = work_out(
            Evaluation(build, 2), [one for one in welds.requirements(build) if one.id.split(".")[1] == finding]
        )
        ours = report[f"structure.{finding}.w"]

        disagreement = abs(ours.value.nominal * 1e6 / value - 1)
        worst = max(worst, disagreement)
        verdict = Verdict.holds if value <= limit else Verdict.fails
        sides[verdict] += 1
        assert disagreement < AGREES, (seed, case)
        assert ours.verdict is verdict, (seed, case)
    print(f"{finding}: worst disagreement {worst:.1e}, {sides}")
    assert min(sides.values()) >= len(some(range(2 * EACH_SIDE))) // 2 - 1
