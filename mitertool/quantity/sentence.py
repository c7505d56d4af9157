"""A sentence with lengths in it, written in the units of whoever reads it; knows how lengths are shown."""

from __future__ import annotations

from collections.abc import Callable
from typing import Self, cast

import attrs

from mitertool.quantity.show import Way, show_length, show_limit
from mitertool.quantity.units import Units


@attrs.frozen
class Sentence:
    """Words in which each {} stands for one of the `lengths` (mm), in their order.

    {:down} and {:up} stand for limits, rounded that way: the most that is allowed down, the least that is needed up.
    """

    text: str
    lengths: tuple[float, ...] = ()

    @classmethod
    def words(cls, says: str) -> Self:
        """Words of others as a sentence: they hold no length, whatever braces stand in them."""
        return cls(says.replace("{", "{{").replace("}", "}}"))

    def says(self, show: Callable[[float], str], limit: Callable[[float, Way], str] | None = None) -> str:
        """The sentence with its lengths as `show` writes them, its limits as `limit` does (`show` where None)."""
        return self.text.format(*(_Shown(length, show, limit) for length in self.lengths))

    def in_units(self, units: Units) -> str:
        """The sentence with its lengths as a person reads them, and the unit behind bare mm."""
        unit = " mm" if units == "mm" else ""
        return self.says(
            lambda length: show_length(length, units) + unit,
            lambda length, way: show_limit(length, units, way) + unit,
        )

    def with_more(self, more: str) -> Self:
        """The same sentence with words at its end, which hold no length."""
        return self.followed_by(Sentence.words(more))

    def followed_by(self, other: Sentence) -> Self:
        """Both sentences as one."""
        return attrs.evolve(self, text=self.text + other.text, lengths=(*self.lengths, *other.lengths))


@attrs.frozen
class _Shown:
    """A length on its way into a text, as its place there asks for it."""

    length: float
    show: Callable[[float], str]
    limit: Callable[[float, Way], str] | None

    def __format__(self, way: str) -> str:
        return self.limit(self.length, cast(Way, way)) if way and self.limit else self.show(self.length)
