"""A cut as a plane through a bar, whichever end of a piece it makes; knows cut.

A bar is measured from its leading end. There a piece's trailing end is the plane x = x0 + p*y + q*z by its own slopes,
and its leading end by both of the other sign; so a cut that two pieces share is one value.
"""

from __future__ import annotations

from functools import cached_property
from math import radians
from typing import Self

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut import Cut
from mitertool.geometry.segments import turn
from mitertool.sections import Section

_HALF = 180.0


@attrs.frozen
class BarCut:
    """The plane x = x0 + p*y + q*z on a bar, x (mm) from its leading end; `plane` is it as a trailing end has it.

    Slopes and degrees are both kept by `plane`, so that neither is made from the other on the way to the saw.
    """

    plane: Cut = Cut()

    @classmethod
    def of(cls, cut: Cut, trailing: bool) -> Self:
        """The cut of the trailing or of the leading end of a piece as it lies."""
        return cls(cut if trailing else cut.reversed)

    @classmethod
    def from_slopes(cls, p: float, q: float) -> Self:
        """The cut that goes p along the bar for 1 across it and q for 1 up."""
        return cls(Cut.from_slopes(p, q))

    @cached_property
    def p(self) -> float:
        """dx/dy, positive where the moving side lies toward the tail."""
        return self.plane.p

    @cached_property
    def q(self) -> float:
        """dx/dz, positive where the top lies toward the tail."""
        return self.plane.q

    @property
    def is_square(self) -> bool:
        """Whether it goes straight across the bar."""
        return self.parallel(SQUARE)

    def parallel(self, other: BarCut) -> bool:
        """Whether one kerf parts both."""
        return abs(self.p - other.p) <= SAME_SLOPE and abs(self.q - other.q) <= SAME_SLOPE

    @property
    def over(self) -> BarCut:
        """The same cut with the bar rolled half a turn."""
        return BarCut(self.plane.reversed)

    def rolled(self, roll: float) -> BarCut:
        """The same cut with the bar rolled by degrees, its top toward the moving jaw where positive."""
        if not roll:
            return self
        if abs(roll) == _HALF:
            return self.over
        return BarCut.from_slopes(*turn((self.p, self.q), -radians(roll)))

    def unlaid(self, section: Section) -> BarCut:
        """The same cut of the bar as its section is drawn in the catalogue, neither rotated nor laid end for end.

        So cuts of pieces that lie in several ways are those of one bar. Of a section laid end for end the leading cut
        is the trailing one there.
        """
        back = self.rolled(section.rotation)
        return BarCut(Cut(back.plane.miter, -back.plane.bevel)) if section.turned else back

    def kerf_along(self, kerf: float) -> float:
        """Length along the bar that a kerf (mm, square to the blade) takes, mm."""
        return self.plane.kerf_along(kerf)

    def half_reach(self, section: Section) -> float:
        """How far it reaches past its place on the centerline, toward either end of the bar, mm."""
        return _half_reach(self.p, self.q, section)

    def wedge(self, other: BarCut, section: Section) -> float:
        """Length on the centerline of the scrap between two cuts that meet in a point, without kerfs, mm."""
        return 0.0 if self.parallel(other) else _half_reach(self.p - other.p, self.q - other.q, section)

    def sides(self, section: Section) -> tuple[float, float]:
        """Where it crosses the bottom of the fixed and of the moving side, from its place on the centerline, mm."""
        across, up = self.p * section.width / 2, self.q * section.height / 2
        return -across - up, across - up


SQUARE = BarCut()
"""A cut straight across the bar."""


def _half_reach(p: float, q: float, section: Section) -> float:
    return (abs(p) * section.width + abs(q) * section.height) / 2
