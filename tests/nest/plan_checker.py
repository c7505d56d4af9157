"""An independent reading of a plan: plain numbers, no formula shared with the solver.

Everything is checked at the four edges of the bounding box, y in {0, W} and z in {0, H}: a plane over a rectangle has
its extremes there. Cuts are walls across the bar; a kerf is k*sqrt(1 + p^2 + q^2) thick along it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan, cos, degrees, radians, sin, sqrt

from mitertool.nest import Allowance, Bar, Plan, Stock

NEAR = 1e-6
"""mm. Far below what a saw can make, far above the rounding of a bar's sums."""

Slopes = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """What a test asked for: section, its box, its grade, the length on the centerline and both ends' (p, q)."""

    name: str
    section: str
    lay: str
    width: float
    height: float
    grade: str
    centerline: float
    left: Slopes
    right: Slopes
    quantity: int
    poses: tuple[str, ...]

    def ends(self, pose: str) -> tuple[Slopes, Slopes]:
        """Left and right (p, q) in a pose: half turns about the vertical, the bar and the cross axis."""
        (p_l, q_l), (p_r, q_r) = self.left, self.right
        return {
            "as-drawn": ((p_l, q_l), (p_r, q_r)),
            "end-for-end": ((-p_r, q_r), (-p_l, q_l)),
            "rolled": ((-p_l, -q_l), (-p_r, -q_r)),
            "end-for-end-rolled": ((p_r, -q_r), (p_l, -q_l)),
        }[pose]


@dataclass(frozen=True)
class Wall:
    """A cut on the bar: where it crosses the centerline, and its slopes dx/dy and dx/dz."""

    at: float
    p: float
    q: float

    def places(self, mark: Mark) -> list[float]:
        """x at the four edges of the box."""
        corners = [(y, z) for y in (0, mark.width) for z in (0, mark.height)]
        return [self.at + self.p * (y - mark.width / 2) + self.q * (z - mark.height / 2) for y, z in corners]

    def kerf(self, kerf: float) -> float:
        return kerf * sqrt(1 + self.p**2 + self.q**2)

    def rolled(self, degrees_over: float) -> Wall:
        """With the bar rolled, its top toward the moving side where positive: what lay up lies across then."""
        turn = radians(degrees_over)
        return Wall(self.at, self.p * cos(turn) + self.q * sin(turn), self.q * cos(turn) - self.p * sin(turn))

    def parallel(self, other: Wall) -> bool:
        return abs(self.p - other.p) < 1e-9 and abs(self.q - other.q) < 1e-9


def faults(plan: Plan, marks: Sequence[Mark], stock: Sequence[Stock], allowance: Allowance) -> list[str]:
    """Everything that is wrong with a plan; empty where it holds.

    Where the right end of a piece leads, its ends change places on the bar.
    """
    by_name = {mark.name: mark for mark in marks}
    found = [fault for bar in plan.bars for fault in _bar_faults(bar, by_name, allowance)]
    made = Counter({mark.name: 0 for mark in marks})
    for bar in plan.bars:
        for placed in bar.pieces:
            made[placed.mark] += bar.count
    found += [
        f"{mark.name}: {made[mark.name]} of {mark.quantity}" for mark in marks if made[mark.name] != mark.quantity
    ]
    found += _stock_faults(plan, stock)
    if plan.lower_bound > plan.cost * (1 + 1e-9):
        found.append(f"bound {plan.lower_bound} above cost {plan.cost}")
    if plan.proved and plan.cost > plan.lower_bound * (1 + 1e-9):
        found.append(f"called proved at {plan.cost}, bound {plan.lower_bound}")
    return [*found, *_swing_faults(plan, by_name, allowance)]


def _walls(bar: Bar, marks: Mapping[str, Mark], allowance: Allowance) -> list[Wall]:
    """All cuts of a bar in order, two a piece."""
    walls: list[Wall] = []
    for placed in bar.pieces:
        mark = marks[placed.mark]
        walls += (wall.rolled(-placed.lay) for wall in two_walls(mark, placed.pose, placed.at, allowance))
    return walls


def two_walls(mark: Mark, pose: str, at: float, allowance: Allowance) -> tuple[Wall, Wall]:
    """The leading and the trailing cut of a piece on a bar."""
    ends = mark.ends(pose)
    (p, q), (p_next, q_next) = ends if allowance.leads == "left" else ends[::-1]
    return Wall(at, -p, -q), Wall(at + mark.centerline, p_next, q_next)


def _bar_faults(bar: Bar, marks: Mapping[str, Mark], allowance: Allowance) -> Iterator[str]:
    on_bar = [marks[placed.mark] for placed in bar.pieces]
    first = replace(on_bar[0], width=bar.section.width, height=bar.section.height)
    for placed, mark in zip(bar.pieces, on_bar, strict=True):
        if placed.pose not in mark.poses:
            yield f"{placed.mark}: lies {placed.pose}"
        if (mark.section, mark.grade) != (first.section, first.grade):
            yield f"{placed.mark} on a bar with {first.name}"
        if not _same_box(mark, first, placed.lay):
            yield f"{placed.mark}: its box is another when the bar is rolled by {placed.lay}"
    walls = _walls(bar, marks, allowance)
    for left, right in zip(walls[::2], walls[1::2], strict=True):
        if any(b < a - NEAR for a, b in zip(left.places(first), right.places(first), strict=True)):
            yield "the cuts of a piece cross"
    for right, left in zip(walls[1::2], walls[2::2], strict=False):
        yield from _joint_faults(right, left, first, allowance)
    if min(walls[0].places(first)) < allowance.trim - NEAR:
        yield f"the first cut stands {min(walls[0].places(first))} from the raw end"
    last, kerf = walls[-1], walls[-1].kerf(allowance.kerf)
    if max(last.places(first)) + kerf > bar.stock_length - allowance.grip + NEAR:
        yield f"the last kerf ends {max(last.places(first)) + kerf} on a bar of {bar.stock_length}"
    if abs(bar.drop - (bar.stock_length - last.at - kerf)) > NEAR:
        yield f"drop {bar.drop}"


def _same_box(mark: Mark, bar: Mark, lay: float) -> bool:
    """Whether the box of a bar rolled by quarter turns is that of the mark as it lies."""
    box = (bar.height, bar.width) if lay % 180 else (bar.width, bar.height)
    return abs(mark.width - box[0]) < NEAR and abs(mark.height - box[1]) < NEAR


def _joint_faults(right: Wall, left: Wall, mark: Mark, allowance: Allowance) -> Iterator[str]:
    gaps = [b - a for a, b in zip(right.places(mark), left.places(mark), strict=True)]
    if right.parallel(left):
        if any(abs(gap - right.kerf(allowance.kerf)) > NEAR for gap in gaps):
            yield f"parallel neighbours stand {gaps} apart"
        return
    need = right.kerf(allowance.kerf) + left.kerf(allowance.kerf) + allowance.wedge_least
    if min(gaps) < need - NEAR:
        yield f"neighbours stand {min(gaps)} apart, two kerfs and the least wedge are {need}"


def _stock_faults(plan: Plan, stock: Sequence[Stock]) -> Iterator[str]:
    """Whether the bars are there; every stock of a section, grade and length costs its own, cheapest first."""
    cost = 0.0
    used = Counter[tuple[str, str, float]]()
    for bar in plan.bars:
        used[bar.section.name, bar.grade, bar.stock_length] += bar.count
    for (section, grade, length), count in used.items():
        there = [s for s in stock if (s.section, s.grade, s.length) == (section, grade, length)]
        prices = sorted(
            s.length if s.cost is None else s.cost
            for s in there
            for _ in range(count if s.quantity is None else s.quantity)
        )
        if len(prices) < count:
            yield f"{count} bars of {section} {grade} {length}, there are {len(prices)}"
        cost += sum(prices[:count])
    if abs(cost - plan.cost) > NEAR:
        yield f"cost {plan.cost}, the bars cost {cost}"


def _swing_faults(plan: Plan, marks: Mapping[str, Mark], allowance: Allowance) -> Iterator[str]:
    """Whether each cut is made as it is set, and swings and tilts are counted: set-ups of their own."""
    order: list[tuple[float, float]] = []
    for bar in plan.bars:
        walls = _cuts(_walls(bar, marks, allowance))
        if bar.cuts and len(bar.cuts) != len(walls):
            yield f"{len(bar.cuts)} cuts, {len(walls)} by the pieces"
        told = [cut.angles for cut in bar.cuts]
        made = [_set(wall.rolled(one.roll)) for wall, one in zip(walls, told, strict=False)]
        if any(abs(a - one.swing) + abs(b - one.tilt) > 1e-6 for (a, b), one in zip(made, told, strict=True)):
            yield f"set {told}, made {made}"
        angles = made or [_set(wall) for wall in walls]
        if not _as_counted((bar.swings, bar.tilts), angles):
            yield f"{bar.swings} swings, {bar.tilts} tilts, the blade goes {angles}"
        order += angles * bar.count
    if not _as_counted((plan.swings, plan.tilts), order):
        yield f"{plan.swings} swings, {plan.tilts} tilts in all, counted {_swings_and_tilts(order, STILL)}"


def _cuts(walls: Sequence[Wall]) -> list[Wall]:
    """The cuts of a bar, one where a trailing cut is the next leading one."""
    return [wall for i, wall in enumerate(walls) if i % 2 or i == 0 or not wall.parallel(walls[i - 1])]


def _set(wall: Wall) -> tuple[float, float]:
    """Miter and bevel by the definition of a cut: p = tan(miter), q = tan(bevel) / cos(miter)."""
    miter = atan(wall.p)
    return degrees(miter), degrees(atan(wall.q * cos(miter)))


STILL = 1e-9
"""degrees. An arm that moves by less stands still: the rounding of an angle made from a slope is far below."""

MOVED = 2e-6
"""degrees. One that moves by more is set anew; whether one that moves by less is, no scale can tell."""


def _as_counted(told: tuple[int, int], angles: Sequence[tuple[float, float]]) -> bool:
    least, most = _swings_and_tilts(angles, MOVED), _swings_and_tilts(angles, STILL)
    return all(low <= count <= high for low, count, high in zip(least, told, most, strict=True))


def _swings_and_tilts(angles: Sequence[tuple[float, float]], still: float) -> tuple[int, int]:
    """How often the one and the other is set anew: how often it changes by more."""
    swings, tilts = (sum(abs(a[i] - b[i]) > still for a, b in pairwise(angles)) for i in range(2))
    return swings, tilts


def swings_from_square(plan: Plan, marks: Sequence[Mark], allowance: Allowance) -> int:
    """Changes of slope where every bar starts and ends with the arm at square."""
    by_name = {mark.name: mark for mark in marks}
    slopes = ([(wall.p, wall.q) for wall in _walls(bar, by_name, allowance)] for bar in plan.bars)
    return sum(
        bar.count * _changes([(0.0, 0.0), *cuts, (0.0, 0.0)]) for bar, cuts in zip(plan.bars, slopes, strict=True)
    )


def steel_faults(plan: Plan, marks: Sequence[Mark], allowance: Allowance) -> list[str]:
    """Whether the steel of a plan adds up: each part counted from the cuts, their sum from the bars."""
    by_name, found = {mark.name: mark for mark in marks}, []
    parts = dict.fromkeys(("pieces", "kerf", "wedges", "trim", "grip", "drops"), 0.0)
    for bar in plan.bars:
        for name, value in _parts(_walls(bar, by_name, allowance), bar, allowance).items():
            parts[name] += value * bar.count
    for name, value in parts.items():
        if abs(getattr(plan.steel, name) - value) > NEAR * len(plan.bars):
            found.append(f"{name} {getattr(plan.steel, name)}, counted {value}")
    bought = sum(bar.stock_length * bar.count for bar in plan.bars)
    if abs(plan.steel.bought - bought) > NEAR or abs(sum(parts.values()) - bought) > NEAR:
        found.append(f"bought {plan.steel.bought}, bars {bought}, parts {sum(parts.values())}")
    return found


def _parts(walls: Sequence[Wall], bar: Bar, allowance: Allowance) -> dict[str, float]:
    gaps = list(zip(walls[1::2], walls[2::2], strict=False))
    kerfs = [
        right.kerf(allowance.kerf) + (0 if right.parallel(left) else left.kerf(allowance.kerf)) for right, left in gaps
    ]
    last = walls[-1].kerf(allowance.kerf)
    return {
        "pieces": sum(b.at - a.at for a, b in zip(walls[::2], walls[1::2], strict=True)),
        "kerf": sum(kerfs) + last,
        "wedges": walls[0].at - allowance.trim + sum(b.at - a.at for a, b in gaps) - sum(kerfs),
        "trim": allowance.trim,
        "grip": allowance.grip,
        "drops": bar.stock_length - walls[-1].at - last - allowance.grip,
    }


def _changes(slopes: Sequence[Slopes]) -> int:
    return sum(abs(p - r) > 1e-9 or abs(q - s) > 1e-9 for (p, q), (r, s) in pairwise(slopes))
