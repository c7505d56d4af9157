"""A bar by what it costs and makes, and prices of pieces and bars: what the search keeps and the masters answer."""

from __future__ import annotations

import attrs

from mitertool.nest.lots import Pattern


@attrs.frozen
class Prices:
    """Dual prices: of a piece of each kind, and of one more bar of each stock (0 where it is not limited)."""

    pieces: tuple[float, ...]
    bars: tuple[float, ...]
    value: float


Key = tuple[int, tuple[tuple[int, int], ...]]
"""What a column is known by: its stock, and how many pieces of each kind."""


@attrs.frozen
class PricedPattern:
    """A bar of the master with its pieces by kind and its cost in the goal."""

    cutting: Pattern
    counts: tuple[tuple[int, int], ...]
    cost: float

    @property
    def key(self) -> Key:
        """Stock and pieces."""
        return self.cutting.stock, self.counts


def column(cutting: Pattern, cost: float) -> PricedPattern:
    """The column of a bar."""
    counts: dict[int, int] = {}
    for way in cutting.walk:
        counts[way.kind] = counts.get(way.kind, 0) + 1
    return PricedPattern(cutting, tuple(sorted(counts.items())), cost)
