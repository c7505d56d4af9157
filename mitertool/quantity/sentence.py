"""A sentence with lengths in it, written in the units of whoever reads it; knows how lengths are shown."""

from __future__ import annotations

from collections.abc import Callable
from typing import Self

import attrs

from mitertool.quantity.show import show_length
from mitertool.quantity.units import Units


@attrs.frozen
class Sentence:
    """Words in which each {} stands for one of the `lengths` (mm), in their order."""

    text: str
    lengths: tuple[float, ...] = ()

    @classmethod
    def words(cls, says: str) -> Self:
        """Words of others as a sentence: they hold no length, whatever braces stand in them."""
        return cls(says.replace("{", "{{").replace("}", "}}"))

    def says(self, show: Callable[[float], str]) -> str:
        """The sentence with its lengths as `show` writes them."""
        return self.text.format(*map(show, self.lengths))

    def in_units(self, units: Units) -> str:
        """The sentence with its lengths as a person reads them, and the unit behind bare mm."""
        return self.says(lambda length: show_length(length, units) + (" mm" if units == "mm" else ""))

    def with_more(self, more: str) -> Self:
        """The same sentence with words at its end, which hold no length."""
        return self.followed_by(Sentence.words(more))

    def followed_by(self, other: Sentence) -> Self:
        """Both sentences as one."""
        return attrs.evolve(self, text=self.text + other.text, lengths=(*self.lengths, *other.lengths))
