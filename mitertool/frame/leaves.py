"""The leaf of a gate or door, or two of them, from the opening and the gaps around; knows numbers only."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.sizes import refuse_no_size
from mitertool.quantity.problem import Remark, lengths
from mitertool.words import phrase

GAPS: Final = ("hinge", "latch", "meeting", "floor", "head")
"""The gaps of an opening: on the side of the hinges, where one leaf closes, between two, below and above."""


@attrs.frozen
class Doorway:
    """An opening of a `width` and a `height`, the gaps that are to be left in it and how many leaves, all mm.

    `hinge` is the gap on the side of the hinges, `latch` that where a single leaf closes, `meeting` that between two;
    `floor` lies below and `head` above. Raises `BadInput` for gaps that leave no leaf.
    """

    width: float
    height: float
    hinge: float = 0.0
    latch: float = 0.0
    meeting: float = 0.0
    floor: float = 0.0
    head: float = 0.0
    leaves: int = 1

    def __attrs_post_init__(self) -> None:
        refuse_no_size(opening_width=self.width, opening_height=self.height)
        for name in GAPS:
            gap = getattr(self, name)
            if not (isfinite(gap) and gap >= 0):
                raise BadInput(f"{name}_gap", gap, phrase("refuse.gap"))
        if self.leaves not in (1, 2):
            raise BadInput("leaves", self.leaves, phrase("refuse.from-to", least=1, most=2))
        idle = "meeting" if self.leaves == 1 else "latch"
        if getattr(self, idle):
            raise BadInput(f"{idle}_gap", getattr(self, idle), phrase(f"refuse.{idle}-gap"))
        for name, size in (("opening_width", self.leaf_width), ("opening_height", self.leaf_height)):
            if size <= 0:
                raise BadInput(name, Remark("found.leaves", lengths(size=size)), phrase("refuse.leaves"))

    @property
    def leaf_width(self) -> float:
        """The width of a leaf over all, mm."""
        if self.leaves == 1:
            return self.width - self.hinge - self.latch
        return (self.width - 2 * self.hinge - self.meeting) / 2

    @property
    def leaf_height(self) -> float:
        """The height of a leaf over all, mm."""
        return self.height - self.floor - self.head

    def sums(self) -> Iterator[Remark]:
        """How width and height came about."""
        width = lengths(leaf=self.leaf_width, opening=self.width, hinge=self.hinge)
        if self.leaves == 1:
            yield Remark("note.leaf-width", width + lengths(latch=self.latch), "one")
        else:
            yield Remark("note.leaf-width", width + lengths(meeting=self.meeting), "two")
        height = lengths(leaf=self.leaf_height, opening=self.height, floor=self.floor, head=self.head)
        yield Remark("note.leaf-height", height)
        if self.leaves == 2:
            yield Remark("note.leaf-mirrored")
