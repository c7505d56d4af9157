"""A mark as it is cut; values only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Self

import attrs

from mitertool.bar import BarPiece
from mitertool.base.tolerances import CROSSING
from mitertool.cut import Cut
from mitertool.job.orders import PieceOrder
from mitertool.job.settings import Use
from mitertool.piece import POSES, Piece
from mitertool.piece.marks import EndWork, PieceMark
from mitertool.piece.poses import TURNED, end_in
from mitertool.quantity.problem import Problem, Remark
from mitertool.saw import Machine, Reach
from mitertool.saw.feed.stops import Stop, stops
from mitertool.saw.setting.asked import Asked
from mitertool.saw.setting.lays import laid_over, lays_that_work, lays_told
from mitertool.saw.setting.reach import ENDS


def made_so(piece: Piece, saw: Asked) -> tuple[Reach, Reach]:
    """The settings of both ends, the bar rolled half a turn for either where only that makes it."""
    return saw.made(piece.section, piece.left, "left"), saw.made(piece.section, piece.right, "right")


def reaches(piece: Piece, saw: Asked | None) -> tuple[Reach | None, Reach | None]:
    """The settings of both ends of a piece; None each without a saw."""
    found = _reaches(piece, saw)
    return found["left"][0], found["right"][0]


def _reaches(piece: Piece, saw: Asked | None) -> dict[str, tuple[Reach | None, ...]]:
    """The settings of every cut of either end, the first one first: as the bar lies, else laid half a turn over."""
    cuts = [(cut, end) for end in ENDS for cut in piece.cuts(end)]
    found: tuple[Reach | None, ...] = (None,) * len(cuts)
    if saw is not None:
        drawn = tuple(saw.reach(piece.section, cut, end) for cut, end in cuts)
        well = all(answer.ok for answer in drawn)
        found = drawn if well else laid_over(saw, piece.section, cuts) or drawn
    left = len(piece.cuts("left"))
    return {"left": found[:left], "right": found[left:]}


def poses_that_work(piece: Piece, saw: Asked, turn: tuple[str, ...]) -> Iterator[str]:
    """The poses, of those in `turn` (all where it is empty), in which the saw makes both cuts of a piece."""
    for pose in piece.poses:
        if not turn or pose in turn:
            laid = piece if pose == POSES[0] else piece.posed(pose)
            if all(reach.ok for reach in made_so(laid, saw)):
                yield pose


def posed_reaches(piece: Piece, saw: Asked, pose: str) -> tuple[Reach, Reach]:
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
    """A further cut of an `end` ("left" or "right"), its number counted from the end's first as 1, and how it is set.

    It is marked on those edges of the section's box where it ends the piece: `back` is how far behind the face of the
    end's first cut, mm, and `edges` the length that the piece then has there.
    """

    end: str
    number: int
    cut: Cut
    way: EndWay
    edges: Mapping[str, float]
    back: Mapping[str, float]

    @property
    def reach(self) -> Reach | None:
        """Its settings; None without a saw."""
        return self.way.reach


def further_cuts(piece: Piece, saw: Machine | None, turn: tuple[str, ...] = ()) -> tuple[FurtherCut, ...]:
    """The cuts that are made on a piece after it is parted, those of the left end first; `turn`: poses allowed."""
    asked = Asked(saw) if saw else None
    return tuple(
        FurtherCut(end, number, cut, _further_way(piece, asked, turn, end, number), *_ended(piece, end, number))
        for end in ENDS
        for number, cut in enumerate(piece.cuts(end)[1:], 2)
    )


def held_first(piece: Piece, turn: tuple[str, ...], end: str, leads: str) -> list[str]:
    """The poses allowed by `turn` (all where empty), first those in which an end as drawn lies before the blade."""
    poses = [pose for pose in piece.poses if not turn or pose in turn] or [POSES[0]]
    return sorted(poses, key=lambda pose: end_in(pose, end) != leads)


def _further_way(piece: Piece, saw: Asked | None, turn: tuple[str, ...], end: str, number: int) -> EndWay:
    """In the first pose in which the saw makes it: first those with the end before the blade, the rest in the vise."""
    if saw is None:
        return EndWay(end, None)
    poses = held_first(piece, turn, end, saw.saw.leads)
    ways = [_in_pose(piece.posed(pose), saw, pose, end, number) for pose in poses]
    return next((way for way in ways if way.reach and way.reach.ok), ways[0])


def _in_pose(posed: Piece, saw: Asked, pose: str, end: str, number: int) -> EndWay:
    """How the cut of an end as drawn is set on a piece as it lies."""
    lying = end_in(pose, end)
    reach = saw.made(posed.section, posed.cuts(lying)[number - 1], lying)
    return EndWay(end, reach, Use.of("", lying, reach, pose).roll, turned=pose in TURNED)


def _ended(piece: Piece, end: str, number: int) -> tuple[dict[str, float], dict[str, float]]:
    """The edges that a cut ends short of the first: the length there, and how far it lies behind the first's face."""
    section, roof = piece.section, piece.end_roof(end)
    first, slant = roof.slants[0], roof.slants[number - 1]
    places = {
        f"{side}_{level}": (y, z)
        for side, y in (("fixed", 0.0), ("moving", section.width))
        for level, z in (("bottom", 0.0), ("top", section.height))
    }
    ended = {edge: at for edge, at in places.items() if slant.at(*at) <= roof.at(*at) + CROSSING < first.at(*at)}
    lengths = {edge: piece.length_at(*at) for edge, at in ended.items()}
    return lengths, {edge: first.at(*at) - slant.at(*at) for edge, at in ended.items()}


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

    @property
    def places(self) -> tuple[PieceMark, ...]:
        """Where a hole is made in it or another piece lands on it; on an opposite hand from the other end."""
        places = self.order.places
        return tuple(one.mirrored for one in places) if self.hand == "opposite" else places

    @property
    def worked(self) -> tuple[EndWork, ...]:
        """What is done at its ends after the saw; on an opposite hand at the other end."""
        worked = self.order.worked
        return tuple(one.mirrored for one in worked) if self.hand == "opposite" else worked

    @cached_property
    def in_vise(self) -> Piece:
        """The piece as the saw meets it: of all bars that are cut at once."""
        return self.order.in_vise(self.order.piece if self.comes_with else self.piece)

    @property
    def comes_with(self) -> str:
        """The mark of the other hand that comes off with it, "" for none."""
        return self.order.comes_with(self.mark)

    @property
    def is_extra(self) -> bool:
        """Whether it comes off with the other hand, which is what the saw is set for."""
        return bool(self.comes_with) and self.mark != self.order.mark

    def ways_of(self, end: str) -> tuple[EndWay, ...]:
        """Every way in which the "left" or "right" end is cut, in the order of work; at least one."""
        planned = tuple(way for way in self.ways if way.end == end)
        reach = self.left if end == "left" else self.right
        if planned or reach is None:
            return planned or (EndWay(end, None),)
        return (EndWay.by(Use.of(self.mark, end_in(self.pose, end), reach, self.pose), reach),)

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """Every reason why the saw cannot make it, and for each such cut the lays that work."""
        cuts = [(one.end, one.number, one.cut, one.reach) for one in self.further]
        ends = [("left", 1, self.piece.left, self.left), ("right", 1, self.piece.right, self.right)]
        return tuple(
            Problem.of(told, self.mark, end, number)
            for end, number, cut, reach in (*ends, *cuts)
            if reach
            for told in self._against(end, cut, reach)
        )

    @property
    def saw(self) -> Machine | None:
        """The saw it is set for."""
        return self.left.setting.saw if self.left else None

    @cached_property
    def further(self) -> tuple[FurtherCut, ...]:
        """The cuts that are made on the piece after it is parted, those of the left end first."""
        return further_cuts(self.piece, self.saw, self.order.turn)

    @property
    def reaches(self) -> tuple[Reach | None, ...]:
        """The settings of all its cuts."""
        return (self.left, self.right, *(one.reach for one in self.further))

    def cuts_of(self, end: str) -> tuple[tuple[tuple[EndWay, ...], Cut], ...]:
        """How every cut of the "left" or "right" end is set, with the cut, the one that parts the bar first."""
        further = (((one.way,), one.cut) for one in self.further if one.end == end)
        return ((self.ways_of(end), self.piece.cuts(end)[0]), *further)

    def _against(self, end: str, cut: Cut, reach: Reach) -> Iterator[Remark]:
        yield from reach.reasons
        if not reach.ok:
            yield lays_told(lays_that_work(reach.setting.saw, self.in_vise.section, cut, end))

    @cached_property
    def stop(self) -> Stop | None:
        """Where the stop stands for the cut that parts it; None without a saw, and on a saw with a bar feed."""
        saw = self.saw
        if saw is None or saw.feed is not None:
            return None
        on_bar = BarPiece.of(self.mark, self.in_vise.blank, self.pose, leads=saw.leads)
        trailing = self.right if end_in(self.pose, saw.trails) == "right" else self.left
        return stops([on_bar], [trailing])[0] if trailing else None
