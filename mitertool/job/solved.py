"""A mark as it is cut; values only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Self

import attrs

from mitertool.base.tolerances import CROSSING
from mitertool.cut import Cut
from mitertool.job.model import PieceOrder
from mitertool.job.settings import Use
from mitertool.piece import POSES, Piece
from mitertool.piece.poses import OTHER_END, TURNED
from mitertool.quantity.sentence import Sentence
from mitertool.saw import Reach, Saw
from mitertool.saw.feed import BarPiece
from mitertool.saw.lays import laid_over, lays_say, lays_that_work
from mitertool.saw.reach import ENDS, made
from mitertool.saw.stops import Stop, stops


def made_so(piece: Piece, saw: Saw) -> tuple[Reach, Reach]:
    """The settings of both ends, the bar rolled half a turn for either where only that makes it."""
    return made(saw, piece.section, piece.left, "left"), made(saw, piece.section, piece.right, "right")


def reaches(piece: Piece, saw: Saw | None, count: int = 1) -> tuple[Reach | None, Reach | None]:
    """The settings of both ends of a piece, `count` bars side by side; None each without a saw."""
    found = _reaches(piece, saw, count)
    return found["left"][0], found["right"][0]


def _reaches(piece: Piece, saw: Saw | None, count: int) -> dict[str, tuple[Reach | None, ...]]:
    """The settings of every cut of either end, the first one first: as the bar lies, else laid half a turn over."""
    cuts = [(cut, end) for end in ENDS for cut in piece.cuts(end)]
    found: tuple[Reach | None, ...] = (None,) * len(cuts)
    if saw is not None:
        drawn = tuple(saw.reach(piece.section, cut, end, count) for cut, end in cuts)
        well = all(answer.ok for answer in drawn)
        found = drawn if well else laid_over(saw, piece.section, cuts, count) or drawn
    left = len(piece.cuts("left"))
    return {"left": found[:left], "right": found[left:]}


def poses_that_work(piece: Piece, saw: Saw, turn: tuple[str, ...]) -> Iterator[str]:
    """The poses, of those in `turn` (all where it is empty), in which the saw makes both cuts of a piece."""
    for pose in piece.poses:
        if not turn or pose in turn:
            laid = piece if pose == POSES[0] else piece.posed(pose)
            if all(reach.ok for reach in made_so(laid, saw)):
                yield pose


def posed_reaches(piece: Piece, saw: Saw, pose: str) -> tuple[Reach, Reach]:
    """The settings of the left and the right end as drawn, with the piece laid in a pose."""
    left, right = made_so(piece if pose == POSES[0] else piece.posed(pose), saw)
    return (right, left) if pose in TURNED else (left, right)


@attrs.frozen
class EndWay:
    """A way in which an end of a mark is cut: its settings (None without a saw), and how the bar lies as drawn.

    `roll` is how far it is rolled, `turned` that it is laid end for end before; `number` is that of the setting, 0 for
    none.
    """

    end: str
    reach: Reach | None
    roll: float = 0.0
    turned: bool = False
    number: int = 0

    @classmethod
    def by(cls, use: Use, reach: Reach, number: int = 0) -> Self:
        """The way of a use."""
        return cls(use.end, reach, use.roll, use.turned, number)


@attrs.frozen
class FurtherCut:
    """A further cut of an `end` ("left" or "right"), its number counted from the end's first as 1, and its settings.

    `edges` are the lengths of the piece at those edges of the section's box where this cut ends it, mm: there it is
    marked with a tape from the other end.
    """

    end: str
    number: int
    cut: Cut
    reach: Reach | None
    edges: Mapping[str, float]


def further_cuts(piece: Piece, saw: Saw | None) -> tuple[FurtherCut, ...]:
    """The cuts that are made on a piece after it is parted, those of the left end first."""
    found = _reaches(piece, saw, 1)
    return tuple(
        FurtherCut(end, number, cut, answer, _ended(piece, end, number))
        for end in ENDS
        for number, (cut, answer) in enumerate(zip(piece.cuts(end), found[end], strict=True), 1)
        if number > 1
    )


def _ended(piece: Piece, end: str, number: int) -> dict[str, float]:
    """The edges that a cut ends, with the piece's length there."""
    section, roof = piece.section, piece.end_roof(end)
    slant = roof.slants[number - 1]
    places = {
        f"{side}_{level}": (y, z)
        for side, y in (("fixed", 0.0), ("moving", section.width))
        for level, z in (("bottom", 0.0), ("top", section.height))
    }
    return {
        edge: piece.length_at(*place)
        for edge, place in places.items()
        if slant.at(*place) <= roof.at(*place) + CROSSING
    }


@attrs.frozen
class SolvedPiece:
    """A mark as it is cut: one hand of a piece, how many, and the settings of both ends (None without a saw).

    `left` and `right` are those of the cuts that part the bar, `further` of the others; they are set in its `pose`: as
    drawn, or another one where the saw makes it only so. `ways` are those in which the bars set its ends; empty where
    it lies on none.
    """

    order: PieceOrder
    mark: str
    hand: str
    piece: Piece
    quantity: int
    left: Reach | None
    right: Reach | None
    drawn: tuple[Reach | None, Reach | None] = (None, None)
    pose: str = POSES[0]
    ways: tuple[EndWay, ...] = ()

    def ways_of(self, end: str) -> tuple[EndWay, ...]:
        """Every way in which the "left" or "right" end is cut, in the order of work; at least one."""
        planned = tuple(way for way in self.ways if way.end == end)
        reach = self.left if end == "left" else self.right
        if planned or reach is None:
            return planned or (EndWay(end, None),)
        lying = OTHER_END[end] if self.pose in TURNED else end
        return (EndWay.by(Use.of(self.mark, lying, reach, self.pose), reach),)

    @cached_property
    def problems(self) -> tuple[Sentence, ...]:
        """Every reason why the saw cannot make it, and for each such cut the lays that work."""
        cuts = [(one.end, f"{one.end} end, cut {one.number}", one.cut, one.reach) for one in self.further]
        left, right = self.piece.left, self.piece.right
        ends = [("left", "left end", left, self.left), ("right", "right end", right, self.right)]
        return tuple(
            Sentence.words(f"{self.mark}, {where}: ").followed_by(told)
            for end, where, cut, reach in (*ends, *cuts)
            if reach
            for told in self._against(end, cut, reach)
        )

    @property
    def saw(self) -> Saw | None:
        """The saw it is set for."""
        return self.left.setting.saw if self.left else None

    @cached_property
    def further(self) -> tuple[FurtherCut, ...]:
        """The cuts that are made on the piece after it is parted, those of the left end first."""
        return further_cuts(self.piece, self.saw)

    def _against(self, end: str, cut: Cut, reach: Reach) -> Iterator[Sentence]:
        yield from (reason.told for reason in reach.reasons)
        if not reach.ok:
            yield Sentence.words(lays_say(lays_that_work(reach.setting.saw, self.piece.section, cut, end)))

    @cached_property
    def stop(self) -> Stop | None:
        """Where the stop stands for the cut that parts it; None without a saw, and on a saw with a bar feed."""
        saw = self.saw
        if saw is None or saw.feed is not None:
            return None
        piece = self.piece.blank
        on_bar = BarPiece(self.mark, piece.left, piece.right, piece.centerline, 0.0)
        trailing = self.right if saw.trails == "right" else self.left
        return stops(saw, piece.section, [on_bar], [trailing] if trailing else ())[0]
