"""How two members meet at a corner, mitered or butted, and what that makes of their ends; knows corners.

Member a arrives at the corner with its right end, member b leaves it with its left end, the outside of the frame on
their left. Distances are measured along the outer edges from the corner of these edges.
"""

from __future__ import annotations

from math import cos, radians, sin, tan
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.frame.corners import corner
from mitertool.words import phrase

MITER: Final = "miter"
FIRST_THROUGH: Final = "first-through"
SECOND_THROUGH: Final = "second-through"
KINDS: Final = (MITER, FIRST_THROUGH, SECOND_THROUGH)

_SWAPPED: Final = {FIRST_THROUGH: SECOND_THROUGH, SECOND_THROUGH: FIRST_THROUGH}


@attrs.frozen
class Joint:
    """A kind of joint and the root gap left open in it, mm square to the faces.

    In a butted one the end that butts may `reach` past the face it meets, and a plate as thick as `cap` may close the
    member that runs through, mm square to the faces.
    """

    kind: str = MITER
    gap: float = 0.0
    reach: float = 0.0
    cap: float = 0.0

    def __attrs_post_init__(self) -> None:
        if self.kind not in KINDS:
            raise BadInput("joint", self.kind, among(KINDS))
        if not 0 <= self.gap < float("inf"):
            raise BadInput("root_gap", self.gap, phrase("refuse.gap"))

    @property
    def off(self) -> float:
        """How far a butted end stays off the face it meets, less than 0 where it reaches past it, mm."""
        return self.gap - self.reach


def other_way(joint: Joint) -> Joint:
    """The same joint with both members named the other way round."""
    return attrs.evolve(joint, kind=_SWAPPED.get(joint.kind, joint.kind))


@attrs.frozen
class End:
    """A member's end at a joint: the slope p of its cut and how far its outer edge stays back from the corner, mm."""

    p: float
    back: float


def ends(width_a: float, width_b: float, angle: float, joint: Joint) -> tuple[End, End]:
    """The right end of member a and the left end of member b at a corner of `angle` degrees (inside it).

    A mitered joint takes half of its gap from each member. In a butted one the member that runs through is cut along
    the other's outer edge, less its plate, and the other is cut along its inner edge, less the gap. Raises
    `BadInput` for a butted corner of more than 180 degrees.
    """
    solved = corner(width_a, width_b, angle)
    if joint.kind == MITER:
        return _mitered(solved.miter_a, joint.gap), _mitered(solved.miter_b, joint.gap)
    if angle > 180:
        raise BadInput("corners", "butt", phrase("refuse.butt", angle=angle))
    s = radians(angle)
    p = cos(s) / sin(s)
    through = End(p, joint.cap / sin(s))
    if joint.kind == FIRST_THROUGH:
        return through, End(p, (width_a + joint.off) / sin(s))
    return End(p, (width_b + joint.off) / sin(s)), through


def _mitered(miter: float, gap: float) -> End:
    return End(tan(radians(miter)), gap / 2 / cos(radians(miter)))
