"""A clear place inside a frame: a convex outline, and which member each of its edges belongs to; knows numbers only.

Points are complex numbers x + iy in mm; outlines are walked counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Self

import attrs

from mitertool.base.tolerances import CLOSES, COINCIDENT

NOBODY: Final = -1
"""The owner of an edge where nothing stands."""


@attrs.frozen
class Border:
    """An edge of a cell from `start` to `end`, and the number of the member that it belongs to."""

    start: complex
    end: complex
    owner: int

    @property
    def way(self) -> complex:
        """Its direction, of length 1."""
        return (self.end - self.start) / abs(self.end - self.start)


@attrs.frozen
class Cell:
    """A convex outline by its `corners`; `owners[i]` has the edge from corner i to the next."""

    corners: tuple[complex, ...]
    owners: tuple[int, ...]

    @property
    def edges(self) -> tuple[Border, ...]:
        """Its edges."""
        ends = (*self.corners[1:], self.corners[0])
        return tuple(Border(a, b, owner) for a, b, owner in zip(self.corners, ends, self.owners, strict=True))

    @property
    def convex(self) -> bool:
        """Whether it turns to the left at every corner, or runs straight on."""
        ways = [edge.way for edge in self.edges]
        return all((a.conjugate() * b).imag > -1e-9 for a, b in zip(ways, [*ways[1:], ways[0]], strict=True))

    @property
    def middle(self) -> complex:
        """A point inside."""
        return sum(self.corners) / len(self.corners)

    def holds(self, point: complex) -> bool:
        """Whether a point lies inside."""
        return all(_off(point, edge.start, edge.way) > 0 for edge in self.edges)

    def across(self, way: complex) -> tuple[float, float]:
        """From where to where it reaches along a direction of length 1, mm."""
        along = [(corner * way.conjugate()).real for corner in self.corners]
        return min(along), max(along)

    def left_of(self, at: complex, way: complex, owner: int) -> Self | None:
        """The part of it left of a line through `at`, whose edge there belongs to `owner`; None where nothing is left.

        A part that is nowhere wider than two points of a frame may lie apart is nothing.
        """
        kept = tuple(self._kept(at, way, owner))
        if len(kept) < 3 or max(_off(corner, at, way) for corner, _ in kept) < CLOSES:
            return None
        return type(self)(tuple(corner for corner, _ in kept), tuple(one for _, one in kept))

    def _kept(self, at: complex, way: complex, owner: int) -> Iterator[tuple[complex, int]]:
        """The corners left of a line, each with the owner of the edge that begins there."""
        for edge in self.edges:
            here, there = _off(edge.start, at, way), _off(edge.end, at, way)
            if here >= -COINCIDENT:
                yield edge.start, owner if there < -COINCIDENT and here <= COINCIDENT else edge.owner
            if min(here, there) < -COINCIDENT and max(here, there) > COINCIDENT:
                yield edge.start + (edge.end - edge.start) * here / (here - there), edge.owner if here < 0 else owner


def _off(point: complex, at: complex, way: complex) -> float:
    """How far a point lies to the left of a line through `at`, mm."""
    return ((point - at) * way.conjugate()).imag
