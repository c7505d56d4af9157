"""How the two ends of a piece came about, and which line of the piece an arm put right leaves alone; knows reach."""

from __future__ import annotations

from math import cos, radians
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.saw.file.machine import Machine
from mitertool.saw.setting.reach import ENDS, reach
from mitertool.words import phrase

ROLLED: Final = "rolled"
SWUNG: Final = "swung"
PARALLEL: Final = "parallel"
WAYS: Final = (ROLLED, SWUNG, PARALLEL)
"""How the second end came about: bar rolled with the arm left alone, arm swung between, or nothing set between."""

TIPS: Final = ("long", "short")
"""The tip of the end cut first that a stop touched."""


@attrs.frozen
class Making:
    """How a piece was made. Lengths mm, angles degrees.

    `turned` are the ends cut with the bar rolled half a turn; `sided` is whether it is known to which side the arm
    was swung. `axis` is the swing axis from the fixed jaw, None where it is not known. `tip` is what a stop touched of
    the end cut first, "" where the bar was moved by its feed.
    """

    way: str
    turned: frozenset[str] = frozenset()
    sided: bool = False
    jaw: str = "left"
    axis: float | None = None
    kerf: float = 0.0
    blade_offset: float = 0.0
    tip: str = ""

    @property
    def leads(self) -> str:
        """The end that was cut first."""
        return self.jaw

    @property
    def trails(self) -> str:
        """The end that was cut last."""
        return OTHER_END[self.leads]

    def sense(self, end: str) -> float:
        """1 where the miter of an end grows as the arm goes to the feed side, -1 where it shrinks."""
        grows = (end == "right") == (self.jaw == "left")
        return 1.0 if grows != (end in self.turned) else -1.0

    def still(self, end: str, miter: float, width: float) -> float:
        """The line across a bar of this width, y in mm, that keeps its length while the miter of an end is changed.

        The arm turns an end about the swing axis. A stop holds the tip it touches: there the end cut first stays.
        """
        if self.tip and end == self.leads:
            return width if (miter > 0) == (self.tip == "long") else 0.0
        axis = width / 2 if self.axis is None else self.axis
        return width - axis if end in self.turned else axis

    def along(self, miters: dict[str, float]) -> float:
        """What kerf and blade offset take off a piece with these miters, mm along the bar, but for a constant.

        A feed moves from kerf to kerf, and half of each lies in the piece. A stop takes the end cut first as it is.
        """
        far = {end: 1 / cos(radians(miter)) for end, miter in miters.items()}
        trailing = (self.kerf / 2 - self.blade_offset) * far[self.trails]
        return trailing if self.tip else trailing + (self.kerf / 2 + self.blade_offset) * far[self.leads]


def way_of(saw: Machine, piece: Piece) -> str:
    """How the saw makes the second end of a piece: one of `WAYS`."""
    left, right = (reach(saw, piece.section, getattr(piece, end), end) for end in ENDS)
    if abs(left.swing - right.swing) > SAME_SLOPE or abs(left.tilt - right.tilt) > SAME_SLOPE:
        return SWUNG
    return ROLLED if left.roll != right.roll else PARALLEL


def making(piece: Piece, way: str | None, saw: Machine | None, tip: str = "") -> Making:
    """How a piece came about: as the saw makes it, but by `way` and against a stop at `tip` where those are given.

    A saw without a feed has a stop, at the long tip where nobody says. Raises `BadInput` where neither way nor saw is
    given, or the way cannot have made both miters.
    """
    own = way_of(saw, piece) if saw else None
    how = way or own
    if how is None or how not in WAYS:
        raise BadInput("way", how, phrase("refuse.way", ways=", ".join(WAYS)))
    if tip not in ("", *TIPS):
        raise BadInput("stop", tip, phrase("refuse.stop-tip", tips=", ".join(TIPS)))
    _refuse_unlike(piece, how)
    if saw is None:
        return Making(how, _turned(how, "right"), tip=tip)
    turned = _turned_on(saw, piece) if how == own else _turned(how, saw.trails)
    return Making(
        how,
        turned,
        how in (own, SWUNG),
        saw.fixed_jaw,
        saw.bed.swing_axis,
        saw.kerf,
        saw.bed.blade_offset,
        tip or ("" if saw.feed else TIPS[0]),
    )


def _refuse_unlike(piece: Piece, way: str) -> None:
    """Refuse a way in which the arm stood the same for both ends where their miters do not go with that."""
    apart = {ROLLED: piece.left.p - piece.right.p, PARALLEL: piece.left.p + piece.right.p}.get(way, 0.0)
    if abs(apart) > SAME_SLOPE:
        found = phrase("found.way", way=way, left=piece.left.miter, right=piece.right.miter)
        raise BadInput("way", found, phrase(f"refuse.unlike/{way}", swung=SWUNG))


def _turned(way: str, last: str) -> frozenset[str]:
    """The ends cut rolled where nobody says: the last of a bar that was rolled."""
    return frozenset([last] if way == ROLLED else [])


def _turned_on(saw: Machine, piece: Piece) -> frozenset[str]:
    """The ends for which the saw has the bar rolled."""
    return frozenset(end for end in ENDS if reach(saw, piece.section, getattr(piece, end), end).roll)
