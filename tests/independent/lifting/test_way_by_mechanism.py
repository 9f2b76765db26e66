"""A load on its way up and in, as a mechanism: where it comes to rest by its lowest centre of mass, and forces by least squares.

No formula of the handbook: the load is turned and hung, a leveller is a bar, a load and two chains that come to rest with the centre
of mass as low as it can be; tensions are the forces along the legs, none of them negative, that best balance the weight.
"""

from __future__ import annotations

import sys

import numpy as np
from scipy.optimize import brentq, minimize, nnls
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import Lift
from trialfit.subjects.lifting import legs, way

MANY, FEW = some(800), some(420)
G = 9.80665
TEXT = """
[unit]
kind = "mass_part"
mass = "200 ± 0 kg"
x = "{x} ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "0 ± 0 m"
hook_y = "0 ± 0 m"
hook_z = "{hook_z} ± 0 m"
dynamic_factor = "1 ± 0"
target_tilt = "{least} ± 0 deg"
lowest_tilt = "{least} ± 0 deg"
steepest_tilt = "{most} ± 0 deg"
{leveller}
[front]
kind = "sling_leg"
eye_x = "{front_x} ± 0 m"
eye_y = "0 ± 0 m"
eye_z = "{front_z} ± 0 m"
[rear]
kind = "sling_leg"
eye_x = "{rear_x} ± 0 m"
eye_y = "0 ± 0 m"
eye_z = "{rear_z} ± 0 m"
"""
LEVELLER = 'leveller_travel = "0.3 ± 0 m"\nleveller_eye = "{eye} ± 0 m"\nchain_lean = "0 ± 0 deg"\n'


def load(seed: int) -> dict[str, float]:
    """A random load with two eyes on it, and a way."""
    draw = np.random.default_rng(seed).uniform
    least = draw(-20, 15)
    return {
        "x": draw(-0.3, 0.3),
        "hook_z": draw(1.0, 1.5),
        "least": least,
        "most": least + draw(0, 35),
        "front_x": draw(0.12, 0.4),
        "rear_x": -draw(0.12, 0.4),
        "front_z": draw(0.6, 0.85),
        "rear_z": draw(0.6, 0.85),
        "eye": draw(0.0, 0.08),
    }


def turned(points, degrees: float) -> np.ndarray:
    """Points (x, z) of the level load, turned until its rear end hangs lower by an angle."""
    a = np.radians(degrees)
    return np.asarray(points) @ np.array([[np.cos(a), np.sin(a)], [-np.sin(a), np.cos(a)]])


def pulls(eyes, ups, centre) -> tuple[np.ndarray, float]:
    """Forces along two directions at two eyes that best balance 200 kg at a centre, and what is left of the balance."""
    units = ups / np.linalg.norm(ups, axis=1)[:, None]
    arms = eyes - centre
    rows = np.vstack([units.T, (arms[:, 0] * units[:, 1] - arms[:, 1] * units[:, 0])])
    return nnls(rows, np.array([0.0, 200 * G, 0.0]))


def on_a_sling(one: dict[str, float], degrees: float) -> tuple[np.ndarray, float]:
    """Tensions of the two legs with the hook where it hangs the load at a tilt."""
    centre = np.array([one["x"], 0.5])
    eyes = np.array([[one["front_x"], one["front_z"]], [one["rear_x"], one["rear_z"]]])

    def off(x: float) -> float:
        """How far the centre is from under the hook."""
        hook, at = turned([[x, one["hook_z"]], centre], degrees)
        return float(hook[0] - at[0])

    hook = np.array([brentq(off, -5, 5), one["hook_z"]])
    hook, centre, *eyes = turned([hook, centre, *eyes], degrees)
    return pulls(np.array(eyes), hook - np.array(eyes), centre)


def on_a_leveller(one: dict[str, float], shift: float) -> tuple[float, float, np.ndarray, float]:
    """At rest, where the centre is lowest, with the hook a distance forward of the centre along the bar.

    Tilt, °; distance of the hook from the middle of the bar, m; tensions; what is left of the balance.
    """
    centre = np.array([one["x"], 0.5])
    eyes = np.array([[one["front_x"], one["front_z"]], [one["rear_x"], one["rear_z"]]]) - centre
    run = eyes[0] - eyes[1]
    slope, bar, chain = np.degrees(np.arctan2(run[1], run[0])), float(np.hypot(*run)), 0.35
    level = turned(eyes, -slope)  # the load turned so that the line of its eyes is level, as the bar starts
    ends = np.array([[level[0, 0] - shift, -one["eye"]], [level[0, 0] - bar - shift, -one["eye"]]])

    def gaps(state) -> np.ndarray:
        """How much longer or shorter the way from each end of the bar to its eye is than its chain."""
        tilt, lean, *_ = state
        return np.linalg.norm(turned(ends, tilt) - (turned(level, lean) + state[2:]), axis=1) - chain

    rest = minimize(
        lambda state: state[3],
        [0.0, 0.0, 0.0, -one["eye"] - chain - level[0, 1]],
        method="SLSQP",
        constraints={"type": "eq", "fun": gaps},
        options={"ftol": 1e-11, "maxiter": 200},
    )
    tilt, lean, x, z = rest.x
    at = turned(level, lean) + rest.x[2:]
    tensions, left = pulls(at, turned(ends, tilt) - at, np.array([x, z]))
    return lean - slope, abs(shift - level[:, 0].mean()), tensions, left


def made(one: dict[str, float], leveller: str = "") -> tuple[Evaluation, Lift]:
    """The build of a load, and its lift."""
    build = read_text(TEXT.format(**one, leveller=leveller.format(**one)))
    return Evaluation(build, 1), build.first(Lift)


def test_a_plain_sling_pulls_and_goes_slack_as_the_balance_says() -> None:
    """The worst tension and the least share over 25 tilts of each way, against our steps."""
    worst, sides, looked_at = 0.0, {True: 0, False: 0}, 0
    for seed in range(MANY):
        one = load(seed)
        ev, lift = made(one)
        truth = [on_a_sling(one, degrees) for degrees in np.linspace(one["least"], one["most"], 25)]
        is_tight = all(left < 1e-6 for _, left in truth)
        share = float(way._least_share(ev, lift).values.min())  # noqa: SLF001
        sides[is_tight] += 1
        assert is_tight == (share >= 0)
        if is_tight:
            looked_at += 1
            ours = legs.tensions(ev, lift)[0].max(axis=0)
            worst = max(worst, float(np.abs(ours / np.max([forces for forces, _ in truth], axis=0) - 1).max()))

    sys.stdout.write(f"sling: {sides[True]} stay tight, {sides[False]} go slack, worst tension off by {worst:.1e}\n")
    assert min(sides.values()) >= MANY / 4
    assert worst < 0.01


def test_a_leveller_tilts_and_pulls_as_the_mechanism_at_rest() -> None:
    """Travel of the screw for the tilt at which the mechanism rests, and the tensions there; verdicts by a travel nearby."""
    worst_travel, worst_pull, sides = 0.0, 0.0, {True: 0, False: 0}
    for seed in range(FEW):
        one = load(seed) | {"x": np.random.default_rng(seed).uniform(-0.05, 0.05)}
        shift = np.random.default_rng(seed + 10_000).uniform(-0.07, 0.1)
        tilt, travel, forces, left = on_a_leveller(one, shift)
        ev, lift = made(one | {"least": tilt, "most": tilt}, LEVELLER)
        if left > 0.5:  # N: a chain would have to push
            assert way._least_share(ev, lift).values.min() < 0  # noqa: SLF001
            continue
        ours = float(way._travel(ev, lift).values.max())  # noqa: SLF001
        allowed = travel * (1.05 if seed % 2 else 0.95)
        sides[travel <= allowed] += 1
        assert (ours <= allowed) == (travel <= allowed)
        worst_travel = max(worst_travel, abs(ours - travel))
        worst_pull = max(worst_pull, float(np.abs(legs.tensions(ev, lift)[0, 0] - forces).max()) / (200 * G))

    sys.stdout.write(
        f"leveller: worst travel off by {worst_travel * 1e3:.2g} mm, worst tension by {worst_pull:.1e} of the weight\n"
    )
    assert min(sides.values()) >= FEW * 0.45
    assert worst_travel < 1e-3
    assert worst_pull < 5e-3
