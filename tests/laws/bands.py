"""A region cut into horizontal bands in which every boundary is one function y(z): what a level blade meets.

Chords and their largest and smallest values are read from the bands, with limits taken at the ends of a band by the
boundary's own formula and never by a sample nearby. It shares nothing with the package's own blade, and judges it.
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from math import cos, pi, sqrt
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry.region import Region
from mitertool.geometry.segments import Arc, Line, Segment

Span = tuple[float, float]
"""From y to y along a horizontal line, mm."""


@attrs.frozen
class LineEdge:
    """A straight boundary between the heights `low` and `high`."""

    low: float
    high: float
    y_low: float
    y_high: float

    def y(self, z: float) -> float:
        """Place of the boundary at height z."""
        return self.y_low + (self.y_high - self.y_low) * (z - self.low) / (self.high - self.low)

    def slope(self, _z: float) -> float:
        """dy/dz."""
        return (self.y_high - self.y_low) / (self.high - self.low)


@attrs.frozen
class ArcEdge:
    """The left (side -1) or right (side +1) half of a circle between the heights `low` and `high`."""

    low: float
    high: float
    cy: float
    cz: float
    radius: float
    side: float

    def y(self, z: float) -> float:
        """Place of the boundary at height z."""
        return self.cy + self.side * sqrt(max(0.0, self.radius**2 - (z - self.cz) ** 2))

    def slope(self, z: float) -> float:
        """dy/dz; finite only inside the arc's own heights."""
        rise = z - self.cz
        return -self.side * rise / sqrt(max(self.radius**2 - rise**2, 1e-300))


Edge = LineEdge | ArcEdge


@attrs.frozen
class Band:
    """The strip low <= z <= high; `edges` from left to right, material between the first and second, and so on."""

    low: float
    high: float
    edges: tuple[Edge, ...]

    def spans(self, z: float) -> tuple[Span, ...]:
        """Material on the horizontal line at z, by this band's formulas (a limit at its two ends)."""
        ys = [edge.y(z) for edge in self.edges]
        return tuple(zip(ys[::2], ys[1::2], strict=True))

    def chord(self, z: float) -> float:
        """Total length of material at z, mm."""
        return sum(right - left for left, right in self.spans(z))


def bands(region: Region) -> tuple[Band, ...]:
    """The bands of `region` from bottom to top."""
    edges = [edge for segment in region.segments for edge in _edges(segment)]
    levels = _levels(edges)
    standing = [edge for edge in (_between(levels, edge) for edge in edges) if edge.low < edge.high]
    return tuple(_band(low, high, standing) for low, high in itertools.pairwise(levels))


def spans_at(parts: Sequence[Band], z: float) -> tuple[Span, ...]:
    """Material on the line at height z, the boundary counted as material, as disjoint spans from left to right."""
    touching = sorted(
        span for band in parts if band.low - COINCIDENT <= z <= band.high + COINCIDENT for span in band.spans(z)
    )
    merged: list[Span] = []
    for left, right in touching:
        if merged and left <= merged[-1][1] + COINCIDENT:
            merged[-1] = (merged[-1][0], max(right, merged[-1][1]))
        else:
            merged.append((left, right))
    return tuple(merged)


def chord(parts: Sequence[Band], z: float) -> float:
    """Total length of material on the line at height z, mm."""
    return sum(right - left for left, right in spans_at(parts, z))


def extremes(low: float, high: float, edges: Sequence[Edge]) -> tuple[float, float]:
    """Smallest and largest length between the paired `edges` for low <= z <= high, ends taken as limits."""
    lengths = turning_lengths(low, high, edges)
    return min(lengths), max(lengths)


def turning_lengths(low: float, high: float, edges: Sequence[Edge]) -> list[float]:
    """Length between the paired `edges` at `low`, wherever it is stationary in between, and at `high`, in order."""

    def length(z: float) -> float:
        return sum(b.y(z) - a.y(z) for a, b in zip(edges[::2], edges[1::2], strict=True))

    curved = any(isinstance(edge, ArcEdge) for edge in edges)
    return [length(z) for z in (low, *(_stationary(low, high, edges) if curved else ()), high)]


def root(function: Callable[[float], float], low: float, high: float, at_low: float) -> float:
    """Where `function` changes its sign between `low`, where it is `at_low`, and `high`, by 60 halvings."""
    for _ in range(60):
        middle = (low + high) / 2
        if function(middle) * at_low > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


_STEPS: Final = 24
"""Looks for a change of sign in 24 steps a band: no outline of lines and arcs has stationary lengths closer."""

_FIRST_LOOK: Final = 1e-5
"""Steps from either end of a band: where an arc runs level at an end, a length may turn right beside it."""


def _stationary(low: float, high: float, edges: Sequence[Edge]) -> Iterator[float]:
    """Heights strictly inside at which the length between the paired edges is stationary."""

    def grows(z: float) -> float:
        return sum(b.slope(z) - a.slope(z) for a, b in zip(edges[::2], edges[1::2], strict=True))

    half = (high - low) / 2
    steps = (_FIRST_LOOK, *range(1, _STEPS), _STEPS - _FIRST_LOOK)
    places = [low + half * (1 - cos(pi * i / _STEPS)) for i in steps]
    signs = [grows(z) for z in places]
    for a, b, fa, fb in zip(places, places[1:], signs, signs[1:], strict=False):
        if fa == 0.0:
            yield a
        elif fa * fb < 0:
            yield root(grows, a, b, fa)


def _edges(segment: Segment) -> Iterator[Edge]:
    if isinstance(segment, Line):
        yield from _line_edge(segment)
    else:
        yield from _arc_edges(segment)


def _line_edge(line: Line) -> Iterator[Edge]:
    (y0, z0), (y1, z1) = sorted((line.start, line.end), key=lambda point: point[1])
    if z1 > z0:
        yield LineEdge(z0, z1, y0, y1)


def _arc_edges(arc: Arc) -> Iterator[Edge]:
    """The arc parted at its highest and lowest point and at the height of its center."""
    lower, upper = sorted((arc.begin, arc.finish))
    first = int(lower // (pi / 2)) + 1
    angles = [lower, *[n * pi / 2 for n in range(first, first + 5) if n * pi / 2 < upper], upper]
    for a, b in itertools.pairwise(angles):
        low, high = sorted((arc.at(a)[1], arc.at(b)[1]))
        if high > low:
            side = 1.0 if cos((a + b) / 2) > 0 else -1.0
            yield ArcEdge(low, high, *arc.center, arc.radius, side)


def _levels(edges: Sequence[Edge]) -> list[float]:
    levels: list[float] = []
    for z in sorted(z for edge in edges for z in (edge.low, edge.high)):
        if not levels or z - levels[-1] > COINCIDENT:
            levels.append(z)
    return levels


def _between(levels: Sequence[float], edge: Edge) -> Edge:
    """The edge from level to level: ends that count as one height become one, so that no edge ends inside a band."""
    low, high = (levels[bisect_right(levels, z) - 1] for z in (edge.low, edge.high))
    return attrs.evolve(edge, low=low, high=high)


def _band(low: float, high: float, edges: Sequence[Edge]) -> Band:
    middle = (low + high) / 2
    crossing = sorted((edge for edge in edges if edge.low < middle < edge.high), key=lambda e: e.y(middle))
    return Band(low, high, tuple(crossing))
