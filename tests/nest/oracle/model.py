"""What a small job is made of, in plain numbers: no line of it is shared with the package.

Slopes are dx/dy across the bar. A left end is x = -pL*y, a right end x = c + pR*y, so as drawn a piece leads with -pL
and trails with pR; the half turns about the vertical (Z), the bar (X) and the cross axis (Y) follow from that.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, hypot

SAME = 1e-9
"""Slopes closer than this are parallel; costs closer than this are one."""

PARTNER = {"I": "X", "X": "I", "Z": "Y", "Y": "Z"}
"""The pose half a turn over about the bar's axis: the same end leads."""


@dataclass(frozen=True)
class Piece:
    """One piece: section, centerline, slopes of both ends, and the letters of the poses that it may take."""

    section: str
    length: float
    left: float
    right: float
    poses: str

    def lying(self, pose: str) -> tuple[float, float]:
        """Slopes of its leading and trailing cut on the bar."""
        left, right = self.left, self.right
        return {"I": (-left, right), "Z": (right, -left), "X": (left, -right), "Y": (-right, left)}[pose]


@dataclass(frozen=True)
class Section:
    """How wide it is, and whether a bar lies as safely half a turn over, where it looks the same."""

    width: float
    over: bool


@dataclass(frozen=True)
class Stock:
    """A length of bar; `quantity` None: as many as needed."""

    section: str
    length: float
    price: float
    quantity: int | None = None


@dataclass(frozen=True)
class Rates:
    """Money for one of each."""

    swing: float
    roll: float
    load: float = 0.0
    recut: float = 0.0


@dataclass(frozen=True)
class Shop:
    """What the saw takes, how far its arm goes to the feed and to the discharge side, degrees, and the rates."""

    kerf: float
    trim: float
    grip: float
    feed_most: float = 90.0
    discharge_most: float = 90.0
    rates: Rates | None = None
    over_the_tip: bool = False

    def makes(self, swing: float) -> bool:
        return -self.discharge_most - SAME <= swing <= self.feed_most + SAME

    def along(self, slope: float) -> float:
        """A kerf along the bar."""
        return self.kerf * hypot(1, slope)

    def joint(self, one: float, two: float, width: float) -> float:
        """From a trailing cut to the next leading one."""
        if abs(one - two) <= SAME:
            return self.along(one)
        second = 0.0 if self.over_the_tip else self.along(two)
        return self.along(one) + second + abs(one - two) * width / 2


@dataclass(frozen=True)
class Job:
    """A job of a few pieces."""

    pieces: tuple[Piece, ...]
    sections: dict[str, Section]
    stock: tuple[Stock, ...]
    shop: Shop


def swing_of(slope: float) -> float:
    """Degrees from square."""
    return degrees(atan(slope))
