"""Bar by bar: the longest pieces first, each on the first bar that takes it, in the pose that adds the least."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from math import ceil, inf

import attrs

from mitertool.base.errors import BadInput, CannotMake
from mitertool.nest.plan import Allowance, Bar, Item, Placed, Plan, Stock
from mitertool.nest.spacing import half_kerf_weight, joint, left_slope, right_slope, start, tail
from mitertool.piece import Piece
from mitertool.sections import Section

_FULL = 1e-9
"""mm. A bar may be filled to its end; sums of a hundred lengths round to less than this."""


@attrs.frozen
class Laid:
    """A piece as it lies on a bar, its leading cut at `at` (mm, centerline).

    Along the bar the leading end counts as the left one; where the right end leads, the ends change places.
    """

    mark: str
    pose: str
    piece: Piece
    at: float

    @property
    def end(self) -> float:
        """Where its right cut crosses the centerline, mm."""
        return self.at + self.piece.centerline


@attrs.frozen
class Filled:
    """A bar of `stock` being filled."""

    stock: Stock
    laid: tuple[Laid, ...] = ()

    def with_piece(self, item: Item, allowance: Allowance) -> Filled | None:
        """The bar with one more piece, in the pose that reaches least far; None where it does not fit."""
        options = [self._laid(item, pose, allowance) for pose in item.poses]
        best = min(options, key=lambda laid: laid.end + tail(laid.piece, allowance))
        if best.end + tail(best.piece, allowance) > self.stock.length - allowance.grip + _FULL:
            return None
        return attrs.evolve(self, laid=(*self.laid, best))

    def _laid(self, item: Item, pose: str, allowance: Allowance) -> Laid:
        posed = item.piece.posed(pose)
        piece = posed if allowance.leads == "left" else posed.opposite_hand()
        if not self.laid:
            return Laid(item.mark, pose, piece, start(piece, allowance))
        last = self.laid[-1]
        return Laid(item.mark, pose, piece, last.end + joint(last.piece, piece, allowance))


def solve(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance) -> Plan:
    """Put all `items` on bars of `stock`.

    Raises `CannotMake` with every piece that no bar takes or that stock runs out for, `BadInput` for poses that
    the section does not allow.
    """
    _check_turns(items)
    problems: list[str] = []
    filled: list[Filled] = []
    for group in _groups(items):
        bars, missing = _fill(group, [s for s in stock if _belongs(s, group[0])], filled, allowance)
        filled += bars
        problems += missing
    if problems:
        raise CannotMake(problems)
    return _plan(items, filled, stock, allowance)


def _check_turns(items: Sequence[Item]) -> None:
    for item in items:
        if not item.poses:
            raise BadInput(
                f"{item.mark}, turn",
                ", ".join(item.turn),
                f"its section allows {', '.join(item.piece.poses)}",
            )


def _groups(items: Sequence[Item]) -> Iterator[list[Item]]:
    """Items that may share bars: one section in one lay and one grade."""

    def key(item: Item) -> tuple[str, str, float, bool]:
        section = item.piece.section
        return (section.name, item.grade, section.rotation, section.turned)

    for _, group in groupby(sorted(items, key=key), key=key):
        yield list(group)


def _belongs(stock: Stock, item: Item) -> bool:
    return stock.section == item.piece.section.name and stock.grade == item.grade


def _fill(
    group: list[Item], stock: list[Stock], used: list[Filled], allowance: Allowance
) -> tuple[list[Filled], list[str]]:
    bars: list[Filled] = []
    problems: list[str] = []
    for item in sorted(group, key=lambda i: -half_kerf_weight(i.piece, allowance)):
        for count in range(item.quantity):
            if _place(bars, item, stock, used, allowance):
                continue
            problems.append(_missing(item, item.quantity - count, stock, allowance))
            break
    return bars, problems


def _place(bars: list[Filled], item: Item, stock: list[Stock], used: list[Filled], allowance: Allowance) -> bool:
    for i, bar in enumerate(bars):
        fuller = bar.with_piece(item, allowance)
        if fuller:
            bars[i] = fuller
            return True
    for one in sorted(stock, key=lambda s: (s.price / s.length, -s.length)):
        taken = sum(bar.stock is one for bar in (*bars, *used))
        opened = Filled(one).with_piece(item, allowance)
        if opened and (one.quantity is None or taken < one.quantity):
            bars.append(opened)
            return True
    return False


def _missing(item: Item, count: int, stock: list[Stock], allowance: Allowance) -> str:
    piece, name = item.piece, item.piece.section.name
    if not stock:
        return f"{item.mark}: no stock of {name}{f' {item.grade}' if item.grade else ''} is given"
    need = start(piece, allowance) + piece.centerline + tail(piece, allowance) + allowance.grip
    longest = max(s.length for s in stock)
    if need > longest + _FULL:
        return f"{item.mark}: needs a bar of {need:.1f} mm, the longest of {name} is {longest:.1f} mm"
    return f"{item.mark}: {count} more do not fit the bars of {name} in stock"


def _plan(items: Sequence[Item], filled: list[Filled], stock: Sequence[Stock], allowance: Allowance) -> Plan:
    bars = [_bar(same, allowance) for same in _alike(filled, items)]
    cost = sum(bar.stock.price for bar in filled)
    bound = _lower_bound(items, stock, allowance)
    ordered = [laid for _, group in groupby(filled, key=_pattern) for bar in group for laid in bar.laid]
    return Plan(tuple(bars), cost, bound, cost <= bound * (1 + 1e-12), _swings(ordered))


def _pattern(bar: Filled) -> tuple[float, tuple[tuple[str, str], ...]]:
    return bar.stock.length, tuple((laid.mark, laid.pose) for laid in bar.laid)


def _alike(filled: list[Filled], items: Sequence[Item]) -> Iterator[tuple[list[Filled], str]]:
    grade_of = {item.mark: item.grade for item in items}
    for _, group in groupby(filled, key=_pattern):
        same = list(group)
        yield same, grade_of[same[0].laid[0].mark]


def _bar(alike: tuple[list[Filled], str], allowance: Allowance) -> Bar:
    same, grade = alike
    first, last = same[0], same[0].laid[-1]
    drop = first.stock.length - last.end - right_slope(last.piece).kerf_along(allowance.kerf)
    placed = tuple(Placed(laid.mark, laid.pose, laid.at) for laid in first.laid)
    section: Section = last.piece.section
    return Bar(section, grade, first.stock.length, len(same), placed, drop, _swings(first.laid))


def _swings(laid: Sequence[Laid]) -> int:
    """Changes of the arm over the cuts in order; the first cut finds the arm where it stands."""
    angles = [s.p for one in laid for s in (left_slope(one.piece), right_slope(one.piece))]
    return sum(abs(a - b) > _FULL for a, b in pairwise(angles))


def _lower_bound(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance) -> float:
    """Cost that no plan can beat: the half-kerf weights of a section and grade at its cheapest rate.

    Where one length is all there is, whole bars are counted.
    """
    total = 0.0
    for (name, grade), weight in _weights(items, allowance).items():
        fits = [s for s in stock if (s.section, s.grade) == (name, grade)]
        rate = min((s.price / max(s.length - allowance.trim - allowance.grip, _FULL) for s in fits), default=inf)
        whole = fits[0].price if len(fits) == 1 else 0.0
        total += whole * ceil(weight * rate / whole - _FULL) if whole else weight * rate
    return total


def _weights(items: Sequence[Item], allowance: Allowance) -> dict[tuple[str, str], float]:
    weights: dict[tuple[str, str], float] = {}
    for item in items:
        key = (item.piece.section.name, item.grade)
        weights[key] = weights.get(key, 0.0) + item.quantity * half_kerf_weight(item.piece, allowance)
    return weights
