"""The ways to set a cut of a bar: swing, roll and tilt; knows cuts on bars.

Only geometry: whether a saw goes so far is told by the saw.
"""

from __future__ import annotations

from math import atan, atan2, degrees, hypot
from typing import NamedTuple

import attrs

from mitertool.bar.cut import BarCut
from mitertool.base.tolerances import SAME_SETTING, SAME_SLOPE

_TURN = 360.0
_HALF = 180.0


class Changes(NamedTuple):
    """Swings of the arm, tilts of the blade, rolls of the bar."""

    swings: int = 0
    tilts: int = 0
    rolls: int = 0

    def plus(self, other: Changes) -> Changes:
        """Both together."""
        return Changes(*(a + b for a, b in zip(self, other, strict=True)))


@attrs.frozen
class Angles:
    """How a cut is set, degrees: swing of the arm, tilt of the blade, roll of the bar.

    Swing and tilt are positive where the blade's moving-jaw end and its top go toward the tail, the feed side; the roll
    where the top of the bar goes toward the moving jaw.
    """

    swing: float = 0.0
    tilt: float = 0.0
    roll: float = 0.0

    def changes(self, other: Angles) -> Changes:
        """What is set anew between the two, each 0 or 1."""
        return Changes(
            int(abs(self.swing - other.swing) > SAME_SETTING),
            int(abs(self.tilt - other.tilt) > SAME_SETTING),
            int(abs(short_way(self.roll - other.roll)) > SAME_SETTING),
        )


def short_way(roll: float) -> float:
    """The same roll the short way round, degrees, above -180, to 180."""
    return (roll + _HALF) % -_TURN + _HALF + 0.0


def ways(cut: BarCut, tilts: bool) -> tuple[Angles, Angles]:
    """Both ways to set a cut: first the bar as it lies, then half a turn further with the arm on its other side.

    Where the blade `tilts`, or the cut has no bevel, the swing is the miter and the tilt the bevel. Else the bar is
    rolled by atan2(q, p), until its cut stands upright, and the swing is atan(hypot(p, q)).
    """
    p, q, plane = cut.p, cut.q, cut.plane
    if tilts or abs(q) <= SAME_SLOPE:
        return Angles(plane.miter + 0.0, plane.bevel + 0.0), Angles(-plane.miter + 0.0, -plane.bevel + 0.0, _HALF)
    swing = degrees(atan(hypot(p, q)))
    return Angles(swing, 0.0, degrees(atan2(q, p))), Angles(-swing, 0.0, degrees(atan2(-q, -p)))
