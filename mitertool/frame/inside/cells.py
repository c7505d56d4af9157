"""A clear place inside a frame: an outline, and which member each of its edges belongs to; knows numbers only.

Bars stand in convex ones.

Points are complex numbers x + iy in mm; outlines are walked counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Self

import attrs

from mitertool.base.tolerances import CLOSES, COINCIDENT
from mitertool.base.totals import summed_points

NOBODY: Final = -1
SEAM: Final = -100
"""The owner of an edge where nothing stands, and of one along which an opening is parted in thought only."""


_STRAIGHT: Final = 1e-9
"""The sine of an angle that is none."""


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
        return summed_points(self.corners) / len(self.corners)

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


def convex_parts(cell: Cell, way: complex) -> Iterator[Cell]:
    """A cell with corners that point into it, parted from them along a direction until no part has such a corner."""
    edges = cell.edges
    for i, edge in enumerate(edges):
        before = edges[i - 1].way
        if _turn(before, edge.way) > -_STRAIGHT:
            continue
        for ahead in (way, -way):
            inward = _turn(before, ahead) > _STRAIGHT or _turn(edge.way, ahead) > _STRAIGHT
            if inward and not _runs_back(before, edge.way, ahead):
                for part in _parted(cell, i, ahead):
                    yield from convex_parts(part, way)
                return
    yield cell


def _runs_back(before: complex, after: complex, ahead: complex) -> bool:
    """Whether a direction from a corner runs along one of its own two edges."""
    return (after * ahead.conjugate()).real > 1 - _STRAIGHT or (-before * ahead.conjugate()).real > 1 - _STRAIGHT


def _parted(cell: Cell, i: int, ahead: complex) -> Iterator[Cell]:
    """Both parts of a cell along the line from corner i to the first edge that it meets."""
    corner, count = cell.corners[i], len(cell.corners)
    reach, k = min(
        (reach, k)
        for k in range(count)
        if k not in (i, (i - 1) % count)
        for reach in _met(cell.edges[k], corner, ahead)
    )
    meets = corner + ahead * reach
    after, before = _round(i, k, count), _round(k + 1, i - 1, count)
    owners = cell.owners
    yield _without_nothing([*(cell.corners[j] for j in after), meets], [*(owners[j] for j in after), SEAM])
    yield _without_nothing(
        [meets, *(cell.corners[j] for j in before), corner], [owners[k], *(owners[j] for j in before), SEAM]
    )


def _round(first: int, last: int, count: int) -> list[int]:
    """The numbers from one to another around a cell, both among them."""
    return [(first + j) % count for j in range((last - first) % count + 1)]


def _met(edge: Border, corner: complex, ahead: complex) -> Iterator[float]:
    """How far ahead of a corner a line meets an edge."""
    across = _turn(ahead, edge.way)
    if abs(across) > _STRAIGHT:
        reach = ((edge.start - corner).conjugate() * edge.way).imag / across
        along = ((corner + ahead * reach - edge.start) * edge.way.conjugate()).real
        if reach > COINCIDENT and -COINCIDENT <= along <= abs(edge.end - edge.start) + COINCIDENT:
            yield reach


def _without_nothing(corners: list[complex], owners: list[int]) -> Cell:
    """A cell without edges of no length."""
    whole = zip(corners, [*corners[1:], corners[0]], owners, strict=True)
    kept = [(corner, owner) for corner, end, owner in whole if abs(end - corner) > COINCIDENT]
    return Cell(tuple(corner for corner, _ in kept), tuple(owner for _, owner in kept))


def _turn(one: complex, other: complex) -> float:
    """The sine of the angle from a direction to another, counter-clockwise."""
    return (one.conjugate() * other).imag


def _off(point: complex, at: complex, way: complex) -> float:
    """How far a point lies to the left of a line through `at`, mm."""
    return ((point - at) * way.conjugate()).imag
