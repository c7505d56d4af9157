"""What is drawn by lot, the same for the same number on every system; knows nothing but numbers."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import TypeVar

import attrs

T = TypeVar("T")


def _by_number(seed: int) -> Random:
    return Random(seed)


@attrs.define
class ByLot:
    """Draws by lot from a number: only `random()` is used, whose row Python keeps from version to version."""

    _random: Random = attrs.field(converter=_by_number)

    def one_of(self, things: Sequence[T]) -> T:
        """One of several things."""
        return things[int(self._random.random() * len(things))]

    def between(self, low: float, high: float, step: float) -> float:
        """A multiple of `step` from `low` to `high`."""
        first, last = round(low / step), round(high / step)
        return self.one_of(range(first, last + 1)) * step

    def in_any_order(self, things: Sequence[T]) -> list[T]:
        """The same things in an order by lot."""
        left = list(things)
        return [left.pop(int(self._random.random() * len(left))) for _ in range(len(left))]
