"""Walls on the blade: runs of material followed from band to band; knows geometry only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Band
from mitertool.geometry.bands import ArcEdge, Edge, turning_lengths

Pair = tuple[Edge, Edge]
Stretch = tuple[Band, Pair]


@attrs.frozen
class Wall:
    """One run of material, bottom to top, from where it starts to where it ends, parts or joins.

    `enters` says that nothing lies below it, `leaves` that nothing lies above.
    """

    stretches: tuple[Stretch, ...]
    enters: bool
    leaves: bool = False

    @property
    def least(self) -> float | None:
        """Its least local length along a horizontal line, mm; None for a wall that is nowhere but a tip.

        The rounded stretches by which it enters or leaves are left out: there the blade meets a tangent. Its ends
        count only for a wall that is nowhere steady or waisted, and never where they are nothing.
        """
        lengths = self._lengths()
        waists = [b for a, b, c in zip(lengths, lengths[1:], lengths[2:], strict=False) if a >= b - COINCIDENT <= c]
        steady = [b for a, b in pairwise(lengths) if abs(a - b) <= COINCIDENT]
        ends = [length for length in (*lengths[:1], *lengths[-1:]) if length > COINCIDENT]
        return min(waists + steady or ends, default=None)

    def _lengths(self) -> list[float]:
        """Its length at the ends of its stretches and wherever it is stationary between, bottom to top, mm."""
        inner = list(self.stretches)
        while self.enters and inner and _rounded(inner[0]):
            inner.pop(0)
        while self.leaves and inner and _rounded(inner[-1]):
            inner.pop()
        found: list[float] = []
        for band, pair in inner:
            lengths = turning_lengths(band.low, band.high, pair)
            goes_on = bool(found) and abs(found[-1] - lengths[0]) <= COINCIDENT
            found += lengths[goes_on:]
        return found


def thinnest_wall(parts: Sequence[Band]) -> float | None:
    """The least length of all walls, mm; None where there is none but tips, as in a round bar."""
    return min((wall.least for wall in walls(parts) if wall.least is not None), default=None)


def walls(parts: Sequence[Band]) -> Iterator[Wall]:
    """Every wall of the bands, from the bottom up."""
    growing: list[Wall] = []
    for band in parts:
        pairs = list(zip(band.edges[::2], band.edges[1::2], strict=True))
        growing, ended = _continued(growing, band, pairs)
        yield from ended
    yield from (attrs.evolve(wall, leaves=True) for wall in growing)


def _rounded(stretch: Stretch) -> bool:
    return any(isinstance(edge, ArcEdge) for edge in stretch[1])


def _continued(growing: list[Wall], band: Band, pairs: list[Pair]) -> tuple[list[Wall], list[Wall]]:
    """Walls as they stand in `band`, and those that ended below it; a parting or joining ends a wall."""
    above = {i: [j for j, pair in enumerate(pairs) if _meet(wall, band, pair)] for i, wall in enumerate(growing)}
    standing: list[Wall] = []
    gone_on: set[int] = set()
    for j, pair in enumerate(pairs):
        below = [i for i, met in above.items() if j in met]
        if len(below) == 1 and len(above[below[0]]) == 1:
            before = growing[below[0]]
            standing.append(attrs.evolve(before, stretches=(*before.stretches, (band, pair))))
            gone_on.add(below[0])
        else:
            standing.append(Wall(((band, pair),), enters=not below))
    ended = (attrs.evolve(wall, leaves=not above[i]) for i, wall in enumerate(growing) if i not in gone_on)
    return standing, list(ended)


def _meet(wall: Wall, band: Band, pair: Pair) -> bool:
    last, (a, b) = wall.stretches[-1]
    if band.low - last.high > COINCIDENT:
        return False
    left, right = max(a.y(last.high), pair[0].y(band.low)), min(b.y(last.high), pair[1].y(band.low))
    return right - left > COINCIDENT
