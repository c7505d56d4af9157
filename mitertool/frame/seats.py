"""Where a round branch sits on its round run, and how far its outline reaches on that; knows saddles and sections."""

from __future__ import annotations

from functools import cached_property
from math import asin, cos, pi, radians, sin
from typing import Final

import attrs

from mitertool.geometry.saddle import Saddle
from mitertool.geometry.vectors import Vector
from mitertool.sections import Section

_PLACES: Final = 720
"""Places of the outline at which its reach is looked for: the furthest lies within 2e-5 of a radius."""


@attrs.frozen
class Seat:
    """A branch of a `section` on a `run`, which lies along X, its middle in Y = Z = 0; the branch goes off to +Z.

    `length` is from the run's middle along the branch's to its square end, mm. Of the branch u goes across it toward
    the run's obtuse side where its angle is below 90 degrees, v toward Y, to where it is offset by more than 0.
    """

    section: Section
    run: Section
    saddle: Saddle
    length: float

    def place(self, u: float, v: float, along: float) -> Vector:
        """A place of the branch, `along` from the run's middle."""
        lean = radians(self.saddle.angle)
        return (along * cos(lean) - u * sin(lean), self.saddle.offset + v, along * sin(lean) + u * cos(lean))

    @cached_property
    def outline(self) -> tuple[Vector, ...]:
        """Where the outside of the branch meets that of the run, once around, from its top (+v) toward +u."""
        r, turns = self.saddle.small, [2 * pi * i / _PLACES for i in range(_PLACES + 1)]
        sides = ((r * sin(turn), r * cos(turn)) for turn in turns)
        return tuple(self.place(u, v, self.saddle.down(u, v)) for u, v in sides)

    @property
    def along(self) -> tuple[float, float]:
        """How far the outline reaches along the run to +X and to -X, from where both middles are nearest, mm."""
        xs = [x for x, _, _ in self.outline]
        return max(xs), -min(xs)

    @property
    def around(self) -> tuple[float, float]:
        """How far it reaches around the run to +Y and to -Y, from the line over the run's middle, on the skin, mm."""
        small, large, offset = self.saddle.small, self.saddle.large, self.saddle.offset
        return large * asin(min((offset + small) / large, 1.0)), large * asin(min((small - offset) / large, 1.0))
