"""Walls on the blade: runs of material followed from band to band; knows geometry only."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Band
from mitertool.geometry.bands import Edge, turning_lengths

Pair = tuple[Edge, Edge]


@attrs.frozen
class Wall:
    """One run of material from where it starts to where it ends or parts: its boundaries, bottom to top."""

    stretches: tuple[tuple[Band, Pair], ...]

    @property
    def lengths(self) -> list[float]:
        """Its length along a horizontal line wherever it may turn from shrinking to growing, bottom to top, mm."""
        found: list[float] = []
        for band, pair in self.stretches:
            lengths = turning_lengths(band.low, band.high, pair)
            goes_on = found and abs(found[-1] - lengths[0]) <= COINCIDENT
            found += lengths[1:] if goes_on else lengths
        return found

    @property
    def least(self) -> float | None:
        """Its least local length, mm.

        The entry and the exit count only for a wall that is nowhere steady, and never where they are nothing
        (as at the tangent of a round); None where that leaves no length.
        """
        found = self.lengths
        inside = [b for a, b, c in zip(found, found[1:], found[2:], strict=False) if a >= b - COINCIDENT <= c]
        steady = [a for a, b in itertools.pairwise(found) if abs(a - b) <= COINCIDENT]
        ends = min(found[0], found[-1])
        return min(inside + steady, default=ends if ends > COINCIDENT else None)


def thinnest_wall(parts: Sequence[Band]) -> float | None:
    """The least local length of all walls, mm; None where every one starts or ends at nothing."""
    return min((wall.least for wall in walls(parts) if wall.least is not None), default=None)


def walls(parts: Sequence[Band]) -> Iterator[Wall]:
    """Every wall of the bands, from the bottom up."""
    growing: list[Wall] = []
    for band in parts:
        pairs = list(zip(band.edges[::2], band.edges[1::2], strict=True))
        growing, ended = _continue(growing, band, pairs)
        yield from ended
    yield from growing


def _continue(growing: list[Wall], band: Band, pairs: list[Pair]) -> tuple[list[Wall], list[Wall]]:
    """Walls as they stand in `band`, and those that ended below it; a parting or joining ends a wall."""
    touch = {i: [j for j, pair in enumerate(pairs) if _meet(wall, band, pair)] for i, wall in enumerate(growing)}
    kept: list[Wall] = []
    continued: set[int] = set()
    for j, pair in enumerate(pairs):
        below = [i for i, above in touch.items() if j in above]
        if len(below) == 1 and len(touch[below[0]]) == 1:
            kept.append(Wall((*growing[below[0]].stretches, (band, pair))))
            continued.add(below[0])
        else:
            kept.append(Wall(((band, pair),)))
    return kept, [wall for i, wall in enumerate(growing) if i not in continued]


def _meet(wall: Wall, band: Band, pair: Pair) -> bool:
    last, (a, b) = wall.stretches[-1]
    if band.low - last.high > COINCIDENT:
        return False
    left, right = max(a.y(last.high), pair[0].y(band.low)), min(b.y(last.high), pair[1].y(band.low))
    return right - left > COINCIDENT
