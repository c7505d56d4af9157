"""Cuts and pieces by the thousand: what cut and piece give for one, over whole arrays; knows piece and numpy.

Loops run over the segments of the outline only. The perimeter comes from Carlson's duplication theorem, as in
`geometry.elliptic`; angles are degrees, lengths mm.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, nan, pi, remainder, sin
from sys import float_info
from typing import Final

import attrs
import numpy as np
from numpy.typing import ArrayLike, NDArray

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import CROSSING
from mitertool.geometry import Arc, Line, Point, Segment
from mitertool.piece.piece import AT
from mitertool.sections import Section
from mitertool.words import phrase

Array = NDArray[np.float64]

_SPREAD: Final = 1e-3
"""Relative spread of the arguments at which the fifth-order series is good to 1e-17 (its error is spread^6)."""


def _kept(values: ArrayLike) -> NDArray[np.generic]:
    array = np.array(values)
    array.flags.writeable = False
    return array


@attrs.frozen(eq=False)
class Cuts:
    """The faces of many cuts of one section: arrays of the shape that miter and bevel broadcast to, not writable.

    `area` mm2, `perimeter` mm; `furthest` and `nearest` are the largest and smallest p*y + q*z over the material,
    mm; `width` (along the blade) and `height` are the face's, mm.
    """

    area: Array = attrs.field(converter=_kept)
    perimeter: Array = attrs.field(converter=_kept)
    furthest: Array = attrs.field(converter=_kept)
    nearest: Array = attrs.field(converter=_kept)
    width: Array = attrs.field(converter=_kept)
    height: Array = attrs.field(converter=_kept)


@attrs.frozen(eq=False)
class Pieces:
    """Many pieces of one section: arrays of the shape that all arguments broadcast to, not writable.

    Lengths mm, `volume` mm3, `mass` kg. `crosses` is true where the two cuts cross or leave nothing between them,
    so that `Piece` would refuse: there the lengths are those of the two planes, and volume and mass are nan.
    """

    long_point: Array = attrs.field(converter=_kept)
    short_point: Array = attrs.field(converter=_kept)
    centerline: Array = attrs.field(converter=_kept)
    overall: Array = attrs.field(converter=_kept)
    volume: Array = attrs.field(converter=_kept)
    mass: Array = attrs.field(converter=_kept)
    crosses: NDArray[np.bool_] = attrs.field(converter=_kept)


def cuts(section: Section, miter: ArrayLike, bevel: ArrayLike = 0.0) -> Cuts:
    """The faces of `section` for every `miter` and `bevel` (degrees, broadcast together).

    Raises `BadInput` with the first index that is no angle of less than 90 degrees, or for shapes that do not
    broadcast.

    >>> mt.batch.cuts(mt.flat(80, 12), [0, 60]).width.round(9).tolist()
    [80.0, 160.0]
    """
    miters, bevels = _together(miter=_angles("miter", miter), bevel=_angles("bevel", bevel))
    p, q = _slopes(miters, bevels)
    nearest, furthest = _extent(section, p, q)
    left, right = _extent(section, 1 / np.cos(np.radians(miters)), p * np.tan(np.radians(bevels)))
    return Cuts(
        area=section.area * np.sqrt(1 + p * p + q * q),
        perimeter=_perimeter(section, p, q),
        furthest=furthest,
        nearest=nearest,
        width=right - left,
        height=section.height / np.cos(np.radians(bevels)),
    )


def pieces(
    section: Section,
    length: ArrayLike,
    left_miter: ArrayLike = 0.0,
    left_bevel: ArrayLike = 0.0,
    right_miter: ArrayLike = 0.0,
    right_bevel: ArrayLike = 0.0,
    at: str = "long-point",
) -> Pieces:
    """The pieces of `section` for every `length` (mm, measured `at` one of `AT`) and pair of cuts (degrees).

    All but `at` broadcast together. Raises `BadInput` with the first index that is no length or no angle, or for
    shapes that do not broadcast; cuts that cross are told in `crosses`.

    >>> mt.batch.pieces(mt.flat(80, 12), 1200, [0, 45]).short_point.round(9).tolist()
    [1200.0, 1120.0]
    """
    if at not in AT:
        raise BadInput("at", at, among(AT))
    lengths, miter_l, bevel_l, miter_r, bevel_r = _together(
        length=_lengths("length", length),
        left_miter=_angles("left_miter", left_miter),
        left_bevel=_angles("left_bevel", left_bevel),
        right_miter=_angles("right_miter", right_miter),
        right_bevel=_angles("right_bevel", right_bevel),
    )
    left, right = _slopes(miter_l, bevel_l), _slopes(miter_r, bevel_r)
    p, q = left[0] + right[0], left[1] + right[1]
    offsets = _offsets(section, p, q)
    offsets["overall"] = _extent(section, *left)[1] + _extent(section, *right)[1]
    s = lengths - offsets[at]
    return _pieces(section, s, s + p * section.centroid[0] + q * section.centroid[1], offsets)


def _pieces(section: Section, s: Array, at_centroid: Array, offsets: dict[str, Array]) -> Pieces:
    crosses = (s + offsets["short-point"] < -CROSSING) | (s + offsets["long-point"] <= CROSSING)
    volume = np.where(crosses, nan, section.area * at_centroid)
    return Pieces(
        long_point=s + offsets["long-point"],
        short_point=s + offsets["short-point"],
        centerline=s + offsets["centerline"],
        overall=s + offsets["overall"],
        volume=volume,
        mass=volume * section.density * 1e-9,
        crosses=crosses,
    )


def _offsets(section: Section, p: Array, q: Array) -> dict[str, Array]:
    """What the length at each place but overall has over L(0, 0), mm."""
    nearest, furthest = _extent(section, p, q)
    across, up = p * section.width, q * section.height
    return {
        "long-point": furthest,
        "short-point": nearest,
        "centerline": across / 2 + up / 2,
        "fixed-bottom": np.zeros_like(across),
        "fixed-top": up,
        "moving-bottom": across,
        "moving-top": across + up,
    }


def _slopes(miter: Array, bevel: Array) -> tuple[Array, Array]:
    radians = np.radians(miter)
    return np.tan(radians), np.tan(np.radians(bevel)) / np.cos(radians)


def _extent(section: Section, p: Array, q: Array) -> tuple[Array, Array]:
    """Smallest and largest p*y + q*z over the material: at an end of a segment, or where a convex arc faces (p, q)."""
    outer = [segment for loop in section.region.loops if _encloses(loop) for segment in loop]
    steepest = np.hypot(p, q)
    nearest, furthest = np.full_like(steepest, np.inf), np.full_like(steepest, -np.inf)
    for y, z in dict.fromkeys(point for segment in outer for point in (segment.start, segment.end)):
        value = p * y + q * z
        nearest, furthest = np.minimum(nearest, value), np.maximum(furthest, value)
    for arc in (segment for segment in outer if isinstance(segment, Arc) and segment.sweep > 0):
        middle, rise = p * arc.center[0] + q * arc.center[1], arc.radius * steepest
        toward, edge = _toward_middle(arc, p, q), cos(min(arc.sweep / 2, pi)) * steepest
        nearest = np.where(-toward >= edge, np.minimum(nearest, middle - rise), nearest)
        furthest = np.where(toward >= edge, np.maximum(furthest, middle + rise), furthest)
    return nearest, furthest


def _encloses(loop: tuple[Segment, ...]) -> bool:
    """Whether the loop is an outer one; no hole reaches further."""
    return sum(segment.area_term() for segment in loop) > 0


def _toward_middle(arc: Arc, p: Array, q: Array) -> Array:
    """(p, q) along the direction from the arc's center to its middle."""
    bisector = arc.begin + arc.sweep / 2
    return p * cos(bisector) + q * sin(bisector)


def _perimeter(section: Section, p: Array, q: Array) -> Array:
    """Length of all outlines as they lie in the plane x = p*y + q*z, mm."""
    segments = section.region.segments
    straight = np.zeros(np.shape(p))
    for line in (segment for segment in segments if isinstance(segment, Line)):
        dy, dz = _step(line)
        straight = straight + np.sqrt(dy * dy + dz * dz + (p * dy + q * dz) ** 2)
    arcs = [segment for segment in segments if isinstance(segment, Arc)]
    return straight + _oblique_arcs(arcs, p, q) if arcs else straight


def _step(line: Line) -> Point:
    return line.end[0] - line.start[0], line.end[1] - line.start[1]


def _oblique_arcs(arcs: list[Arc], p: Array, q: Array) -> Array:
    """Length of the images of all arcs: sqrt(1 + k^2) times a sum of E(angle + phase | m), m = k^2 / (1 + k^2).

    E(angle + n pi) is E(angle) + 2 n E(pi/2), so ends that stand half turns apart are one, and the ends of
    roundings that make up a whole ellipse cancel.
    """
    weights, halves = _ends(arcs)
    k2 = p * p + q * q
    quarter = _second_kind(np.ones_like(k2), np.zeros_like(k2), k2)
    total = 2 * halves * quarter
    phase = np.arctan2(p, q)
    for angle, weight in weights.items():
        turns = np.floor((phase + angle) / pi + 0.5)
        rest = phase + angle - turns * pi
        total = total + weight * (2 * turns * quarter + _second_kind(np.sin(rest), np.cos(rest), k2))
    return np.asarray(np.sqrt(1 + k2) * total)


def _ends(arcs: list[Arc]) -> tuple[dict[float, float], float]:
    """Radii summed by the angle where arcs end, less those that begin there, and the same by half turns.

    Angles are in radians, more than -pi/2 and at most pi/2.
    """
    weights: dict[float, float] = {}
    halves = 0.0
    for arc in arcs:
        lower, upper = sorted((arc.begin, arc.finish))
        for angle, weight in ((lower, -arc.radius), (upper, arc.radius)):
            rest = remainder(angle, pi)
            rest = pi / 2 if rest == -pi / 2 else rest
            weights[rest] = weights.get(rest, 0.0) + weight
            halves += weight * round((angle - rest) / pi)
    return {angle: weight for angle, weight in weights.items() if weight}, halves


def _second_kind(s: Array, c: Array, k2: Array) -> Array:
    """E(phi | m) for -pi/2 <= phi <= pi/2 by its sine `s` and cosine `c`, with m = k2 / (1 + k2).

    s R_F(c^2, 1 - m s^2, 1) - m/3 s^3 R_D(c^2, 1 - m s^2, 1); both forms take the same duplications, and each of
    these leaves a quarter of the spread.
    """
    x, y, z = c * c, (1 + k2 * c * c) / (1 + k2), np.ones_like(k2)
    mean, rest, scale = (x + y + 3) / 5, np.zeros_like(k2), 1.0
    spread = (1 - np.minimum(x, y)) / (_SPREAD / 2)
    while np.any(spread * scale >= mean):
        up, across = np.sqrt(z), np.sqrt(x) + np.sqrt(y)
        lam = up * across + np.sqrt(x * y)
        rest = rest + scale / (up * (z + lam))
        x, y, z, mean, scale = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4, (mean + lam) / 4, scale / 4
    third = rest + scale * _rd_series(x, y, z) / 3
    return np.asarray(s * _rf_series(x, y, z) - k2 / (1 + k2) * s**3 * third)


def _rf_series(x: Array, y: Array, z: Array) -> Array:
    mean = (x + y + z) / 3
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    return np.asarray((1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / np.sqrt(mean))


def _rd_series(x: Array, y: Array, z: Array) -> Array:
    mean = (x + y + 3 * z) / 5
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    ea, eb = dx * dy, dz * dz
    ec, ed = ea - eb, ea - 6 * eb
    tail = dz * ((ed + 2 * ec) / 6 + dz * (-9 / 22 * ec + dz * 3 / 26 * ea))
    series = 1 + ed * (-3 / 14 + 9 / 88 * ed - 9 / 52 * dz * (ed + 2 * ec)) + tail
    return np.asarray(series / (mean * np.sqrt(mean)))


def _angles(name: str, value: ArrayLike) -> Array:
    return _numbers(name, value, lambda v: abs(v) < 90, "refuse.angle")


def _lengths(name: str, value: ArrayLike) -> Array:
    return _numbers(name, value, lambda v: (v >= 0) & (v < np.inf), "refuse.length")


def _numbers(name: str, value: ArrayLike, fits: Callable[[Array], NDArray[np.bool_]], allowed: str) -> Array:
    try:
        given = np.asarray(value)
    except ValueError as error:
        raise BadInput(name, type(value).__name__, phrase("refuse.array")) from error
    if given.dtype.kind not in "iuf":
        _refuse(name, given, np.array([not _is_number(one) for one in given.flat]), allowed)
    values = given.astype(np.float64)
    _refuse(name, given, ~fits(values), allowed)
    return values


def _is_number(one: object) -> bool:
    return isinstance(one, int | float) and not isinstance(one, bool) and abs(one) <= float_info.max


def _refuse(name: str, given: NDArray[np.generic], wrong: NDArray[np.bool_], allowed: str) -> None:
    """Raise `BadInput` for the first value that is wrong, by its index."""
    if not wrong.any():
        return
    first = int(np.argmax(wrong))
    index = ", ".join(str(i) for i in np.unravel_index(first, given.shape))
    raise BadInput(f"{name}[{index}]" if index else name, given.flat[first], phrase(allowed))


def _together(**values: Array) -> tuple[Array, ...]:
    try:
        return tuple(np.broadcast_arrays(*values.values()))
    except ValueError as error:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in values.items())
        raise BadInput(phrase("what.shapes"), shapes, phrase("refuse.broadcast")) from error
