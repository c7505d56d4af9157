"""The plane of a cut through a bar: its angles, its slopes, how far it stretches; knows numbers only."""

from __future__ import annotations

from functools import cached_property
from math import atan, cos, degrees, hypot, isfinite, radians, sin, tan
from typing import Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.words import phrase


def _less_than_square(_: object, attribute: attrs.Attribute[float], value: float) -> None:
    if not (isinstance(value, int | float) and isfinite(value) and -90 < value < 90):
        raise BadInput(attribute.name, value, phrase("refuse.less-than-square", name=attribute.name))


@attrs.frozen
class CutPlane:
    """A plane through a bar by miter and bevel, degrees from a square cut.

    At a right end the plane is x = s + p*y + q*z, at a left end x = -p*y - q*z: at either end a positive
    miter puts the long point on the moving side, a positive bevel puts it at the top. Raises `BadInput` for
    angles at or past 90.
    """

    miter: float = attrs.field(default=0.0, validator=_less_than_square)
    bevel: float = attrs.field(default=0.0, validator=_less_than_square)

    @classmethod
    def from_slopes(cls, p: float, q: float) -> Self:
        """The cut whose plane rises p along the bar for 1 across it and q for 1 above the bed."""
        miter = atan(p)
        return cls(degrees(miter), degrees(atan(q * cos(miter))))

    @cached_property
    def p(self) -> float:
        """dx/dy of the plane at a right end."""
        return tan(radians(self.miter))

    @cached_property
    def q(self) -> float:
        """dx/dz of the plane at a right end."""
        return tan(radians(self.bevel)) / cos(radians(self.miter))

    @cached_property
    def stretch(self) -> float:
        """Face area over section area, and length along the bar over width square to the blade."""
        return hypot(1.0, self.p, self.q)

    def turned(self, angle: float) -> Self:
        """The cut turned about the bar's axis, clockwise seen from the left end: its long point goes as far round."""
        if not angle:
            return self
        c, s = cos(radians(angle)), sin(radians(angle))
        return self.from_slopes(self.p * c - self.q * s, self.p * s + self.q * c)

    @property
    def reversed(self) -> Self:
        """The cut with both slopes of opposite sign; the other side of the same plane."""
        return type(self)(-self.miter, -self.bevel)

    def kerf_along(self, kerf: float) -> float:
        """Length along the bar that a kerf (mm, square to the blade) takes, mm."""
        return kerf * self.stretch
