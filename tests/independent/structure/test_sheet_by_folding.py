"""Thin sheet under a patch by other routes: yield lines by linear programming, elastic bending by finite elements and by integration.

Folding: a net of triangles that stay flat; the fold along every edge costs the moment that the sheet bears times its turn. The cheapest way
to fold is searched for among all of them, where the handbook knows a few shapes. It is an upper bound, a little high as folds follow the net.

Bending: a ring that is clamped outside and stiff inside, integrated along its radius; and a sheet with a stiff rectangle in it by Morley
elements, for what a round patch of the same area leaves out.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import solve_bvp
from scipy.optimize import linprog
from scipy.sparse import bmat, coo_matrix
from skfem import Basis, BilinearForm, ElementTriMorley, MeshTri, condense, solve
from skfem.helpers import dd, ddot, trace
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.handbook.structure import thin_sheet
from trialfit.subjects.structure import sheet

EACH_SIDE = 200
STRONGER, WEAKER = 1.05, 0.72
"""What the handbook's sheet bears over what the net bears: never more than a little, and not so much less that nothing ever holds."""
ALLOWED = 120e6


def net(patch: float, half: float, inside: int, outside: int) -> np.ndarray:
    """Places of the lines of the net along one axis, from the middle outwards, closer near the patch."""
    grown = np.linspace(0, 1, outside + 1)[1:] ** 1.4
    return np.concatenate([np.linspace(0, patch, inside + 1), patch + (half - patch) * grown])


def bears(width: float, length: float, free: float, lever: bool) -> float:  # noqa: FBT001
    """Pull or lever at which the cheapest folding begins, for a moment of 1 N·m/m that the sheet bears: a quarter of it is looked at."""
    xs = net(width / 2, free / 2, 1, 5)
    ys = net(length / 2, length / 2 + 0.9 * free, 2, 6)
    grid_x, grid_y = (part.ravel() for part in np.meshgrid(xs, ys, indexing="ij"))
    mid_x, mid_y = (part.ravel() for part in np.meshgrid((xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2, indexing="ij"))
    points = np.column_stack([np.concatenate([grid_x, mid_x]), np.concatenate([grid_y, mid_y])])
    columns, cells = len(ys), (len(xs) - 1) * (len(ys) - 1)
    corner = np.arange(len(grid_x)).reshape(len(xs), columns)
    low, right, left, high = (
        part.ravel() for part in (corner[:-1, :-1], corner[1:, :-1], corner[:-1, 1:], corner[1:, 1:])
    )
    mid = len(grid_x) + np.arange(cells)
    triangles = np.concatenate(
        [np.column_stack([one, two, mid]) for one, two in pairwise((low, right, high, left, low))]
    )
    moved = points[:, 1] if lever else np.ones(len(points))
    on_patch = (points[:, 0] <= width / 2 + 1e-12) & (points[:, 1] <= length / 2 + 1e-12)
    held = (points[:, 0] >= xs[-1] - 1e-12) | (points[:, 1] >= ys[-1] - 1e-12)
    if lever:
        held |= points[:, 1] <= 1e-12
    slopes = gradients(points, triangles)
    rows, folds = fold_rows(points, triangles, slopes, lever)
    free_points = ~(on_patch | held)
    fixed = rows @ np.where(on_patch, moved, 0.0)
    matrix = rows[:, free_points]
    many, unknown = matrix.shape
    cost = np.concatenate([np.zeros(unknown), folds])
    eye_matrix = coo_matrix((np.ones(many), (range(many), range(many))))
    bounds = bmat([[matrix, -eye_matrix], [-matrix, -eye_matrix]], format="csr")
    found = linprog(
        cost,
        A_ub=bounds,
        b_ub=np.concatenate([-fixed, fixed]),
        bounds=[(None, None)] * unknown + [(0, None)] * many,
        method="highs",
    )
    assert found.success
    return 4 * float(found.fun)


def gradients(points: np.ndarray, triangles: np.ndarray) -> np.ndarray:
    """Slope of each triangle by the rise of its corners: (triangles, 2, 3)."""
    one, two, three = (points[triangles[:, n]] for n in range(3))
    double = (two[:, 0] - one[:, 0]) * (three[:, 1] - one[:, 1]) - (three[:, 0] - one[:, 0]) * (two[:, 1] - one[:, 1])
    by_x = np.stack([two[:, 1] - three[:, 1], three[:, 1] - one[:, 1], one[:, 1] - two[:, 1]], axis=1)
    by_y = np.stack([three[:, 0] - two[:, 0], one[:, 0] - three[:, 0], two[:, 0] - one[:, 0]], axis=1)
    return np.stack([by_x, by_y], axis=1) / double[:, None, None]


def fold_rows(points: np.ndarray, triangles: np.ndarray, slopes: np.ndarray, lever: bool):  # noqa: FBT001
    """The turn along each edge by the rise of the points, and the length of the edge.

    Edges that are held count with the slope of their one triangle, and so do the lines of symmetry; about the line that a lever
    turns about the sheet goes on straight.
    """
    sides: dict[tuple[int, int], list[int]] = {}
    for number, corners in enumerate(triangles):
        for n in range(3):
            edge = tuple(sorted((int(corners[n]), int(corners[(n + 1) % 3]))))
            sides.setdefault(edge, []).append(number)
    entries, lengths = [], []
    for (one, two), beside in sides.items():
        along = points[two] - points[one]
        length = float(np.hypot(*along))
        normal = np.array([along[1], -along[0]]) / length
        if len(beside) == 1 and lever and max(points[one, 1], points[two, 1]) < 1e-12:
            continue
        for sign, triangle in zip((1.0, -1.0), beside, strict=False):
            turn = sign * normal @ slopes[triangle]
            entries += [
                (len(lengths), int(corner), float(part)) for corner, part in zip(triangles[triangle], turn, strict=True)
            ]
        lengths.append(length)
    row, column, value = zip(*entries, strict=True)
    return coo_matrix((value, (row, column)), shape=(len(lengths), len(points))).tocsr(), np.array(lengths)


def random_patch(rng: np.random.Generator) -> tuple[float, float, float, float]:
    """Width, length, free width, thickness."""
    free = rng.uniform(0.08, 0.4)
    width = free * rng.uniform(0.1, 0.8)
    return width, width * rng.uniform(0.6, 2.0), free, rng.uniform(0.7e-3, 3e-3)


def test_the_sheet_folds_under_what_the_cheapest_folding_asks() -> None:
    """200 random sheets on each side, lever and pull in turn: the load is put beyond the tolerance from where the net folds."""
    shares, sides = [], {Verdict.holds: 0, Verdict.fails: 0}
    for seed in some(range(2 * EACH_SIDE)):
        rng, lever = np.random.default_rng(seed), seed // 20 % 2 == 0
        width, length, free, thickness = random_patch(rng)
        by_net = bears(width, length, free, lever) * ALLOWED * thickness**2 / 4
        need = thin_sheet.sheet_lever_yield if lever else thin_sheet.sheet_pull_yield
        shares.append(float(ALLOWED / need(by_net, width, length, free, thickness)))
        load = by_net * (rng.uniform(0.4, WEAKER - 0.01) if seed // 10 % 2 else rng.uniform(STRONGER, 2.0))
        verdict = Verdict.holds if load < by_net else Verdict.fails
        sides[verdict] += 1
        assert judged(width, length, free, thickness, load, lever) is verdict, seed
    print(f"sheet: handbook over net {min(shares):.2f} to {max(shares):.2f}, {sides}")
    assert min(shares) > WEAKER
    assert max(shares) < STRONGER


def judged(width: float, length: float, free: float, thickness: float, load: float, lever: bool) -> Verdict:  # noqa: FBT001
    """The finding of a weld whose pattern and legs make the patch, under a load that comes once."""
    arm = 0.1
    leg = min(width, length) / 20
    carried = (
        f'load = "{load / arm:.9f} ± 0 N; really"' if lever else f'load = "0 ± 0 N"\npull = "{load:.9f} ± 0 N; really"'
    )
    sizes = {
        "width": width - 2 * leg,
        "depth": length - 2 * leg,
        "leg": leg,
        "base_width": free,
        "base_thickness": thickness,
    }
    text = "".join(f'{name} = "{value * 1e3:.9f} ± 0 mm; really"\n' for name, value in sizes.items())
    build = read_text(
        f'[w]\nkind = "weld"\npattern = "all round"\nrepeats = "once"\nload_factor = "1 ± 0"\nreach = "{arm * 1e3} ± 0 mm"\n{carried}\n{text}'
        'thicker = "3 ± 0 mm"\nthinner = "1 ± 0 mm"\n'
    )
    return work_out(Evaluation(build, 2), list(sheet.requirements(build)))["structure.sheet_bending.w"].verdict


@pytest.mark.parametrize("lever", [True, False])
def test_elastic_stress_of_a_ring_by_integration_along_its_radius(lever: bool) -> None:  # noqa: FBT001
    """Rise of a ring, times the cosine of the turn for a lever: 100 random rings, within a thousandth."""
    worst = 0.0
    for seed in some(range(100)):
        rng = np.random.default_rng(seed)
        outer, thickness = rng.uniform(0.03, 0.3), rng.uniform(0.6e-3, 4e-3)
        radius = outer * rng.uniform(0.15, 0.9)
        load = rng.uniform(1, 100)
        ours = (thin_sheet.sheet_lever_stress if lever else thin_sheet.sheet_pull_stress)(
            load, radius, outer, thickness
        )
        worst = max(worst, abs(float(ours) / ring(load, radius / outer, outer, thickness, lever) - 1))
    print(f"ring: worst disagreement {worst:.1e}")
    assert worst < 1e-3


def ring(load: float, inside: float, outer: float, thickness: float, lever: bool) -> float:  # noqa: FBT001
    """Stress at the inner edge, Pa. Unknowns w, w', and radial moment and its slope in the shape of D·(w'' and w''')."""
    n = 1.0 if lever else 0.0

    def slopes(r, y):
        """Laplace of Laplace of w·cos(nθ) is nothing."""
        w, w1, w2, w3 = y
        w4 = -2 / r * w3 + (1 + 2 * n**2) / r**2 * w2 - (1 + 2 * n**2) / r**3 * w1 + (4 * n**2 - n**4) / r**4 * w
        return np.stack([w1, w2, w3, w4])

    def ends(inner, rim):
        stiff = (inner[0] - inside, inner[1] - 1) if lever else (inner[0] - 1, inner[1])
        return np.array([*stiff, rim[0], rim[1]])

    r = np.linspace(inside, 1, 400)
    start = np.zeros((4, r.size))
    found = solve_bvp(slopes, ends, r, start, tol=1e-8, max_nodes=100000)
    w, w1, w2, w3 = found.sol(1.0)
    # force and lever on the clamped rim, in units of the plate's stiffness: shear ∓ (w'' + w'/r − n²·w/r²)', and moment −w''
    shear = -(w3 + w2 - w1 - n**2 * (w1 - 2 * w))
    carried = np.pi * (shear + w2) if lever else 2 * np.pi * shear
    at_toe = found.sol(inside)[2]
    scale = outer if lever else 1.0
    return abs(6 * at_toe / carried * load / (scale * thickness**2))


SHAPES = [
    (0.04, 0.05, 0.2),
    (0.04, 0.04, 0.1),
    (0.03, 0.06, 0.2),
    (0.06, 0.04, 0.15),
    (0.05, 0.05, 0.07),
    (0.08, 0.12, 0.3),
]


@pytest.mark.parametrize(("width", "length", "free"), some(SHAPES))
def test_a_round_patch_stands_for_a_rectangle(width: float, length: float, free: float) -> None:
    """Mean stress along the levered edge of a stiff rectangle in a square sheet, clamped all round, by finite elements: no less than that, and at most half above."""
    thickness, stiffness, moment = 1e-3, 17.6, 10.0
    ours = thin_sheet.sheet_lever_stress(moment, thin_sheet.patch_radius(width, length), free / 2, thickness)
    found = rectangle(width, length, free, stiffness) * 6 * moment / thickness**2
    print(f"rectangle {width} {length} {free}: handbook over elements {float(ours) / found:.2f}")
    assert 0.95 < float(ours) / found < 1.5


def rectangle(width: float, length: float, free: float, stiffness: float) -> float:
    """Mean moment per length just outside the levered edge, for a lever of 1 N·m: a quarter of the sheet, w odd along the lever."""
    xs = np.concatenate([np.linspace(0, width / 2, 9), np.linspace(width / 2, free / 2, 19)[1:]])
    fine = np.linspace(0, 1, 25)[1:] ** 1.5
    ys = np.concatenate([np.linspace(0, length / 2, 9), length / 2 + (free - length) / 2 * fine])
    basis = Basis(MeshTri.init_tensor(xs, ys), ElementTriMorley())

    @BilinearForm
    def bends(u, v, _):
        bent, other = dd(u), dd(v)
        return stiffness * (0.7 * ddot(bent, other) + 0.3 * trace(bent) * trace(other))

    matrix = bends.assemble(basis)
    places, tiny = basis.doflocs, 1e-9
    on_patch = (places[0] <= width / 2 + tiny) & (places[1] <= length / 2 + tiny)
    rim = (places[0] >= free / 2 - tiny) | (places[1] >= free / 2 - tiny)
    at_points = np.zeros(basis.N, bool)
    at_points[basis.nodal_dofs.ravel()] = True
    middle, side = places[1] <= tiny, places[0] <= tiny
    held = on_patch | rim | (middle & at_points) | (side & ~at_points)
    moved = np.where(on_patch, basis.project(lambda place: place[1]), 0.0)
    rise = solve(*condense(matrix, np.zeros(basis.N), x=moved, D=np.flatnonzero(held)))
    lever = 4 * float(rise @ (matrix @ rise))
    outside = basis.interpolate(rise)
    bent = outside.hess
    moments = stiffness * (bent[1, 1] + 0.3 * bent[0, 0])
    where = np.asarray(basis.global_coordinates())
    first = ys[ys > length / 2 + tiny][0]
    near = (where[1] > length / 2) & (where[1] < first) & (where[0] < width / 2)
    return float(np.average(np.abs(moments[near]), weights=basis.dx[near]) / lever)
