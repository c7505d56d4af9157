"""Places and directions in space as three numbers; knows numbers only."""

from __future__ import annotations

from math import atan2, cos, sin, sqrt

Vector = tuple[float, float, float]


def plus(a: Vector, b: Vector, times: float = 1.0) -> Vector:
    """a and so many times b."""
    return (a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2])


def minus(a: Vector, b: Vector) -> Vector:
    """From b to a."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def dot(a: Vector, b: Vector) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def norm(a: Vector) -> float:
    """How long a vector is."""
    return sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """The direction of a vector that is not 0."""
    long = norm(a)
    return (a[0] / long, a[1] / long, a[2] / long)


def across(a: Vector, direction: Vector) -> Vector:
    """What of a vector is square to a direction of length 1."""
    return plus(a, direction, -dot(a, direction))


def turned(a: Vector, axis: Vector, angle: float) -> Vector:
    """A vector turned about an axis of length 1, radians, counter-clockwise seen against the axis."""
    along = dot(a, axis)
    straight, sideways = across(a, axis), cross(axis, a)
    square = plus(plus((0.0, 0.0, 0.0), straight, cos(angle)), sideways, sin(angle))
    return plus(square, axis, along)


def angle_between(a: Vector, b: Vector) -> float:
    """The angle between two directions, radians, 0 to pi; exact also near both ends."""
    return atan2(norm(cross(a, b)), dot(a, b))


def angle_about(axis: Vector, a: Vector, b: Vector) -> float:
    """From a to b, both square to an axis of length 1, radians, counter-clockwise seen against the axis."""
    return atan2(dot(axis, cross(a, b)), dot(a, b))
