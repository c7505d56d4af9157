"""Loops sorted into one outer outline and its holes, crossings refused; regions are compared with a chord error."""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, ceil
from typing import Any

from shapely import Polygon
from shapely.validation import explain_validity

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CHORD_ERROR
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Point
from mitertool.words import phrase


def nested(loops: Sequence[Loop]) -> Region:
    """The region of one outer loop with its holes, each loop walked with the material on its left.

    Raises `BadInput` with the place where a loop crosses itself or another, where there are two outer loops, or
    where a loop lies inside a hole.
    """
    shapes = [_shape(loop) for loop in loops]
    for shape in shapes:
        _refuse_crossing(shape)
    order = sorted(range(len(loops)), key=lambda i: (-abs(Region((loops[i],)).area), shapes[i].bounds))
    outer, holes = order[0], order[1:]
    for i in holes:
        _refuse_misplaced(shapes, outer, i, holes)
    return Region((_walked(loops[outer], 1.0), *(_walked(loops[i], -1.0) for i in holes))).to_corner()


def polyline(loop: Loop) -> list[Point]:
    """Points along a loop that stay within `CHORD_ERROR` of it."""
    points: list[Point] = []
    for segment in loop:
        if isinstance(segment, Arc) and segment.radius > 0:
            step = 2 * acos(max(0.0, 1 - CHORD_ERROR / segment.radius))
            count = max(4, ceil(abs(segment.sweep) / step))
            points += [segment.at(segment.begin + segment.sweep * i / count) for i in range(count)]
        else:
            points.append(segment.start)
    return points


def _shape(loop: Loop) -> Any:
    points = polyline(loop)
    if len(points) < 3:
        y, z = points[0]
        raise _refused(f"({y:.3f}, {z:.3f}) mm", "refuse.empty-loop")
    return Polygon(points)


def _walked(loop: Loop, sign: float) -> Loop:
    """The loop walked the right way round from its lowest, then leftmost point, however it was drawn."""
    walked = loop if Region((loop,)).area * sign > 0 else tuple(s.reversed() for s in loop[::-1])
    starts = [segment.start for segment in walked]
    first = min(range(len(starts)), key=lambda i: (round(starts[i][1], 6), round(starts[i][0], 6)))
    return (*walked[first:], *walked[:first])


def _refuse_crossing(shape: Any) -> None:
    if not shape.is_valid:
        raise _refused(explain_validity(shape), "refuse.crossed-outline")


def _refuse_misplaced(shapes: Sequence[Any], outer: int, i: int, holes: Sequence[int]) -> None:
    if not shapes[outer].contains(shapes[i]):
        crosses = shapes[outer].boundary.intersects(shapes[i].boundary)
        raise _refused(_near(shapes[i]), "refuse.loop-crosses" if crosses else "refuse.loop-outside")
    for other in holes:
        if other != i and shapes[other].intersects(shapes[i]):
            nested_twice = shapes[other].contains(shapes[i]) or shapes[i].contains(shapes[other])
            raise _refused(_near(shapes[i]), "refuse.hole-in-hole" if nested_twice else "refuse.holes-cross")


def _refused(place: str, why: str) -> BadInput:
    return BadInput(phrase("what.outline"), place, phrase(why))


def _near(shape: Any) -> str:
    point = shape.representative_point()
    return f"({point.x:.3f}, {point.y:.3f}) mm"
