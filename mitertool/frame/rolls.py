"""The roll of a bar between the cuts of its two ends, and how it is told to the floor; knows pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, copysign, degrees, hypot, pi
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, angles, lengths, names
from mitertool.quantity.telling import Numbers

FLUSH: Final = 1e-6
"""degrees. Sections turned by less against each other are flush: a millionth of a width."""


@attrs.frozen
class RollBetween:
    """How far the long point of a member's right end lies round from that of its left, and how the bar is rolled.

    `degrees` is where it lies, clockwise seen from the left end. The bar is rolled the other way, to bring it to where
    the long point of the end that is cut first lay: `both_ways` and `one_way` are such rolls, degrees, clockwise
    looking at the end that is cut first; they are the same whichever end that is. An arc is the same on the skin of a
    round section, mm, None on others.
    """

    mark: str
    piece: Piece

    @property
    def degrees(self) -> float:
        """From the left end's long point to the right end's."""
        return self.piece.turn

    @property
    def arc(self) -> float | None:
        """That on the skin."""
        return self._on_skin(self.degrees)

    @property
    def both_ways(self) -> float:
        """The roll between the cuts where the arm swings to one side for the one and to the other for the other."""
        return 0.0 - self.degrees

    @property
    def both_ways_arc(self) -> float | None:
        """That roll on the skin."""
        return self._on_skin(self.both_ways)

    @property
    def one_way(self) -> float:
        """The roll where the arm swings to one side for both: turned over and `both_ways` past that, the short way."""
        return self.both_ways - copysign(180.0, self.both_ways)

    @property
    def one_way_arc(self) -> float | None:
        """That roll on the skin."""
        return self._on_skin(self.one_way)

    @property
    def swings(self) -> tuple[float, float]:
        """How far the arm swings for the left and for the right end of a bar that is rolled for each, degrees."""
        left, right = (degrees(atan(hypot(cut.p, cut.q))) for cut in (self.piece.left, self.piece.right))
        return left, right

    @property
    def compound(self) -> bool:
        """Whether neither end is cut square, so that there is a roll between them."""
        return all(hypot(cut.p, cut.q) > SAME_SLOPE for cut in (self.piece.left, self.piece.right))

    @property
    def skew(self) -> bool:
        """Whether there is a roll between the ends by no quarter turn."""
        return self.compound and abs((self.degrees + 45) % 90 - 45) > FLUSH

    def _on_skin(self, angle: float) -> float | None:
        return pi * self.piece.section.width * angle / 360 if self.piece.section.shape.round else None


def roll_notes(turns: Sequence[RollBetween]) -> Iterator[Remark]:
    """Of each member its tip to tip, swings and roll, and how it is held where any is rolled by no quarter."""
    for turn in turns:
        swings = dict(zip(("left", "right"), turn.swings, strict=True))
        told = names(mark=turn.mark) + lengths(overall=turn.piece.overall) + angles(**swings)
        yield Remark("note.member", told, more=(_rolled(turn),) if turn.compound else ())
    if any(turn.skew for turn in turns):
        yield Remark("note.hold", case="round" if turns[0].piece.section.shape.round else "flat")


def _rolled(turn: RollBetween) -> Remark:
    if abs(turn.degrees) <= FLUSH:
        return Remark("note.long-points/same")
    if abs(turn.one_way) <= FLUSH:
        return Remark("note.long-points/opposite")
    way = "clockwise" if turn.both_ways > 0 else "counter"
    skin = _skin(turn)
    numbers = angles(turn=abs(turn.degrees), one_way=abs(turn.one_way)) + skin
    return Remark("note.rolled-skin" if skin else "note.rolled", numbers, way)


def _skin(turn: RollBetween) -> Numbers:
    if turn.arc is None or turn.one_way_arc is None:
        return ()
    return lengths(skin=abs(turn.arc), one_way_skin=abs(turn.one_way_arc))
