"""Pieces and bars of one section and grade as numbers for the search; knows plan and bar.

A bar is a walk: ways to lie, one after another, each from the slope of its leading cut to that of its trailing cut.
All slopes are those of one bar, in whichever lay its pieces are cut; where no roll leads from one lay to another, no
joint leads from its slopes to theirs. Lengths are mm on the centerline.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import groupby, pairwise
from math import floor, inf
from operator import attrgetter
from typing import Final

import attrs

from mitertool.bar import Allowance, BarCut, BarPiece, roll_to
from mitertool.bar.spacing import behind, gap, gaps, half_kerf
from mitertool.base.totals import summed
from mitertool.nest.plan import Group, Item, Stock
from mitertool.sections import Section

FULL = 1e-9
"""mm. A bar may be filled to its end; sums of a hundred lengths round to less than this."""


@attrs.frozen
class Way:
    """How a kind may lie: the numbers of the slopes of its leading and trailing cut."""

    kind: int
    before: int
    after: int


Walk = tuple[Way, ...]


@attrs.frozen
class Pattern:
    """One bar of the search: the number of its stock and what is cut from it."""

    stock: int
    walk: Walk


@attrs.frozen
class KindMember:
    """A mark of a kind and the pose that brings about each way to lie."""

    item: Item
    poses: Mapping[tuple[int, int], str] = attrs.field(hash=False)


@attrs.frozen
class PieceKind:
    """Marks of one length and one set of ways to lie, which the search need not tell apart."""

    length: float
    demand: int
    ways: tuple[Way, ...]
    members: tuple[KindMember, ...]


@attrs.frozen
class LaidCut:
    """A cut of a lay and what it takes: at a bar's start, at its end, and at the least anywhere, mm."""

    section: Section
    cut: BarCut
    lead: float
    trail: float
    half: float
    square: bool


class Joints(Sequence[tuple[float, ...]]):
    """The joints of each slope, counted when they are asked for the first time: of many slopes few meet all others."""

    def __init__(self, ends: Sequence[LaidCut], allowance: Allowance) -> None:
        self._ends, self._allowance = ends, allowance
        self._rows: dict[int, tuple[float, ...]] = {}
        self._pairs: dict[tuple[int, int], float] = {}

    def __len__(self) -> int:
        return len(self._ends)

    def __getitem__(self, slope: int) -> tuple[float, ...]:  # type: ignore[override]
        if slope not in self._rows:
            self._rows[slope] = self._row(self._ends[slope])
        return self._rows[slope]

    def between(self, slope: int, other: int) -> float:
        """The joint from one slope to another, for which no others are counted."""
        if (slope, other) not in self._pairs:
            a, b = self._ends[slope], self._ends[other]
            apart = gap(a.cut, b.cut, a.section, self._allowance) if a.section is b.section else inf
            self._pairs[slope, other] = apart
        return self._pairs[slope, other]

    def _row(self, a: LaidCut) -> tuple[float, ...]:
        found = gaps(a.cut, self._cuts, a.section, self._allowance)
        if all(b.section is a.section for b in self._ends):
            return found
        return tuple(gap if b.section is a.section else inf for gap, b in zip(found, self._ends, strict=True))

    @cached_property
    def _cuts(self) -> list[BarCut]:
        return [end.cut for end in self._ends]


@attrs.frozen(eq=False)
class Lot:
    """What may share bars of one section and grade."""

    kinds: tuple[PieceKind, ...]
    stock: tuple[Stock, ...]
    capacity: tuple[float, ...]
    ends: tuple[LaidCut, ...]
    allowance: Allowance

    @cached_property
    def gaps(self) -> Joints:
        """`gaps[a][b]` is the joint from slope a to slope b, mm, or inf."""
        return Joints(self.ends, self.allowance)

    @cached_property
    def demand(self) -> tuple[int, ...]:
        """Pieces wanted of each kind."""
        return tuple(kind.demand for kind in self.kinds)

    @cached_property
    def weights(self) -> tuple[float, ...]:
        """What one of each kind takes of any bar at the least, mm."""
        return tuple(
            kind.length + self.ends[kind.ways[0].before].half + self.ends[kind.ways[0].after].half
            for kind in self.kinds
        )

    @cached_property
    def weight(self) -> float:
        """What all pieces take of any bars at the least, mm."""
        return summed(w * n for w, n in zip(self.weights, self.demand, strict=True))

    @property
    def group(self) -> Group:
        """The section and the grade."""
        return self.kinds[0].members[0].item.group

    @property
    def items(self) -> Iterator[Item]:
        """All that is asked of it."""
        return (member.item for kind in self.kinds for member in kind.members)

    @property
    def own_changes(self) -> int:
        """Pieces whose two cuts are not parallel on the bar: each needs a set-up between them, however it lies."""
        return sum(kind.demand for kind in self.kinds if kind.ways[0].before != kind.ways[0].after)

    @property
    def too_long(self) -> tuple[int, ...]:
        """Kinds that no bar takes."""
        longest = max(self.capacity, default=float("-inf"))
        needs = (min(self.used((way,)) for way in kind.ways) for kind in self.kinds)
        return tuple(number for number, need in enumerate(needs) if need > longest + FULL)

    def used(self, walk: Walk) -> float:
        """Usable length that a bar needs for a walk, mm."""
        between = summed(self.gaps.between(one.after, two.before) for one, two in pairwise(walk))
        pieces = summed(self.kinds[way.kind].length for way in walk)
        return self.ends[walk[0].before].lead + pieces + between + self.ends[walk[-1].after].trail

    def fits(self, walk: Walk, stock: int) -> bool:
        """Whether a bar of the stock takes the walk."""
        return self.used(walk) <= self.capacity[stock] + FULL

    def mismatches(self, walk: Walk) -> int:
        """Neighbours that share no cut, and ends of the bar that are not square."""
        ends = (self.ends[walk[0].before].square, self.ends[walk[-1].after].square)
        return sum(one.after != two.before for one, two in pairwise(walk)) + ends.count(False)

    def price(self, bars: Sequence[Pattern]) -> float:
        """Cost of the bars."""
        return summed(self.stock[bar.stock].price for bar in bars)


@attrs.frozen
class Frame:
    """How a bar lies, and the lays of pieces that it holds: rolled from there by the degrees beside each."""

    section: Section
    rolls: dict[tuple[float, bool], float] = attrs.field(factory=dict, eq=False)


def frames(items: Iterable[Item], rolls: bool = True) -> dict[tuple[float, bool], Frame]:
    """How the bars of one section and grade lie, by the lays of the pieces; one for lays that a roll leads between.

    Without `rolls` one for lays that look alike.
    """
    found: list[Frame] = []
    by_lay: dict[tuple[float, bool], Frame] = {}
    for item in items:
        section, lay = item.piece.section, lay_of(item)
        if lay in by_lay:
            continue
        turns = ((frame, roll_to(frame.section, section)) for frame in found)
        near = next(((frame, roll) for frame, roll in turns if roll is not None and (rolls or not roll)), None)
        frame, roll = near or (Frame(section), 0.0)
        if near is None:
            found.append(frame)
        frame.rolls[lay], by_lay[lay] = roll, frame
    return by_lay


def lay_of(item: Item) -> tuple[float, bool]:
    """How the section of a piece lies as drawn: rotated by degrees, laid end for end."""
    return item.piece.section.rotation, item.piece.section.turned


def lots(
    items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, rolls: Callable[[str], bool] = lambda _: True
) -> Iterator[Lot]:
    """One lot for every section and grade, in the order of their names.

    Pieces that lie in several ways share bars where a roll leads from one to the other and `rolls` says of the section
    that its bars may be rolled; where they do not, they are lots of their own where the stock never runs out.
    """
    wanted = sorted((item for item in items if item.quantity), key=attrgetter("group"))
    for (name, grade), group in groupby(wanted, key=attrgetter("group")):
        fits = tuple(s for s in stock if s.group == (name, grade))
        alike = list(group)
        by_lay = frames(alike, rolls(name))
        if any(s.quantity is not None for s in fits):
            yield _lot(alike, fits, allowance, by_lay)
        else:
            for frame in {id(frame): frame for frame in by_lay.values()}.values():
                yield _lot([item for item in alike if by_lay[lay_of(item)] is frame], fits, allowance, by_lay)


_Alike = tuple[float, frozenset[tuple[int, int]], float]
"""What pieces of one kind have alike: length, ways to lie, and how the bar is rolled for them where that matters."""


def _lot(
    items: Sequence[Item], stock: tuple[Stock, ...], allowance: Allowance, by_lay: Mapping[tuple[float, bool], Frame]
) -> Lot:
    ends = _Ends(allowance)
    members: dict[_Alike, list[KindMember]] = {}
    lengths: dict[_Alike, float] = {}
    for item in items:
        frame = by_lay[lay_of(item)]
        poses = _poses(item, ends, frame)
        square = all(ends.found[i].square for pair in poses for i in pair)
        key = (round(item.piece.centerline, 9), frozenset(poses), 0.0 if square else frame.rolls[lay_of(item)])
        members.setdefault(key, []).append(KindMember(item, poses))
        lengths[key] = max(item.piece.centerline, lengths.get(key, 0.0))
    order = sorted(members, key=lambda key: (-key[0], sorted(key[1]), key[2]))
    return Lot(
        tuple(_kind(i, lengths[key], members[key]) for i, key in enumerate(order)),
        stock,
        tuple(s.length - allowance.trim - allowance.grip for s in stock),
        tuple(ends.found),
        allowance,
    )


def _kind(number: int, length: float, members: list[KindMember]) -> PieceKind:
    ways = tuple(Way(number, *pair) for pair in sorted(members[0].poses))
    return PieceKind(length, sum(member.item.quantity for member in members), ways, tuple(members))


def on_bar(item: Item, pose: str, allowance: Allowance) -> BarPiece:
    """The piece as it lies on a bar that lies as its own lay says."""
    return BarPiece.of(item.mark, item.piece, pose, leads=allowance.leads)


def _poses(item: Item, ends: _Ends, frame: Frame) -> dict[tuple[int, int], str]:
    """The poses of an item by the slopes that they give; the first of several that give the same."""
    poses: dict[tuple[int, int], str] = {}
    for pose in item.poses:
        piece = on_bar(item, pose, ends.allowance).lying(frame.section, frame.rolls[lay_of(item)])
        poses.setdefault((ends.number(piece.lead, frame), ends.number(piece.trail, frame)), pose)
    return poses


class _Ends:
    """The cuts of a lot, numbered as they are met; those that are parallel have one number."""

    def __init__(self, allowance: Allowance) -> None:
        self.allowance = allowance
        self.found: list[LaidCut] = []
        self._near: dict[tuple[int, int], list[int]] = {}

    def number(self, cut: BarCut, frame: Frame) -> int:
        """The number of a cut on bars that lie so."""
        bucket = floor(cut.p / _BUCKET)
        for near in (bucket, bucket - 1, bucket + 1):
            for i in self._near.get((id(frame), near), ()):
                if self.found[i].cut.parallel(cut):
                    return i
        section, kerf = frame.section, self.allowance.kerf
        trail, half = behind(cut, section, kerf), half_kerf(cut, section, kerf)
        self._near.setdefault((id(frame), bucket), []).append(len(self.found))
        self.found.append(LaidCut(section, cut, cut.half_reach(section), trail, half, cut.is_square))
        return len(self.found) - 1


_BUCKET: Final = 1e-6
"""Slopes are looked for among those so near: far above what tells two of them apart."""
