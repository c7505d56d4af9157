"""What the readings of tape and scale open in a job's frames and use up of its tolerance; knows job and saw.fit_up."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SETTING
from mitertool.base.totals import summed
from mitertool.frame import Assembly, Member
from mitertool.frame.joints import FIRST_THROUGH, SECOND_THROUGH
from mitertool.frame.last_corner import last_corner
from mitertool.job.model import FrameOrder, Job
from mitertool.job.solved import SolvedPiece
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, names
from mitertool.saw.proof import fit_up
from mitertool.saw.proof.classes import ToleranceClass, tolerance_class
from mitertool.saw.proof.fit_up import Opening, Share


@attrs.frozen
class CornerShare:
    """What the cut ends of a corner, those of `marks`, use up of the tolerance of its angle."""

    marks: tuple[str, ...]
    share: Share


@attrs.frozen
class FrameFit:
    """A frame with every cut end out by `error` degrees: too much opens the throats, too little the heels.

    `apart` is how far the outer corners of the last joint then stand apart, mm, with all others pulled shut, for too
    much and for too little; empty for an open frame. `corners` are the shares of the tolerance that both ends of a
    corner use up. `from_square`: at every cut end too much is further from square, so that it may be told so.
    """

    mark: str
    error: float
    too_much: tuple[Opening, ...]
    too_little: tuple[Opening, ...]
    apart: tuple[float, ...] = ()
    corners: tuple[CornerShare, ...] = ()
    from_square: bool = True


@attrs.frozen
class PieceFit:
    """How much of the job's tolerance a tape's reading uses up in a mark's length, and the scale's in its angles.

    `angle_out` is what each of its ends may be out, degrees, the least where they differ; None where nothing is said.
    """

    mark: str
    length: Share
    angles: tuple[Share, ...] = ()
    angle_out: float | None = None

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
    hands = (hand for order in job.frames for hand in order.hands)
    frames = tuple(fit for hand in hands for fit in _frame(hand, job.resolution.angle, tolerance))
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
    of_frames = tolerance if tolerance and tolerance.of_frames else None
    corners = tuple(_corner(of_frames, joint, error, *around) for joint, around in found) if of_frames else ()
    both = (fit_up.openings(joints, error), fit_up.openings(joints, -error))
    closes = len(order.assembly.joints) == len(order.assembly.order)
    apart = tuple(last_corner(order.assembly, out) for out in (error, -error)) if closes else ()
    leans = (miter for joint, around in found for _, wide, miter in _sides(joint, *around) if wide)
    yield FrameFit(order.assembly.mark, error, *both, apart, corners, all(miter > SAME_SETTING for miter in leans))


def _joints(assembly: Assembly) -> Iterator[tuple[fit_up.CutJoint, tuple[Member, Member]]]:
    """Each joint with the members before and after it."""
    by_mark = {member.mark: member for member in assembly.pieces}
    around = [by_mark[mark] for mark in (*assembly.order, *assembly.order[:1])]
    for joint, (before, after) in zip(assembly.joints, itertools.pairwise(around), strict=False):
        width_a = 0.0 if joint.kind == FIRST_THROUGH else before.piece.section.width
        width_b = 0.0 if joint.kind == SECOND_THROUGH else after.piece.section.width
        marks = (before.mark, after.mark)
        yield (
            fit_up.CutJoint(marks, width_a, before.piece.right.miter, width_b, after.piece.left.miter),
            (before, after),
        )


def _corner(
    tolerance: ToleranceClass, joint: fit_up.CutJoint, error: float, before: Member, after: Member
) -> CornerShare:
    """The share that the errors of all cut ends of a corner use up together."""
    leg = min(before.piece.long_point, after.piece.long_point)
    cut = [(m, miter) for m, wide, miter in _sides(joint, before, after) if wide]
    angle = summed(90.0 - miter for _, miter in cut)
    told = Remark("share.corner", names(first=joint.marks[0], last=joint.marks[1]))
    share = fit_up.angle_share(tolerance, told, leg, angle, error * joint.cut_ends)
    return CornerShare(tuple(member.mark for member, _ in cut), share)


def _sides(joint: fit_up.CutJoint, before: Member, after: Member) -> tuple[tuple[Member, float, float], ...]:
    return (before, joint.width_a, joint.miter_a), (after, joint.width_b, joint.miter_b)


def _piece(
    solved: SolvedPiece, job: Job, tolerance: ToleranceClass, corners: Mapping[str, tuple[CornerShare, ...]]
) -> PieceFit:
    reading, piece = job.resolution, solved.piece
    length = fit_up.length_share(tolerance, Remark("share.long-point"), piece.long_point, reading.length)
    around = corners.get(solved.order.frame, ()) if tolerance.of_frames else ()
    own = [corner for corner in around if solved.mark in corner.marks]
    if own:
        out = min(corner.share.allowed / len(corner.marks) for corner in own if corner.share.allowed)
        return PieceFit(solved.mark, length, tuple(corner.share for corner in own), out)
    ends = tuple(share for end in ("left", "right") for share in _end(tolerance, piece, end, reading.angle))
    return PieceFit(solved.mark, length, ends, min(end.allowed for end in ends if end.allowed))


def _end(tolerance: ToleranceClass, piece: Piece, end: str, error: float) -> Iterator[Share]:
    """The share of each cut of an end, over the width of its own face."""
    facets = piece.end_roof(end).facets
    for number, (cut, facet) in enumerate(zip(piece.cuts(end), facets, strict=True), 1):
        low, _, high, _ = facet.region.bounds
        which = number if len(facets) > 1 else 0
        yield fit_up.end_share(tolerance, fit_up.of_end(end, which), high - low, piece.long_point, cut.miter, error)
