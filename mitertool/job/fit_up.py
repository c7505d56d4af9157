"""What the readings of tape and scale open in a job's frames and use up of its tolerance; knows job and saw.fit_up."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from math import cos, radians

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame import Assembly, Member
from mitertool.frame.joints import FIRST_THROUGH, SECOND_THROUGH
from mitertool.job.model import FrameOrder, Job
from mitertool.job.solved import SolvedPiece
from mitertool.piece import Piece
from mitertool.saw import fit_up
from mitertool.saw.classes import ToleranceClass, tolerance_class
from mitertool.saw.fit_up import FrameOpening, Share


@attrs.frozen
class CornerShare:
    """What both ends of the corner of two marks use up of the tolerance of its angle."""

    marks: tuple[str, str]
    share: Share


@attrs.frozen
class FrameFit:
    """A frame with every cut end out by `error` degrees: too much opens the throats, too little the heels.

    `closes` is False for an open frame, of which only the joints are told; `corners` are the shares of the tolerance
    that both ends of a corner use up.
    """

    mark: str
    error: float
    too_much: FrameOpening
    too_little: FrameOpening
    closes: bool
    corners: tuple[CornerShare, ...] = ()


@attrs.frozen
class PieceFit:
    """How much of the job's tolerance a tape's reading uses up in a mark's length, and the scale's in its angles."""

    mark: str
    length: Share
    angles: tuple[Share, ...] = ()

    @property
    def wants_checking(self) -> bool:
        """Whether a length or an angle uses up so much that the piece should be measured."""
        return any(share.wants_checking for share in (self.length, *self.angles))


@attrs.frozen
class Fit:
    """All of a job: `tolerance` and `pieces` are empty where the job names no class whose figures are known."""

    frames: tuple[FrameFit, ...]
    tolerance: ToleranceClass | None = None
    pieces: Mapping[str, PieceFit] = attrs.field(factory=dict)

    def frame(self, mark: str) -> FrameFit | None:
        """The fit of a frame; None where it has no joints."""
        return next((frame for frame in self.frames if frame.mark == mark), None)


def fit_of(job: Job, pieces: Sequence[SolvedPiece]) -> Fit:
    """The fit of a job's frames and pieces at the resolution of its floor."""
    tolerance = _class(job.head.tolerance)
    frames = tuple(fit for order in job.frames for fit in _frame(order, job.resolution.angle, tolerance))
    if tolerance is None:
        return Fit(frames)
    corners = {frame.mark: frame.corners for frame in frames}
    return Fit(frames, tolerance, {solved.mark: _piece(solved, job, tolerance, corners) for solved in pieces})


def _class(name: str) -> ToleranceClass | None:
    """The class that a job names; None for none, or for words of the shop's own."""
    try:
        return tolerance_class(name) if name else None
    except BadInput:
        return None


def _frame(order: FrameOrder, error: float, tolerance: ToleranceClass | None) -> Iterator[FrameFit]:
    found = list(_joints(order.assembly))
    if not found:
        return
    joints = [joint for joint, _ in found]
    corners = tuple(_corner(tolerance, joint, error, *around) for joint, around in found) if tolerance else ()
    both = (fit_up.frame_opening(joints, error), fit_up.frame_opening(joints, -error))
    closes = len(order.assembly.joints) == len(order.assembly.order)
    yield FrameFit(order.assembly.mark, error, *both, closes, corners)


def _joints(assembly: Assembly) -> Iterator[tuple[fit_up.Joint, tuple[Member, Member]]]:
    """Each joint with the members before and after it."""
    by_mark = {member.mark: member for member in assembly.pieces}
    around = [by_mark[mark] for mark in (*assembly.order, assembly.order[0])]
    for joint, (before, after) in zip(assembly.joints, itertools.pairwise(around), strict=False):
        width_a = 0.0 if joint.kind == FIRST_THROUGH else before.piece.section.width
        width_b = 0.0 if joint.kind == SECOND_THROUGH else after.piece.section.width
        mark = f"{before.mark} to {after.mark}"
        yield fit_up.Joint(mark, width_a, before.piece.right.miter, width_b, after.piece.left.miter), (before, after)


def _corner(tolerance: ToleranceClass, joint: fit_up.Joint, error: float, before: Member, after: Member) -> CornerShare:
    """The share that the errors of all cut ends of a corner use up together."""
    leg = min(before.piece.long_point, after.piece.long_point)
    angle = 180.0 - joint.miter_a - joint.miter_b
    share = fit_up.angle_share(tolerance, f"corner {joint.mark}", leg, angle, error * joint.cut_ends)
    return CornerShare((before.mark, after.mark), share)


def _piece(
    solved: SolvedPiece, job: Job, tolerance: ToleranceClass, corners: Mapping[str, tuple[CornerShare, ...]]
) -> PieceFit:
    reading, piece = job.resolution, solved.piece
    length = fit_up.length_share(tolerance, "long point", piece.long_point, reading.length)
    around = corners.get(solved.order.frame, ())
    angles = [corner.share for corner in around if solved.mark in corner.marks]
    angles = angles or [_end(tolerance, piece, end, reading.angle) for end in ("left", "right")]
    return PieceFit(solved.mark, length, tuple(angles))


def _end(tolerance: ToleranceClass, piece: Piece, end: str, error: float) -> Share:
    """The share of an end's angle; its shorter leg is the face across the bed, or the piece where that is shorter."""
    miter = piece.left.miter if end == "left" else piece.right.miter
    leg = min(piece.section.width / cos(radians(miter)), piece.long_point)
    return fit_up.angle_share(tolerance, f"{end} end", leg, 90.0 - abs(miter), error)
