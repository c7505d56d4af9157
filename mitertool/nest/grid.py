"""Lengths of a lot in cells, for search and bounds only; knows lots. No rounding of it enters a plan.

A place on the bar is the length used up to a cut with its half kerf, so that parallel neighbours stand 0 apart.
Rounded "up", whatever fits in cells fits in mm; rounded "down", whatever fits in mm fits in cells; "near" is neither.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor, gcd, isfinite
from typing import Final

import attrs

from mitertool.nest.lots import Lot

_NOISE: Final = 1e-6
"""cells. Lengths that are whole numbers of cells come out of sums within this of them."""

_ROUND: Final[dict[str, Callable[[float], int]]] = {
    "up": lambda cells: ceil(cells - _NOISE / 1000),
    "down": lambda cells: floor(cells + _NOISE / 1000),
    "near": lambda cells: floor(cells + 0.5),
}


@attrs.frozen(eq=False)
class Grid:
    """A lot in cells: ways' lengths, joints (None: no joint), starts and tails by slope, capacities by stock."""

    lengths: tuple[int, ...]
    gaps: tuple[tuple[int | None, ...], ...]
    lead: tuple[int, ...]
    trail: tuple[int, ...]
    capacity: tuple[int, ...]

    @property
    def cells(self) -> int:
        """Places on the longest bar."""
        return max(self.capacity) + 1


def grid(lot: Lot, step: float, rounding: str) -> Grid:
    """The lot in cells of `step` mm."""
    whole = _ROUND[rounding]
    ends, shift = lot.ends, max(end.half for end in lot.ends)

    def between(a: int, b: int) -> int | None:
        gap = lot.gaps[a][b]
        return max(0, whole((gap - ends[a].half - ends[b].half) / step)) if isfinite(gap) else None

    return Grid(
        tuple(max(1, whole(weight / step)) for weight in lot.weights),
        tuple(tuple(between(a, b) for b in range(len(ends))) for a in range(len(ends))),
        tuple(whole((end.lead - end.half + shift) / step) for end in ends),
        tuple(whole((end.trail - end.half) / step) for end in ends),
        tuple(floor((capacity + shift) / step + _NOISE) for capacity in lot.capacity),
    )


def step_for(lot: Lot, cells: int) -> float:
    """A step (mm) that makes at most about `cells` places; a common measure of all lengths where there is one."""
    longest = max(lot.capacity)
    lengths = [*lot.weights, *lot.capacity, *(end.trail for end in lot.ends), *(end.half for end in lot.ends)]
    if all(abs(length - round(length, 3)) < 1e-9 for length in lengths):
        measure = gcd(*(round(length * 1000) for length in lengths)) / 1000
        if longest / measure <= cells:
            return measure
    return min(longest / cells, *lot.weights, longest)
