"""The mitered corner of two members of any two widths at any angle; knows numbers only."""

from __future__ import annotations

from math import atan, cos, degrees, hypot, isfinite, radians, sin
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import LEAST_CORNER
from mitertool.words import phrase

SHARPEST: Final = 170.0
"""degrees. Members that turn back further make no joint that a saw cuts: the seam is over eleven widths long."""


@attrs.frozen
class Corner:
    """A mitered corner: widths in the plane (mm) and the angle between the members, inside the corner (degrees).

    `miter_a` and `miter_b` are degrees from a square cut; `seam` is the length of the joint in the plane, mm. A
    wide member of a sharp unequal corner may have a negative miter; at an angle over 180 both usually have.
    """

    width_a: float
    width_b: float
    angle: float
    miter_a: float
    miter_b: float
    seam: float


def corner(width_a: float, width_b: float, angle: float) -> Corner:
    """The corner of members `width_a` and `width_b` (mm, in the plane) at `angle` (degrees, inside the corner).

    The seam runs from the outer to the inner crossing of the edges. With the angle d between seam and member a,
    tan d = sin S / (u + cos S) for u = width_b / width_a, as for the pitch cones of bevel gears; the miter is
    90 - d, so that tan(miter_a) = (width_b + width_a cos S) / (width_a sin S). An angle over 180 is a corner that
    points into the frame. Raises `BadInput` for an angle that is no corner.

    >>> round(mt.corner(80, 40, 90).miter_a, 2)
    26.57
    """
    for name, width in (("width_a", width_a), ("width_b", width_b)):
        if not (isfinite(width) and width > 0):
            raise BadInput(name, width, phrase("refuse.width"))
    refuse_no_corner(angle)
    p_a, p_b = _slope(width_a, width_b, angle), _slope(width_b, width_a, angle)
    return Corner(width_a, width_b, angle, degrees(atan(p_a)), degrees(atan(p_b)), width_a * hypot(1.0, p_a))


def _slope(own: float, other: float, angle: float) -> float:
    s = radians(angle)
    return (other + own * cos(s)) / (own * sin(s))


def refuse_no_corner(angle: float) -> None:
    """Raise `BadInput` for an angle at which two members make no corner: nearly 0, straight or nearly 360."""
    near = min(abs(angle - flat) for flat in (0.0, 180.0, 360.0)) if isfinite(angle) else 0.0
    if near < LEAST_CORNER or not 0 < angle < 360:
        raise BadInput(
            phrase("what.corner-angle"),
            angle,
            phrase("refuse.corner-angle", least=LEAST_CORNER),
        )
