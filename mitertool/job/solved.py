"""A mark as it is cut; values only."""

from __future__ import annotations

import attrs

from mitertool.job.model import PieceOrder
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
