"""The one frozen answer that a packet is made of; values only."""

from __future__ import annotations

import attrs

from mitertool.frame.alternatives import PastTheScale
from mitertool.job.model import FrameOrder, Job, PieceOrder
from mitertool.nest import Plan
from mitertool.piece import Piece
from mitertool.saw import Reach


@attrs.frozen
class SolvedPiece:
    """A mark as it is cut: one hand of a piece, how many, and the settings of both ends (None without a saw)."""

    order: PieceOrder
    mark: str
    hand: str
    piece: Piece
    quantity: int
    left: Reach | None
    right: Reach | None
    drawn: tuple[Reach | None, Reach | None] = (None, None)

    @property
    def problems(self) -> tuple[str, ...]:
        """Every reason why the saw cannot make it."""
        ends = (("left", self.left), ("right", self.right))
        return tuple(
            f"{self.mark}, {end} end: {reason.says}" for end, reach in ends if reach for reason in reach.reasons
        )


@attrs.frozen
class Solution:
    """A solved job: pieces in the order of the job, frames, the plan of bars (None without stock), problems.

    `past` holds the mitered corners that ask for more than the scale has, with what may be done instead, by frame.
    """

    job: Job
    pieces: tuple[SolvedPiece, ...]
    frames: tuple[FrameOrder, ...]
    plan: Plan | None
    problems: tuple[str, ...]
    past: tuple[PastTheScale, ...] = ()

    @property
    def problem_marks(self) -> tuple[str, ...]:
        """The marks that cannot be made as asked, in the order of the job; every problem begins with its mark."""
        marks = (piece.mark for piece in self.pieces)
        return tuple(m for m in marks if any(p.startswith((f"{m}:", f"{m},")) for p in self.problems))
