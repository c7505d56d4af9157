"""A mark as it is cut; values only."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import attrs

from mitertool.job.model import PieceOrder
from mitertool.piece import Piece
from mitertool.quantity.sentence import Sentence
from mitertool.saw import Reach, Saw
from mitertool.saw.feed import BarPiece
from mitertool.saw.lays import lays_say, lays_that_work
from mitertool.saw.stops import Stop, stops


def reaches(piece: Piece, saw: Saw | None, count: int = 1) -> tuple[Reach | None, Reach | None]:
    """The settings of both ends of a piece, `count` bars side by side; None each without a saw."""
    if saw is None:
        return None, None
    section = piece.section
    return saw.reach(section, piece.left, "left", count), saw.reach(section, piece.right, "right", count)


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
    def problems(self) -> tuple[Sentence, ...]:
        """Every reason why the saw cannot make it, and for each such end the lays that work."""
        ends = (("left", self.left), ("right", self.right))
        return tuple(
            Sentence.words(f"{self.mark}, {end} end: ").followed_by(told)
            for end, reach in ends
            if reach
            for told in self._against(end, reach)
        )

    def _against(self, end: str, reach: Reach) -> Iterator[Sentence]:
        yield from (reason.told for reason in reach.reasons)
        if not reach.ok:
            cut = self.piece.left if end == "left" else self.piece.right
            yield Sentence.words(lays_say(lays_that_work(reach.setting.saw, self.piece.section, cut, end)))

    @cached_property
    def stop(self) -> Stop | None:
        """Where the stop stands for the cut that finishes it; None without a saw, and on a saw with a bar feed."""
        saw = self.left.setting.saw if self.left else None
        if saw is None or saw.feed is not None:
            return None
        piece = self.piece
        return stops(saw, piece.section, [BarPiece(self.mark, piece.left, piece.right, piece.centerline, 0.0)])[0]
