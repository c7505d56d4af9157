"""How arm and blade stand for a cut, in the scale's own lines; knows saw and cuts."""

from __future__ import annotations

from math import copysign
from typing import Final

from mitertool.cut import Cut
from mitertool.packet.floor.values import Reading
from mitertool.saw import Reach

_TENTHS = 10
_DIGITS: Final = 6
"""Decimals of a division to which a reading is taken: half-way between two lines it is everywhere told by the same."""


def reading_of(reach: Reach) -> Reading:
    """The reading that a cut asks for: the nearest line of the scale, and what lies past or short of it in tenths."""
    scale = reach.setting.saw.scale
    line, tenths = beside_a_line(reach.scale, scale.division)
    side = reach.scale_side if scale.two_sided and reach.scale_side != "square" else ""
    return Reading(reach.scale, line, tenths, side, reach.side, abs(reach.swing), reach.tilt, reach.ok)


def reading_for(reach: Reach | None, cut: Cut) -> Reading:
    """The reading by the saw; where none is known that of the drawing."""
    return reading_of(reach) if reach else plain_reading(cut)


def comes_back(reach: Reach, before: float | None) -> bool:
    """Whether a blade that can tilt is set upright from the tilt `before`, degrees, or from one that nobody knows."""
    return not reach.tilt and reach.setting.saw.tilt is not None and before != 0


def beside_a_line(reading: float, division: float) -> tuple[float, int]:
    """The line of a scale with this division nearest to a reading, and the tenths of a division past it.

    Less than 0 where the reading lies short of the line: nearer to the zero of the scale, on whichever side of it.

    >>> beside_a_line(123.6, 0.5)
    (123.5, 2)
    """
    line = round(round(abs(reading) / division, _DIGITS)) * division
    return copysign(line, reading) + 0.0, round((abs(reading) - line) / division * _TENTHS)


def plain_reading(cut: Cut) -> Reading:
    """An end where no saw is known: degrees from square, and on which side the piece is long."""
    long = ("moving" if cut.miter > 0 else "fixed") if cut.miter else "square"
    square = abs(cut.miter)
    return Reading(square, None, 0, "", long, square, cut.bevel)
