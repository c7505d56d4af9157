"""A mark as it is cut; values only."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import attrs

from mitertool.job.model import PieceOrder
from mitertool.piece import Piece
from mitertool.saw import Reach
from mitertool.saw.lays import lays_say, lays_that_work


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

    @cached_property
    def problems(self) -> tuple[str, ...]:
        """Every reason why the saw cannot make it, and for each such end the lays that work."""
        ends = (("left", self.left), ("right", self.right))
        return tuple(
            f"{self.mark}, {end} end: {says}" for end, reach in ends if reach for says in self._against(end, reach)
        )

    def _against(self, end: str, reach: Reach) -> Iterator[str]:
        yield from (reason.says for reason in reach.reasons)
        if not reach.ok:
            cut = self.piece.left if end == "left" else self.piece.right
            yield lays_say(lays_that_work(reach.setting.saw, self.piece.section, cut, end))
