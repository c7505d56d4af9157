"""The mitered corner of two members of any two widths at any angle; knows numbers only."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, isfinite, radians, sin

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import LEAST_CORNER


@attrs.frozen
class Corner:
    """A mitered corner: widths in the plane (mm) and the angle between the members, inside the corner (degrees).

    `miter_a` and `miter_b` are degrees from a square cut; `seam` is the length of the joint in the plane, mm. A
    wide member of a sharp unequal corner may have a negative miter.
    """

    width_a: float
    width_b: float
    angle: float
    miter_a: float
    miter_b: float
    seam: float

    def set_back(self, miter: float, root_gap: float) -> float:
        """What a root gap (mm, square to the seam, half from each member) takes off along a member, mm."""
        return root_gap / 2 / cos(radians(miter))


def corner(width_a: float, width_b: float, angle: float) -> Corner:
    """The corner of members `width_a` and `width_b` (mm, in the plane) at `angle` (degrees, inside the corner).

    The seam runs from the outer to the inner crossing of the edges, so tan d = sin S / (u + cos S) with
    u = width_b / width_a, as for the pitch cones of bevel gears. Raises `BadInput` for an angle that is no corner.
    """
    for name, width in (("width_a", width_a), ("width_b", width_b)):
        if not (isfinite(width) and width > 0):
            raise BadInput(name, width, "a width must be more than 0 mm")
    if not (isfinite(angle) and LEAST_CORNER <= angle <= 180 - LEAST_CORNER):
        raise BadInput(
            "corner angle",
            angle,
            f"allowed: {LEAST_CORNER:g} to {180 - LEAST_CORNER:g} degrees between members",
        )
    s = radians(angle)
    along, across = width_b + width_a * cos(s), width_a * sin(s)
    d_a = atan2(across, along)
    seam = width_a * hypot(along, across) / across
    return Corner(width_a, width_b, angle, 90 - degrees(d_a), 90 - angle + degrees(d_a), seam)
