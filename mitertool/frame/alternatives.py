"""What a shop does where a seam or the tip of a brace asks more than the saw swings; knows rings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly
from mitertool.frame.joints import FIRST_THROUGH, MITER, SECOND_THROUGH
from mitertool.frame.rings import Ring, solve
from mitertool.piece import Piece
from mitertool.quantity.compare import reaches
from mitertool.quantity.problem import Remark, angles, names

_WITH_BRACES: Final = ("truss",)
"""Frames that are made with braces of their own, whose ends nobody gives."""


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


def steep_braces(assembly: Assembly, most: float) -> Mapping[str, Remark]:
    """By its mark every brace inside whose tips ask for more than `most` degrees, with the ends that ask for less.

    One that ends plumb is cut from square by as much as it leans from level, one that ends level by the rest of 90; it
    then leans a little less or more, as its edge and no longer its middle is in the corner.
    """
    pieces = {member.mark: member.piece for member in assembly.pieces}
    told: dict[str, Remark] = {}
    for bar in assembly.inside if assembly.ring and assembly.shape not in _WITH_BRACES else ():
        miter = max(abs(cut.miter) for end in ("left", "right") for cut in pieces[bar.mark].cuts(end))
        lean = min(bar.way % 180, 180 - bar.way % 180)
        ends, less = ("plumb", lean) if lean < 90 - lean else ("level", 90 - lean)
        if bar.called == "brace" and not reaches(miter, 0.0, most) and reaches(less, 0.0, most):
            of = names(mark=bar.mark, ends=ends)
            told[bar.mark] = Remark("past.brace", of + angles(miter=miter, most=most, less=less))
    return told


def _alternatives(ring: Ring, i: int, first: str, second: str) -> Iterator[OtherCorner]:
    """The corner butted, either member running through; one that cannot be made is left out."""
    for kind in (FIRST_THROUGH, SECOND_THROUGH):
        joints = tuple(attrs.evolve(joint, kind=kind) if j == i else joint for j, joint in enumerate(ring.joints))
        try:
            pieces = solve(attrs.evolve(ring, joints=joints))
        except BadInput:
            continue
        yield OtherCorner(kind, first, second, pieces[i], pieces[(i + 1) % len(pieces)])
