"""The protractor of a saw: what it must read for a swing, and what swing a reading is; knows numbers only."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.base.errors import BadInput

SIDES: Final = ("feed", "discharge")
_FLAT: Final = 1e-9
"""degrees. A swing below this is square: it has no side."""


@attrs.frozen
class Scale:
    """How a saw's protractor counts (degrees); a swing is positive toward the feed side.

    `square` is the reading at a square cut, 0 or 90; `positive` is the side to which the reading grows;
    `two_sided` scales read up from square both ways. `feed_side_most` and `discharge_side_most` are the
    swings the arm can make. `offset` is a kept correction, added to every reading.
    """

    square: float = 0.0
    positive: str = "feed-side"
    two_sided: bool = False
    feed_side_most: float = 60.0
    discharge_side_most: float = 60.0
    division: float = 1.0
    offset: float = 0.0
    offset_date: str = ""

    def reading(self, swing: float) -> float:
        """What the protractor must read for a swing."""
        if self.two_sided:
            return abs(swing) + self.offset
        return self.square + (swing if self.positive == "feed-side" else -swing) + self.offset

    def swing(self, reading: float, side: str | None = None) -> float:
        """The swing that a reading stands for; a two-sided scale needs the `side`, "feed" or "discharge"."""
        net = reading - self.offset
        if not self.two_sided:
            return net - self.square if self.positive == "feed-side" else self.square - net
        if abs(net) > _FLAT and side not in SIDES:
            raise BadInput("side", side, "a two-sided scale needs the side: feed or discharge")
        return -net if side == "discharge" else net

    def most(self, swing: float) -> float:
        """The largest swing the arm makes toward the side of `swing`, degrees."""
        return self.feed_side_most if swing > 0 else self.discharge_side_most

    def reaches(self, swing: float) -> bool:
        """Whether the arm swings so far."""
        return abs(swing) <= self.most(swing) + _FLAT


def side_of(swing: float) -> str:
    """Where the blade's moving-jaw end goes: "feed", "discharge", or "square" for no swing."""
    if abs(swing) <= _FLAT:
        return "square"
    return "feed" if swing > 0 else "discharge"
