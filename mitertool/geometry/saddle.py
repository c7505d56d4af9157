"""The edge of a round tube that stands on another: how far along its own middle it reaches down; knows numbers only.

Of the branch u goes across it in the plane of both middles, away from the side to which the run's angle opens, v square
to that plane. A place of its skin meets the run where its distance from the run's middle is the run's radius.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt

import attrs


@attrs.frozen
class Saddle:
    """A branch of radius `small` on a run of radius `large` (mm) at `angle` degrees between their middles.

    `offset` is how far the middles pass each other, toward +v, mm.
    The branch stands on the run all around: `small` and `offset` lie within `large`.
    """

    small: float
    large: float
    angle: float = 90.0
    offset: float = 0.0

    def down(self, u: float, v: float) -> float:
        """From the run's middle along the branch's to where the place (u, v) of the branch meets the run, mm."""
        lean = radians(self.angle)
        return (sqrt(max(self.large**2 - (self.offset + v) ** 2, 0.0)) - u * cos(lean)) / sin(lean)

    @property
    def slopes(self) -> tuple[float, float]:
        """Of the two straight cuts that come closest: how far the end stands out for 1 mm toward +u, of each.

        The skin's edge over |u| is a branch of a hyperbola, convex from the middle to the sides: of all lines the chord
        between both leaves the least gap.
        """
        lean = radians(self.angle)
        return ((cos(lean) - self._rise) / sin(lean), (cos(lean) + self._rise) / sin(lean))

    @property
    def seat(self) -> float:
        """From the run's middle along the branch's to the tip of those cuts, when the branch sits on the run, mm."""
        return self._middle / sin(radians(self.angle))

    @property
    def gap(self) -> float:
        """The greatest gap that those cuts leave on the skin, along the branch, mm."""
        return self._middle * (1 - sqrt(1 - self._rise**2)) / sin(radians(self.angle))

    @property
    def _middle(self) -> float:
        """How high the run is where the branch's skin is furthest from the plane of both, mm."""
        return sqrt(self.large**2 - self.small**2)

    @property
    def _rise(self) -> float:
        return (self.large - self._middle) / self.small
