"""Pieces and bars of one section and grade as numbers for the search; knows plan and bar.

A bar is a walk: ways to lie, one after another, each from the slope of its leading cut to that of its trailing cut.
Slopes of different lays are different, and no joint leads from one to the other. Lengths are mm on the centerline.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import groupby, pairwise
from math import inf

import attrs

from mitertool.bar import Allowance, BarCut, BarPiece
from mitertool.bar.spacing import behind, gap, half_kerf
from mitertool.nest.plan import Item, Stock
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


@attrs.frozen(eq=False)
class Lot:
    """What may share bars of one section and grade. `gaps[a][b]` is the joint from slope a to slope b, or inf."""

    kinds: tuple[PieceKind, ...]
    stock: tuple[Stock, ...]
    capacity: tuple[float, ...]
    ends: tuple[LaidCut, ...]
    gaps: tuple[tuple[float, ...], ...]

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

    def used(self, walk: Walk) -> float:
        """Usable length that a bar needs for a walk, mm."""
        between = sum(self.gaps[one.after][two.before] for one, two in pairwise(walk))
        pieces = sum(self.kinds[way.kind].length for way in walk)
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
        return sum(self.stock[bar.stock].price for bar in bars)


def lots(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance) -> Iterator[Lot]:
    """One lot for every section and grade, in the order of their names; one a lay where the stock never runs out."""

    def key(item: Item) -> tuple[str, str]:
        return item.piece.section.name, item.grade

    def lay(item: Item) -> tuple[float, bool]:
        return item.piece.section.rotation, item.piece.section.turned

    for (name, grade), group in groupby(sorted((item for item in items if item.quantity), key=key), key=key):
        fits = tuple(s for s in stock if (s.section, s.grade) == (name, grade))
        if any(s.quantity is not None for s in fits):
            yield _lot(list(group), fits, allowance)
        else:
            for _, alike in groupby(sorted(group, key=lay), key=lay):
                yield _lot(list(alike), fits, allowance)


def _lot(items: Sequence[Item], stock: tuple[Stock, ...], allowance: Allowance) -> Lot:
    ends: list[LaidCut] = []
    members: dict[tuple[float, frozenset[tuple[int, int]]], list[KindMember]] = {}
    lengths: dict[tuple[float, frozenset[tuple[int, int]]], float] = {}
    for item in items:
        poses = _poses(item, ends, allowance)
        key = (round(item.piece.centerline, 9), frozenset(poses))
        members.setdefault(key, []).append(KindMember(item, poses))
        lengths[key] = max(item.piece.centerline, lengths.get(key, 0.0))
    order = sorted(members, key=lambda key: (-key[0], sorted(key[1])))
    return Lot(
        tuple(_kind(i, lengths[key], members[key]) for i, key in enumerate(order)),
        stock,
        tuple(s.length - allowance.trim - allowance.grip for s in stock),
        tuple(ends),
        tuple(tuple(_gap(a, b, allowance) for b in ends) for a in ends),
    )


def _kind(number: int, length: float, members: list[KindMember]) -> PieceKind:
    ways = tuple(Way(number, *pair) for pair in sorted(members[0].poses))
    return PieceKind(length, sum(member.item.quantity for member in members), ways, tuple(members))


def _gap(a: LaidCut, b: LaidCut, allowance: Allowance) -> float:
    return gap(a.cut, b.cut, a.section, allowance) if _one_lay(a.section, b.section) else inf


def _one_lay(one: Section, other: Section) -> bool:
    return (one.rotation, one.turned) == (other.rotation, other.turned)


def on_bar(item: Item, pose: str, allowance: Allowance) -> BarPiece:
    """The piece as it lies on a bar."""
    return BarPiece.of(item.mark, item.piece, pose, leads=allowance.leads)


def _poses(item: Item, ends: list[LaidCut], allowance: Allowance) -> dict[tuple[int, int], str]:
    """The poses of an item by the slopes that they give; the first of several that give the same."""
    poses: dict[tuple[int, int], str] = {}
    for pose in item.poses:
        piece = on_bar(item, pose, allowance)
        pair = tuple(_number(cut, item, ends, allowance) for cut in (piece.lead, piece.trail))
        poses.setdefault((pair[0], pair[1]), pose)
    return poses


def _number(cut: BarCut, item: Item, ends: list[LaidCut], allowance: Allowance) -> int:
    section, kerf = item.piece.section, allowance.kerf
    for i, end in enumerate(ends):
        if end.cut.parallel(cut) and _one_lay(end.section, section):
            return i
    trail, half = behind(cut, section, kerf), half_kerf(cut, section, kerf)
    ends.append(LaidCut(section, cut, cut.half_reach(section), trail, half, cut.is_square))
    return len(ends) - 1
