"""What an angle error opens at the joints of a frame, and its share of a tolerance; knows numbers only."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, tan
from typing import Final

import attrs

from mitertool.quantity.problem import Remark, counts, words
from mitertool.saw.proof.classes import ToleranceClass
from mitertool.words import phrase

CHECK_FROM: Final = 0.5
"""Share of its tolerance from which a piece wants checking: common practice leaves the other half to the welding."""


@attrs.frozen
class CutJoint:
    """A joint of two cut ends: width in the plane (mm) and miter (degrees) of each, and the `marks` to tell it by.

    The width of a member that runs through a butted joint is 0: its side is not cut.
    """

    marks: tuple[str, ...]
    width_a: float
    miter_a: float
    width_b: float
    miter_b: float

    @property
    def cut_ends(self) -> int:
        """How many of its faces are cut."""
        return (self.width_a > 0) + (self.width_b > 0)


@attrs.frozen
class Opening:
    """What stands open at a joint, mm square to its seam: at the heel (outside) or the throat (inside), never both."""

    marks: tuple[str, ...]
    heel: float
    throat: float

    @property
    def mark(self) -> str:
        """Its marks in words."""
        return joined(self.marks)


def joined(marks: tuple[str, ...]) -> str:
    """The marks of a joint in words."""
    return phrase("joint.between", first=marks[0], last=marks[1]) if len(marks) > 1 else marks[0]


def opening(width: float, miter: float, error: float) -> float:
    """What a face cut `error` degrees beyond its miter leaves open, mm square to the true face.

    More than 0: it touches at the heel and stands open at the throat; less: it touches at the throat.
    """
    return width * (tan(radians(miter + error)) - tan(radians(miter))) * cos(radians(miter))


def joint_opening(joint: CutJoint, error_a: float, error_b: float) -> Opening:
    """What the angle errors of both members (degrees, measured less nominal) open at their joint."""
    at_throat = opening(joint.width_a, joint.miter_a, error_a) + opening(joint.width_b, joint.miter_b, error_b)
    return Opening(joint.marks, max(0.0, -at_throat), max(0.0, at_throat))


def openings(joints: Sequence[CutJoint], error: float) -> tuple[Opening, ...]:
    """What one error (degrees) at every cut end opens at each joint by itself."""
    return tuple(joint_opening(joint, error, error) for joint in joints)


@attrs.frozen
class Share:
    """How much of a tolerance an error uses up: the nominal and both in mm or degrees, and where the value comes from.

    `share` is 1 where the error uses all of it; None where the class says nothing for the nominal.
    """

    told: Remark
    nominal: float
    error: float
    allowed: float | None
    by: ToleranceClass

    @property
    def what(self) -> str:
        """Of what, in words."""
        return self.told.in_units("mm")

    @property
    def of(self) -> str:
        """What the class speaks of, in words."""
        return self.by.of

    @property
    def certainty(self) -> str:
        """How the figures of the class are known, in words."""
        return self.by.certainty

    @property
    def share(self) -> float | None:
        """Error over what is allowed."""
        return None if self.allowed is None else abs(self.error) / self.allowed

    @property
    def wants_checking(self) -> bool:
        """Whether so much is used up that the piece should be measured."""
        return self.share is not None and self.share > CHECK_FROM


def length_share(tolerance: ToleranceClass, told: Remark, nominal: float, error: float) -> Share:
    """The share of the tolerance of a length (mm) that an error uses up."""
    return Share(told, nominal, error, tolerance.length(nominal), tolerance)


def angle_share(tolerance: ToleranceClass, told: Remark, shorter_leg: float, nominal: float, error: float) -> Share:
    """The share of the tolerance of an angle (degrees) with this shorter leg (mm) that an error uses up."""
    return Share(told, nominal, error, tolerance.angle(shorter_leg), tolerance)


def of_end(end: str, cut: int = 0) -> Remark:
    """Of an end, or of a `cut` of one with several."""
    return Remark("share.end", words(end=f"end.{end}") + counts(cut=cut), "cut" if cut else "")


def end_share(
    tolerance: ToleranceClass, told: Remark, width: float, length: float, miter: float, error: float
) -> Share:
    """The share of the angle of an end (degrees from square) of a piece of this width and length, mm.

    Its shorter leg is the face across the bed, or the piece where that is shorter.
    """
    leg = min(width / cos(radians(miter)), length)
    return angle_share(tolerance, told, leg, 90.0 - abs(miter), error)
