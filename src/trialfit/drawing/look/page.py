"""A scene as one HTML page that needs nothing else: a 3D view to turn by mouse or finger, or drawings where there is none.

Answers   look_page     the text of the page
          bundle        the script of the 3D view, or None if it has not been built
Not here  what is in the scene (scene.py); the drawings (views.py); what the script does (look.js)
Method    look.js and its library are put into one file when the program is set up (setup/browser.sh). The page
          contains it, the solids as triangles, and a policy that keeps the browser from fetching anything or running other
          scripts.
"""

from __future__ import annotations

import json
from base64 import b64encode
from hashlib import sha256
from html import escape
from importlib.resources import files
from pathlib import Path
from string import Template
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.drawing.look.scene import body_of
from trialfit.drawing.look.views import DASHES, pair, side_and_plan
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from trialfit.drawing.look.scene import Body, Mark, Scene
    from trialfit.handbook.arrays import Array


BUNDLE = Path(__file__).parents[4] / ".setup" / "browser" / "look.js"
WITHOUT = "This page was written without its 3D view, so it shows the side view and the plan."


def bundle() -> str | None:
    """The script of the page, if it has been built."""
    try:
        return BUNDLE.read_text(encoding="utf-8")
    except OSError:
        return None


def look_page(scene: Scene, script: str | None) -> str:
    """The page of a scene; without a script it shows only the drawings."""
    style = _part("look.css")
    runs = _script(script) if script else ""
    notes = scene.notes if script else (WITHOUT, *scene.notes)
    return Template(_part("look.html")).substitute(
        policy=_policy(style, runs),
        title=escape(scene.title),
        says=escape(scene.says),
        style=style,
        drawings=side_and_plan(scene),
        heading="the tightest gaps" if scene.marks else "no gaps",
        key="".join(_key()),
        gaps="\n".join(_gap(number, mark) for number, mark in enumerate(scene.marks, 1)),
        rest="\n".join(_rest(scene)),
        notes="\n".join(f"<p>{escape(note)}</p>" for note in notes),
        data=_data(scene) if script else "",
        script=runs,
    )


def _part(name: str) -> str:
    return files("trialfit.drawing.look").joinpath(name).read_text(encoding="utf-8")


def _script(script: str) -> str:
    """The script, with any text that would end it early escaped."""
    return script.replace("</script", r"<\/script").replace("<!--", r"<\!--")


def _policy(style: str, script: str) -> str:
    """The policy of the page: fetch nothing, use only this style and this script."""
    ours = [f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'" for text in (style, script)]
    scripts = ours[1] if script else "'none'"
    return f"default-src 'none'; img-src data:; style-src {ours[0]}; script-src {scripts}"


def _key() -> Iterator[str]:
    for verdict in Verdict:
        black = ", black number" if verdict is Verdict.fails else ""
        yield f"<span>{_sample(verdict)} {verdict}{black}</span>"


def _sample(verdict: Verdict | None) -> str:
    dashes = f' stroke-dasharray="{DASHES[verdict]}"' if DASHES[verdict] else ""
    strike = '<path d="M17 1l10 8m0-8l-10 8" stroke="#000" stroke-width="2"/>' if verdict is Verdict.fails else ""
    return (
        f'<svg class="line" viewBox="0 0 44 10" width="44" height="10" aria-hidden="true"><path d="M1 5h42" stroke="#000" '
        f'stroke-width="2.5"{dashes}/>{strike}</svg>'
    )


def _gap(number: int, mark: Mark) -> str:
    kind = "fails" if mark.verdict is Verdict.fails else "stands"
    where = f"{mark.where}{f'; {mark.state}' if mark.state else ''}"
    return (
        f'<li><a href="#side-{number}" data-gap="{number - 1}"><span class="chip {kind}">{number}</span><span class="of">'
        f"<strong>{escape(pair(mark))}</strong><br>{escape(mark.gap)} {_sample(mark.verdict)} <strong>{mark.word}</strong>"
        f"<small>required {escape(mark.wanted)}, {escape(mark.left)}</small>"
        f"<small>{escape(where)}</small></span></a></li>"
    )


def _rest(scene: Scene) -> Iterator[str]:
    if scene.more:
        yield f"<p>and {scene.more} more that hold, with larger margins</p>"
    if scene.others:
        yield "<h2>other requirements</h2>"
        yield f'<ul class="others">{"".join(f"<li>{escape(one)}</li>" for one in scene.others)}</ul>'


def _data(scene: Scene) -> str:
    """The scene for the script, escaped so that a name in it cannot end an element of the page."""
    document = {"bodies": [_body(body) for body in scene.bodies], "marks": [_mark(mark) for mark in scene.marks]}
    return json.dumps(document, separators=(",", ":"), allow_nan=False).replace("<", r"\u003c")


def _body(body: Body) -> dict[str, Any]:
    points, triangles = [], []
    count = 0
    for piece in body.pieces:
        corners, faces = _skin(piece)
        points.append(corners)
        triangles.append(faces + count)
        count += len(corners)
    return {
        "id": body.name,
        "name": body.name.replace("_", " "),
        "moves": body.moves,
        "points": _packed(np.concatenate(points).astype("<f4")),
        "triangles": _packed(np.concatenate(triangles).astype("<u4")),
    }


def _packed(numbers: NDArray[Any]) -> str:
    return b64encode(numbers.tobytes()).decode()


def _skin(points: Array) -> tuple[Array, NDArray[np.intp]]:
    """The hull of points as corners (n, 3) and triangles (m, 3), each in the order that faces outwards."""
    from scipy.spatial import ConvexHull

    hull = ConvexHull(points)
    faces = hull.simplices
    a, b, c = (points[faces[:, n]] for n in range(3))
    inwards = np.einsum("ij,ij->i", np.cross(b - a, c - a), hull.equations[:, :3]) < 0
    faces = np.where(inwards[:, None], faces[:, ::-1], faces)
    used, numbers = np.unique(faces, return_inverse=True)
    return points[used], numbers.reshape(faces.shape)


def _mark(mark: Mark) -> dict[str, Any]:
    return {
        "pair": pair(mark),
        "bodies": [body_of(mark.moving), mark.fixed],
        "ends": mark.ends.round(5).tolist(),
        "gap": mark.gap,
        "word": mark.word,
        "state": mark.state,
        "dashes": DASHES[mark.verdict],
        "fails": mark.verdict is Verdict.fails,
        "moved": {name: matrix.T.round(9).ravel().tolist() for name, matrix in mark.moved.items()},
    }
