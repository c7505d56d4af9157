"""What a shop does where a seam asks more than the saw swings; knows rings."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly
from mitertool.frame.joints import FIRST_THROUGH, MITER, SECOND_THROUGH
from mitertool.frame.rings import Ring, solve
from mitertool.piece import Piece
from mitertool.quantity.compare import reaches


@attrs.frozen
class OtherCorner:
    """A corner made another way: its kind of joint, the marks and pieces on both sides of it as they then are."""

    kind: str
    first: str
    second: str
    first_piece: Piece
    second_piece: Piece

    @property
    def miter(self) -> float:
        """The largest miter that this corner then asks for, degrees."""
        return max(abs(self.first_piece.right.miter), abs(self.second_piece.left.miter))


@attrs.frozen
class PastTheScale:
    """A mitered corner whose seam asks for more than `most` degrees, and what may be done instead."""

    first: str
    second: str
    miter: float
    most: float
    alternatives: tuple[OtherCorner, ...]

    @property
    def fixture(self) -> float:
        """How far a fixture must hold the bar round, degrees, so that the arm need swing no more than `most`."""
        return self.miter - self.most


def past_the_scale(assembly: Assembly, most: float) -> Iterator[PastTheScale]:
    """The corners of a frame whose miters are larger than `most` degrees."""
    ring = assembly.ring
    if ring is None:
        return
    pieces = {member.mark: member.piece for member in assembly.pieces}
    for i, joint in enumerate(ring.joints):
        first, second = assembly.order[i], assembly.order[(i + 1) % len(assembly.order)]
        miter = max(abs(pieces[first].right.miter), abs(pieces[second].left.miter))
        if joint.kind == MITER and not reaches(miter, 0.0, most):
            yield PastTheScale(first, second, miter, most, tuple(_alternatives(ring, i, first, second)))


def _alternatives(ring: Ring, i: int, first: str, second: str) -> Iterator[OtherCorner]:
    """The corner butted, either member running through; one that cannot be made is left out."""
    for kind in (FIRST_THROUGH, SECOND_THROUGH):
        joints = tuple(attrs.evolve(joint, kind=kind) if j == i else joint for j, joint in enumerate(ring.joints))
        try:
            pieces = solve(attrs.evolve(ring, joints=joints))
        except BadInput:
            continue
        yield OtherCorner(kind, first, second, pieces[i], pieces[(i + 1) % len(pieces)])
