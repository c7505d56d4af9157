"""Whether a text stands clear of lines and other texts; knows drawing only. Paper mm."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from math import cos, radians, sin
from typing import Final

from mitertool.drawing import Arc, Drawing, EllipseArc, Line, Point, Polygon, Polyline, Text

Edge = tuple[Point, Point]

BESIDE: Final = 0.6
"""mm that a text keeps free at its left and right."""

_APART: Final = 1.0
"""mm that two texts in a line keep between them."""

_CHORDS: Final = 12
"""Chords of an arc: it is asked only whether a text is near."""


def strokes(drawing: Drawing) -> Iterator[Edge]:
    """Every line of a drawing that is drawn with a pen, arcs as chords."""
    for part in drawing.primitives():
        if isinstance(part, Line):
            yield part.a, part.b
        elif isinstance(part, Polyline):
            yield from itertools.pairwise(part.points)
        elif isinstance(part, Polygon) and (part.layer.weight or part.fill is not None):
            yield from itertools.pairwise((*part.points, part.points[0]))
        elif isinstance(part, Arc | EllipseArc):
            curve = part.curve
            points = [curve.at(curve.start + curve.sweep * i / _CHORDS) for i in range(_CHORDS + 1)]
            yield from itertools.pairwise(points)


def is_clear(text: Text, edges: Iterable[Edge], others: Iterable[Text], apart: float = _APART) -> bool:
    """Whether a text set about its middle stands clear of all edges and of other texts that are set so, `apart` mm."""
    if _is_cut(text, edges):
        return False
    own = _own(text, apart / 2)
    return not any(
        all(
            abs(a - b) < one + two
            for a, b, one, two in zip(text.at, other.at, own, _own(other, apart / 2), strict=True)
        )
        for other in others
    )


def first_clear(
    places: Sequence[Text], edges: Sequence[Edge], others: Sequence[Text], apart: float = _APART
) -> Text | None:
    """The first of some places for a text that stands clear; None where there is none."""
    return next((text for text in places if is_clear(text, edges, others, apart)), None)


def _own(text: Text, beside: float) -> Point:
    """What a text keeps free of other texts about its middle, to either side and up and down."""
    return _reach(text, text.width / 2 + beside, text.height)


def _reach(text: Text, along: float, across: float) -> Point:
    """Half the sizes of the level box about so much along a text and across it."""
    turn = radians(text.turn)
    level, steep = abs(cos(turn)), abs(sin(turn))
    return along * level + across * steep, along * steep + across * level


def _is_cut(text: Text, edges: Iterable[Edge]) -> bool:
    """Whether an edge comes into the box about a text; nearly all lie on one side of it."""
    (x, y), (across, up) = text.at, _reach(text, text.width / 2 + BESIDE, text.height * 0.9)
    left, right, foot, top = x - across, x + across, y - up, y + up
    for edge in edges:
        (ax, ay), (bx, by) = edge
        if (ax <= left and bx <= left) or (ax >= right and bx >= right):
            continue
        if (ay <= foot and by <= foot) or (ay >= top and by >= top):
            continue
        if _cuts(edge, (left, foot, right, top)):
            return True
    return False


def _cuts(edge: Edge, box: tuple[float, float, float, float]) -> bool:
    """Whether an edge comes into a box from corner to corner, clipped side by side."""
    ((ax, ay), (bx, by)), (left, foot, right, top) = edge, box
    enter, leave = 0.0, 1.0
    for start, way, low, high in ((ax, bx - ax, left, right), (ay, by - ay, foot, top)):
        if abs(way) < 1e-12:
            if not low < start < high:
                return False
            continue
        first, last = sorted(((low - start) / way, (high - start) / way))
        enter, leave = max(enter, first), min(leave, last)
    return enter < leave
