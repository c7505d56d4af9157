"""The protractor of a saw: what it must read for a swing, and what swing a reading is; knows numbers only."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.quantity.compare import reaches
from mitertool.words import phrase

SIDES: Final = ("feed", "discharge")
_FLAT: Final = 1e-9
"""degrees. A swing below this is square: it has no side."""


@attrs.frozen
class Scale:
    """How a saw's protractor counts (degrees); a swing is positive toward the feed side.

    `square` is the reading at a square cut, 0 or 90; `positive` is the side to which the reading grows;
    `two_sided` scales read up from square both ways. `feed_side_most` and `discharge_side_most` are the
    swings the arm can make. `offset` is a kept correction, added to every reading; a two-sided scale prints no sign,
    so there it is added to the swing, positive toward the feed side, before the sign is dropped. `offset_from` are the
    measurements that it is the sum of, in the order in which they were kept.
    """

    square: float = 0.0
    positive: str = "feed-side"
    two_sided: bool = False
    feed_side_most: float = 60.0
    discharge_side_most: float = 60.0
    division: float = 1.0
    offset: float = 0.0
    offset_date: str = ""
    offset_from: tuple[str, ...] = ()

    def reading(self, swing: float) -> float:
        """What the protractor must read for a swing."""
        if self.two_sided:
            return abs(swing + self.offset)
        return self.square + (swing if self.positive == "feed-side" else -swing) + self.offset

    def reading_side(self, swing: float) -> str:
        """The side of a two-sided scale on which the reading of a swing stands, "square" at its zero; else the arm's.

        A kept correction sets a square cut, and a swing smaller than itself, on a side that the arm does not go to.
        """
        return side_of(swing + self.offset if self.two_sided else swing)

    def swing(self, reading: float, side: str | None = None) -> float:
        """The swing that a reading stands for; a two-sided scale needs the `side`, "feed" or "discharge"."""
        if not self.two_sided:
            net = reading - self.offset
            return net - self.square if self.positive == "feed-side" else self.square - net
        if abs(reading) > _FLAT and side not in SIDES:
            raise BadInput("side", side, phrase("refuse.side"))
        return (-reading if side == "discharge" else reading) - self.offset

    def corrected(self, error: float) -> float:
        """The offset with which the scale reads true where the arm stood `error` degrees too far to the feed side."""
        counts_to_feed = self.two_sided or self.positive == "feed-side"
        return self.offset - error if counts_to_feed else self.offset + error

    def most(self, swing: float) -> float:
        """The largest swing the arm makes toward the side of `swing`, degrees."""
        return self.feed_side_most if swing > 0 else self.discharge_side_most

    def reaches(self, swing: float) -> bool:
        """Whether the arm swings so far."""
        return reaches(swing, -self.discharge_side_most, self.feed_side_most)


def side_of(swing: float) -> str:
    """Where the blade's moving-jaw end goes: "feed", "discharge", or "square" for no swing."""
    if abs(swing) <= _FLAT:
        return "square"
    return "feed" if swing > 0 else "discharge"
