"""How far a section reaches in many directions at once, by the corners and discs of its hull; knows numpy."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np

from mitertool.geometry import Arc, Point
from mitertool.geometry.hull import HullDiscs
from mitertool.piece.batch.given import Array


def extent(hull: HullDiscs, p: Array, q: Array) -> tuple[Array, Array]:
    """Smallest and largest p*y + q*z over the material."""
    if hull.center is None:
        return -furthest(hull, -p, -q), furthest(hull, p, q)
    middle, half = hull.center[0] * p + hull.center[1] * q, _half(hull, p, q)
    return middle - half, middle + half


def furthest(hull: HullDiscs, p: Array, q: Array) -> Array:
    """Largest p*y + q*z over the material."""
    if hull.center is not None:
        return hull.center[0] * p + hull.center[1] * q + _half(hull, p, q)
    reached = [_most([y * p + z * q for y, z in points]) + r * _slope(r, p, q) for r, points in hull.discs]
    most = _most(reached)
    for arc in hull.bows:
        most = _bowed(arc, most, p, q)
    return most


def width(hull: HullDiscs, p: Array, q: Array) -> Array:
    """Largest less smallest p*y + q*z over the material."""
    if hull.center is None:
        return furthest(hull, p, q) + furthest(hull, -p, -q)
    return 2 * _half(hull, p, q)


def _half(hull: HullDiscs, p: Array, q: Array) -> Array:
    """How far the discs reach from the center, to either side."""
    reached = [_far(points, p, q) + radius * _slope(radius, p, q) for radius, points in hull.discs]
    return _most(reached)


def _bowed(arc: Arc, furthest: Array, p: Array, q: Array) -> Array:
    """How far in p*y + q*z an arc reaches too: its whole disc where it faces that way."""
    steepest, bisector = np.sqrt(p * p + q * q), arc.begin + arc.sweep / 2
    faces = p * cos(bisector) + q * sin(bisector) >= cos(min(arc.sweep / 2, pi)) * steepest
    reached = p * arc.center[0] + q * arc.center[1] + arc.radius * steepest
    return np.where(faces, np.maximum(furthest, reached), furthest)


def _slope(radius: float, p: Array, q: Array) -> Array | float:
    return np.sqrt(p * p + q * q) if radius else 0.0


def _far(points: tuple[Point, ...], p: Array, q: Array) -> Array:
    """The largest |p*y + q*z| of all points; of a rectangle that lies square it is the sum of both halves."""
    if len(points) == 2 and points[0] in ((points[1][0], -points[1][1]), (-points[1][0], points[1][1])):
        return np.abs(points[0][0] * p) + np.abs(points[0][1] * q)
    return _most([np.abs(y * p + z * q) for y, z in points])


def _most(values: list[Array]) -> Array:
    most = values[0]
    for value in values[1:]:
        most = np.maximum(most, value)
    return most
