"""A sentence with lengths in it, written in the units of whoever reads it; knows how lengths are shown."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, Self, cast

import attrs

from mitertool.quantity.show import show_exact, show_gap, show_length, show_limit
from mitertool.quantity.units import Units

As = Literal["down", "up", "fine", "exact"]
"""How a length in a sentence may ask to be shown: as a limit rounded that way, finer than a tape, or as it is."""


@attrs.frozen
class Sentence:
    """Words in which each {} stands for one of the `lengths` (mm), in their order.

    {:down} and {:up} stand for limits, rounded that way: the most that is allowed down, the least that is needed up.
    {:fine} stands for a small length, such as a correction, that a tape's step would show as nothing,
    {:exact} for one that is not rounded to any step.
    """

    text: str
    lengths: tuple[float, ...] = ()

    @classmethod
    def words(cls, says: str) -> Self:
        """Words of others as a sentence: they hold no length, whatever braces stand in them."""
        return cls(says.replace("{", "{{").replace("}", "}}"))

    def says(self, show: Callable[[float], str], show_as: Callable[[float, As], str] | None = None) -> str:
        """The sentence with its lengths as `show` writes them, those that ask as `show_as` does (`show` where None)."""
        return self.text.format(*(_Shown(length, show, show_as) for length in self.lengths))

    def in_units(self, units: Units) -> str:
        """The sentence with its lengths as a person reads them, and the unit behind bare mm."""
        unit = " mm" if units == "mm" else ""
        return self.says(
            lambda length: show_length(length, units) + unit,
            lambda length, asked: _shown_as(length, units, asked) + unit,
        )


@attrs.frozen
class _Shown:
    """A length on its way into a text, as its place there asks for it."""

    length: float
    show: Callable[[float], str]
    show_as: Callable[[float, As], str] | None

    def __format__(self, asked: str) -> str:
        return self.show_as(self.length, cast(As, asked)) if asked and self.show_as else self.show(self.length)


def _shown_as(length: float, units: Units, asked: As) -> str:
    if asked == "exact":
        return show_exact(length, units)
    return show_gap(length, units) if asked == "fine" else show_limit(length, units, asked)
