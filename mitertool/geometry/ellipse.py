"""The image of lines and arcs under a linear map of the plane: lines and arcs of ellipses; knows only segments."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, sin

import attrs

from mitertool.geometry.segments import Arc, Line, Point, Segment

LinearMap = tuple[float, float, float, float]
"""(a, b, c, d) maps (y, z) to (a*y + b*z, c*y + d*z)."""


@attrs.frozen
class EllipseArc:
    """An arc of an ellipse: center and half major axis (mm), ratio minor/major, start and sweep (degrees).

    The angles are the ellipse's parameter, counter-clockwise from the major axis; sweep 360 is the whole.
    """

    center: Point
    major: Point
    ratio: float
    start: float
    sweep: float


FaceLine = Line | EllipseArc


def image_of(segment: Segment, linear: LinearMap) -> FaceLine:
    """`segment` under `linear`, exact."""
    if isinstance(segment, Line):
        return Line(_apply(linear, segment.start), _apply(linear, segment.end))
    return _image_of_arc(segment, linear)


def _image_of_arc(arc: Arc, linear: LinearMap) -> EllipseArc:
    """Conjugate half diameters turned to the principal axes (Rytz's task, closed form)."""
    ay, az = _apply(linear, (arc.radius, 0.0))
    by, bz = _apply(linear, (0.0, arc.radius))
    turn = atan2(2 * (ay * by + az * bz), ay * ay + az * az - by * by - bz * bz) / 2
    major = (ay * cos(turn) + by * sin(turn), az * cos(turn) + bz * sin(turn))
    minor = (by * cos(turn) - ay * sin(turn), bz * cos(turn) - az * sin(turn))
    ratio = min(1.0, hypot(*minor) / hypot(*major))
    hand = 1.0 if linear[0] * linear[3] - linear[1] * linear[2] > 0 else -1.0
    start, sweep = hand * degrees(arc.begin - turn), hand * degrees(arc.sweep)
    return EllipseArc(_apply(linear, arc.center), major, ratio, start, sweep)


def _apply(linear: LinearMap, point: Point) -> Point:
    a, b, c, d = linear
    return (a * point[0] + b * point[1], c * point[0] + d * point[1])
