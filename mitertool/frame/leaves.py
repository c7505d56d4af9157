"""The leaf of a gate or door, or two of them, from the opening and the gaps around; knows numbers only."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.frame.sizes import refuse_no_size
from mitertool.quantity.keys import exact
from mitertool.quantity.problem import Remark, lengths
from mitertool.words import phrase

GAPS: Final = ("hinge", "latch", "meeting", "floor", "head")
"""The gaps of an opening: on the side of the hinges, where one leaf closes, between two, below and above."""

HINGED: Final = ("left", "right")
OTHER_SIDE: Final = {"left": "right", "right": "left"}
"""On which side of a leaf its hinges are, the first as it is drawn; and on which its mirror image has them."""


@attrs.frozen
class Doorway:
    """An opening of a `width` and a `height`, the gaps that are to be left in it and how many leaves, all mm.

    `hinge` is the gap on the side of the hinges, `latch` that where a single leaf closes, `meeting` that between two;
    `floor` lies below and `head` above. Two leaves are halves of what the gaps leave, unless this one is `own` wide or
    the other one is `other`. A leaf is drawn with its hinges on the left; one that is `hinged` on the right is its
    mirror image. Raises `BadInput` for gaps that leave no leaf.
    """

    width: float
    height: float
    hinge: float = 0.0
    latch: float = 0.0
    meeting: float = 0.0
    floor: float = 0.0
    head: float = 0.0
    leaves: int = 1
    own: float | None = None
    other: float | None = None
    hinged: str = ""

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
        self._refuse_unequal()
        widths = (self.leaf_width, self.other_leaf) if self.leaves == 2 else (self.leaf_width,)
        for name, size in (("opening_width", min(widths)), ("opening_height", self.leaf_height)):
            if size <= 0:
                raise BadInput(name, Remark("found.leaves", lengths(size=size)), phrase("refuse.leaves"))

    def _refuse_unequal(self) -> None:
        """Raise `BadInput` for a width of one of two where there is one, and for hinges of a pair that is alike."""
        for key, size in (("leaf_width", self.own), ("other_leaf", self.other)):
            if size is not None and self.leaves == 1:
                raise BadInput(key, exact(size), phrase("refuse.of-two"))
        if self.hinged not in ("", *HINGED):
            raise BadInput("hinged", self.hinged, among(HINGED))
        if self.hinged and self.alike:
            raise BadInput("hinged", self.hinged, phrase("refuse.hinged"))

    @property
    def alike(self) -> bool:
        """Whether there are two leaves, one the mirror image of the other."""
        return self.leaves == 2 and self.own is None and self.other is None

    @property
    def drawn(self) -> int:
        """How many leaves of this width are as drawn."""
        return 1 if self.hinged != "right" else 0

    @property
    def image(self) -> int:
        """How many are the mirror image."""
        return 1 if self.alike or self.hinged == "right" else 0

    @property
    def leaf_width(self) -> float:
        """The width of a leaf over all, mm; of two that differ of this one."""
        if self.leaves == 1:
            return self.width - self.hinge - self.latch
        if self.own is not None:
            return self.own
        return self._of_both / 2 if self.other is None else self._of_both - self.other

    @property
    def other_leaf(self) -> float:
        """The width of the other one of two leaves, mm."""
        return self._of_both - self.leaf_width

    @property
    def _of_both(self) -> float:
        return self.width - 2 * self.hinge - self.meeting

    @property
    def leaf_height(self) -> float:
        """The height of a leaf over all, mm."""
        return self.height - self.floor - self.head

    def sums(self) -> Iterator[Remark]:
        """How width and height came about."""
        width = lengths(leaf=self.leaf_width, opening=self.width, hinge=self.hinge)
        if self.leaves == 1:
            yield Remark("note.leaf-width", width + lengths(latch=self.latch), "one")
        elif self.alike:
            yield Remark("note.leaf-width", width + lengths(meeting=self.meeting), "two")
        else:
            both = lengths(meeting=self.meeting, other=self.other_leaf)
            yield Remark("note.leaf-width", width + both, "unequal")
        height = lengths(leaf=self.leaf_height, opening=self.height, floor=self.floor, head=self.head)
        yield Remark("note.leaf-height", height)
        if self.alike:
            yield Remark("note.leaf-mirrored")
        elif self.image:
            yield Remark("note.leaf-hinged")
