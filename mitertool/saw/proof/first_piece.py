"""A first piece measured against its drawing: what is wrong, how sure that is, and what to change; knows piece."""

from __future__ import annotations

import attrs

from mitertool.base.errors import BadInput
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark
from mitertool.saw.file.machine import Machine
from mitertool.saw.proof.advice import assumed, changes, measure_more
from mitertool.saw.proof.classes import ToleranceClass
from mitertool.saw.proof.fit_up import CutJoint, Opening, Share, end_share, joint_opening, length_share, of_end
from mitertool.saw.proof.judged import Judged
from mitertool.saw.proof.making import PARALLEL, ROLLED, SWUNG, TIPS, WAYS, making, way_of
from mitertool.saw.proof.measured import LARGEST, Finding, Measured, Readings, refuse
from mitertool.words import phrase

__all__ = ["PARALLEL", "ROLLED", "SWUNG", "TIPS", "WAYS", "Finding", "Measured", "Readings", "first_piece", "way_of"]


@attrs.frozen
class FirstPiece:
    """What a first piece says. `angles` are the errors of the ends that could be known, `slope_sum` of both together.

    `arm` is how far the arm stood too far to the feed side where that is one error of its scale, None where it is not
    known or not one. `length` is what the stop or the length keyed is out, told in its `on`; `lead` is how far the
    blade leads from top to bottom, degrees. `angle_right` are long and short point (mm) once every angle that is surely
    out is put right and nothing else. `change` is what to change, `measure` what else must be measured before more is
    known, `assumed` what nobody said. `correction` is what the scale's kept offset should become (None: not surely
    known, or no saw).
    """

    angles: tuple[Finding, ...]
    slope_sum: Finding
    arm: Finding | None
    length: Finding
    lead: Finding | None
    angle_right: tuple[float, float] | None
    change: tuple[Remark, ...]
    measure: tuple[Remark, ...]
    assumed: tuple[Remark, ...]
    correction: float | None


def first_piece(
    piece: Piece,
    measured: Measured,
    way: str | None = None,
    readings: Readings | None = None,
    saw: Machine | None = None,
    stop: str = "",
) -> FirstPiece:
    """Judge a measured piece. `way` says how its second end came about; None: as the saw would make it.

    `stop` is the tip of the end cut first, "long" or "short", that a stop touched; "": a feed moved the bar, or, on a
    saw without one, the long tip. Raises `BadInput` for measures that cannot belong to the piece, or where neither way
    nor saw is given.
    """
    readings = readings or Readings()
    made = making(piece, way, saw, stop)
    refuse(piece, measured)
    judged = Judged(piece, measured, readings, made)
    _refuse_far_out(judged)
    return FirstPiece(
        judged.angles,
        judged.slope_sum,
        judged.arm,
        judged.length,
        judged.lead,
        judged.angle_right,
        changes(judged),
        measure_more(judged),
        assumed(judged, way, saw, stop),
        saw.scale.corrected(judged.arm.error) if saw and judged.arm and judged.arm.sure else None,
    )


def _refuse_far_out(judged: Judged) -> None:
    """Refuse lengths that no error of a setting explains."""
    for one in judged.angles:
        if abs(one.error) > LARGEST:
            found = phrase("found.error", error=one.error, end=phrase(f"end.{one.on}"))
            raise BadInput(phrase("what.long-less-short"), found, phrase("refuse.far-out", most=LARGEST))


def openings(piece: Piece, found: FirstPiece) -> tuple[Opening, ...]:
    """What each end whose error is known opens where it meets one that is cut alike; its mark is the end."""
    joints = ((one, piece.section.width, getattr(piece, one.on).miter) for one in found.angles)
    return tuple(
        joint_opening(CutJoint((one.on,), width, miter, width, miter), one.error, one.error)
        for one, width, miter in joints
    )


def shares(piece: Piece, found: FirstPiece, tolerance: ToleranceClass) -> tuple[Share, ...]:
    """How much of a class's tolerance the errors of length and angles use up."""
    width, length = piece.section.width, piece.long_point
    angles = (
        end_share(tolerance, of_end(one.on), width, length, getattr(piece, one.on).miter, one.error)
        for one in found.angles
    )
    return (length_share(tolerance, Remark("share.length"), length, found.length.error), *angles)
