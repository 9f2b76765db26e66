"""A picture read back from its SVG: elements, coordinates, texts with their boxes."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from trialfit.drawing.labels import meet
from trialfit.drawing.pen import Picture, Text

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_NAMESPACE = "{http://www.w3.org/2000/svg}"
_SHAPES = {"svg", "title", "desc", "rect", "text", "circle", "path", "polygon", "polyline"}
_PLACES = ("x", "y", "cx", "cy", "r", "points", "d", "width", "height", "font-size")


@dataclass(frozen=True)
class Read:
    """What an SVG holds."""

    size: tuple[float, float]
    counts: Counter[str]
    texts: tuple[str, ...]
    numbers: tuple[float, ...]
    about: tuple[str, ...]


def read(text: str) -> Read:
    """The SVG read as XML; asserts what every one of ours must keep."""
    root = ET.fromstring(text)  # noqa: S314 - our own
    names = [element.tag.removeprefix(_NAMESPACE) for element in root.iter()]
    assert set(names) <= _SHAPES
    assert not re.search(r"=\"[^\"]*\b(nan|inf)\b", text, re.IGNORECASE)
    left, top, width, height = (float(one) for one in root.attrib["viewBox"].split())
    assert (left, top) == (0, 0)
    assert root.attrib["width"] == f"{NUMBER.fullmatch(root.attrib['viewBox'].split()[2])[0]}mm"
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids))
    numbers = [
        float(number)
        for element in root.iter()
        for place in _PLACES
        if place in element.attrib and element is not root
        for number in NUMBER.findall(element.attrib[place])
    ]
    texts = [element.text or "" for element in root.iter(f"{_NAMESPACE}text")]
    about = [element.attrib["data-of"] for element in root.iter() if "data-of" in element.attrib]
    return Read((width, height), Counter(names), tuple(texts), tuple(numbers), tuple(about))


def overlapping_texts(picture: Picture) -> list[tuple[str, str]]:
    """Pairs of texts that cover each other, by their turned boxes a little shrunk: descenders may touch accents."""
    texts = [mark for mark in picture.marks if isinstance(mark, Text) and mark.says.strip()]
    shapes = [_core(text) for text in texts]
    return [
        (one.says, other.says)
        for number, one in enumerate(texts)
        for second, other in enumerate(texts[number + 1 :], number + 1)
        if meet(shapes[number], shapes[second])
    ]


def _core(text: Text) -> list[tuple[float, float]]:
    """From the base line up to the capitals."""
    left, right, low_right, low_left = text.corners
    return [
        left_of(left, low_left, 0.06),
        left_of(right, low_right, 0.06),
        left_of(right, low_right, 0.76),
        left_of(left, low_left, 0.76),
    ]


def left_of(one, other, share):
    """A point between two others."""
    return one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])


def texts_outside(picture: Picture) -> list[str]:
    """Texts that run off the sheet."""
    return [
        mark.says for mark in picture.marks if isinstance(mark, Text) and not picture.box.grown(0.01).holds(mark.box)
    ]
