"""The order of all work of a job, and which way round each bar is cut, for the fewest changes between; knows blanks.

A bar is an arrow from the setting of its first cut to that of its last. Bars that follow one another without a change
are a trail; how many trails hold all arrows is told by how many begin and end at each setting, and that is what the
choice among the ways to lay each bar makes least. Between trails arm or blade are set. A recut is made when the arm
stands as it needs and its blanks are there.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, permutations
from typing import Final, NamedTuple

import attrs

from mitertool.base.totals import summed
from mitertool.nest.blanks import Arm
from mitertool.nest.few import Course, best_order
from mitertool.nest.lots import Pattern
from mitertool.nest.setups import SetUpPrices

_PASSES: Final = 4
_FEW: Final = 5
"""Trails of which every order is tried."""
_STARTS: Final = 12
_LOOKS: Final = 200_000
"""Trails looked at while they are put in order, from so many starts at most."""
_MOST: Final = 40
"""Bars above which their best order is not looked for."""
_LEFT: Final = 1e-6
"""Set-ups or money for going on to another section, so that it is not done where it saves nothing."""
_DIGITS: Final = 7
"""Decimals to which costs are compared."""
_BETTER: Final = 1e-9
"""Set-ups or money. What is saved by less is the rounding of a sum."""


class Arrow(NamedTuple):
    """A way to lay and set a bar: from where the arm stands at its first cut to its last, what it costs, the bar."""

    start: Arm
    end: Arm
    cost: float
    bar: Pattern


@attrs.frozen
class BarTask:
    """A bar to cut: the group that it belongs to and the arrows among which one is taken."""

    group: int
    arrows: tuple[Arrow, ...]


@attrs.frozen
class Need:
    """Blanks that wait for a recut: the numbers of the bars that hold them, and the settings that make it."""

    bars: frozenset[int]
    arms: tuple[Arm, ...]


class Picked(NamedTuple):
    """A task and the arrow that is taken of it."""

    task: int
    arrow: Arrow


Trail = list[Picked]


def in_order(
    tasks: Sequence[BarTask], needs: Sequence[Need], cost: SetUpPrices, hint: Sequence[Arm] = ()
) -> list[Picked]:
    """The bars in the order of work; `hint` is an order of settings that is meant."""
    trails = list(_trails([Picked(i, arrow) for i, arrow in enumerate(_balanced(tasks, cost, hint))], tasks, hint))
    found = [[taken for trail in order for taken in trail] for order in _orders(trails, tasks, cost)]
    return min([*_exact(tasks, cost), *found], key=lambda order: _whole_cost(order, needs, cost))


def _whole_cost(order: Sequence[Picked], needs: Sequence[Need], cost: SetUpPrices) -> float:
    own = summed(taken.arrow.cost for taken in order)
    return round(own + links(order, cost) + placed(order, needs, cost)[1], _DIGITS)


def _exact(tasks: Sequence[BarTask], cost: SetUpPrices) -> Iterator[list[Picked]]:
    """The best order of the bars by themselves, where they are few; a section is not left without need."""
    if len(tasks) > _MOST:
        return
    kinds: dict[tuple[int, tuple[Arrow, ...]], list[int]] = {}
    for i, task in enumerate(tasks):
        kinds.setdefault((task.group, task.arrows), []).append(i)
    stands = {(arm, group): 0 for group, arrows in kinds for arrow in arrows for arm in arrow[:2]}
    number = {one: i for i, one in enumerate(stands)}
    ways = [[Course(number[a.start, group], number[a.end, group], a.cost) for a in arrows] for group, arrows in kinds]
    between = [
        [change(one, other, cost) + _LEFT * (group != beside) for other, beside in stands] for one, group in stands
    ]
    found = best_order([len(of) for of in kinds.values()], ways, between)
    if found:
        waiting, arrows = [iter(of) for of in kinds.values()], [of for _, of in kinds]
        yield [Picked(next(waiting[kind]), arrows[kind][way]) for kind, way in found]


def change(one: Arm, other: Arm, cost: SetUpPrices) -> float:
    """What it costs to set the arm and the blade anew."""
    return cost.swing * (one[0] != other[0]) + cost.tilt * (one[1] != other[1])


def links(order: Sequence[Picked], cost: SetUpPrices) -> float:
    """What is set between bars."""
    return summed(change(one.arrow.end, two.arrow.start, cost) for one, two in pairwise(order))


def placed(order: Sequence[Picked], needs: Sequence[Need], cost: SetUpPrices) -> tuple[list[tuple[int, int]], float]:
    """How many bars are cut before each recut, with the number of its need, in the order of work; and what it costs.

    A recut costs nothing while the arm stands as it needs, else it waits until all bars are cut.
    """
    number = {taken.task: i for i, taken in enumerate(order)}
    stands: dict[Arm, list[int]] = defaultdict(list)
    for i, taken in enumerate(order):
        stands[taken.arrow.start].append(i)
        stands[taken.arrow.end].append(i + 1)
    found, later = [], []
    for need_number, need in enumerate(needs):
        ready = max(number[bar] for bar in need.bars) + 1
        at = min((i for arm in need.arms for i in stands.get(arm, ()) if i >= ready), default=None)
        if at is None:
            later.append(need_number)
        else:
            found.append((at, need_number))
    last, price = _at_the_end(later, needs, order[-1].arrow.end if order else None, cost)
    found.sort(key=lambda one: (one[0], not _stays(order, one[0], needs[one[1]]), one[1]))
    return [*found, *((len(order), i) for i in last)], price


def _stays(order: Sequence[Picked], at: int, need: Need) -> bool:
    """Whether the arm stands so after the bar before, not only for the next one."""
    return at > 0 and order[at - 1].arrow.end in need.arms


def _at_the_end(
    later: Sequence[int], needs: Sequence[Need], arm: Arm | None, cost: SetUpPrices
) -> tuple[list[int], float]:
    """Recuts that no bar leaves the arm for, those of one setting together, the setting of most first."""
    left, found, price = list(later), [], 0.0
    while left:
        counts = Counter(one for i in left for one in needs[i].arms)
        best = min(counts, key=lambda one: (-counts[one], one != arm, one))
        price += 0.0 if arm is None else change(arm, best, cost)
        found += [i for i in left if best in needs[i].arms]
        left = [i for i in left if best not in needs[i].arms]
        arm = best
    return found, price


def _balanced(tasks: Sequence[BarTask], cost: SetUpPrices, hint: Sequence[Arm]) -> list[Arrow]:
    """One arrow for each bar, so that they and the changes between their trails cost the least.

    It is begun with the settings of the hint, then with those that most bars can begin or end with.
    """
    meant = frozenset(hint)
    at = Counter(arm for task in tasks for arm in {arm for arrow in task.arrows for arm in arrow[:2]})

    def first(arrow: Arrow) -> tuple[float, int, int, Arm, Arm]:
        ends = arrow[:2]
        return arrow.cost, sum(arm not in meant for arm in ends), -sum(at[arm] for arm in ends), *ends

    chosen = [min(task.arrows, key=first) for task in tasks]
    ends: Counter[Arm] = Counter()
    for arrow in chosen:
        ends[arrow.start] += 1
        ends[arrow.end] -= 1
    for _ in range(_PASSES):
        better = False
        for i, task in enumerate(tasks):
            other = _better_arrow(task, chosen[i], ends, cost)
            if other is not None:
                _move(ends, chosen[i], other)
                chosen[i], better = other, True
        if not better:
            break
    return chosen


def _better_arrow(task: BarTask, stands: Arrow, ends: Counter[Arm], cost: SetUpPrices) -> Arrow | None:
    best, found = -_BETTER, None
    for other in task.arrows:
        if other is not stands:
            saved = other.cost - stands.cost + cost.swing * _more_trails(ends, stands, other)
            if saved < best:
                best, found = saved, other
    return found


def _move(ends: Counter[Arm], old: Arrow, new: Arrow) -> None:
    for arm, step in ((old.start, -1), (old.end, 1), (new.start, 1), (new.end, -1)):
        ends[arm] += step


def _more_trails(ends: Counter[Arm], old: Arrow, new: Arrow) -> int:
    """How many more trails begin where one arrow takes the place of another."""
    moved = Counter({old.start: 0, old.end: 0, new.start: 0, new.end: 0})
    _move(moved, old, new)
    return sum(max(0, ends[arm] + step) - max(0, ends[arm]) for arm, step in moved.items())


def _trails(chosen: Sequence[Picked], tasks: Sequence[BarTask], hint: Sequence[Arm]) -> Iterator[Trail]:
    """As few trails as hold all arrows, each begun where one must begin; bars alike follow each other."""
    leaving: dict[Arm, list[Picked]] = defaultdict(list)
    ends: Counter[Arm] = Counter()
    for taken in sorted(chosen, key=lambda one: (tasks[one.task].group, _key(one.arrow.bar), one.task), reverse=True):
        leaving[taken.arrow.start].append(taken)
        ends[taken.arrow.start] += 1
        ends[taken.arrow.end] -= 1
    place = {arm: i for i, arm in enumerate(hint)}
    arms = sorted(leaving, key=lambda arm: (place.get(arm, len(place)), abs(arm[0]), arm))
    trails = [_walk(arm, leaving) for arm in arms for _ in range(max(0, ends[arm]))]
    for arm in arms:
        while leaving[arm]:
            _joined(trails, _walk(arm, leaving), arm)
    yield from trails


def _key(bar: Pattern) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    return bar.stock, tuple((way.kind, way.before, way.after) for way in bar.walk)


def _walk(arm: Arm, leaving: dict[Arm, list[Picked]]) -> Trail:
    """On from a setting as long as a bar begins there; bars that keep it first."""
    trail: Trail = []
    while leaving[arm]:
        keeps = [i for i, one in enumerate(leaving[arm]) if one.arrow.end == arm]
        taken = leaving[arm].pop(keeps[-1] if keeps else -1)
        trail.append(taken)
        arm = taken.arrow.end
    return trail


def _joined(trails: list[Trail], closed: Trail, arm: Arm) -> None:
    """A walk that comes back to where it began, put into the first trail that comes by there; else one of its own."""
    for trail in trails:
        at = next((i for i, one in enumerate(trail) if one.arrow.start == arm), None)
        if at is None and trail and trail[-1].arrow.end == arm:
            at = len(trail)
        if at is not None:
            trail[at:at] = closed
            return
    trails.append(closed)


def _orders(trails: list[Trail], tasks: Sequence[BarTask], cost: SetUpPrices) -> Iterable[Sequence[Trail]]:
    yield trails
    if len(trails) <= _FEW:
        yield from permutations(trails)
        return
    starts = max(1, min(_STARTS, _LOOKS // (len(trails) ** 2), len(trails)))
    for first in range(0, len(trails), -(-len(trails) // starts)):
        yield _nearest(trails, first, tasks, cost)


def _nearest(trails: list[Trail], first: int, tasks: Sequence[BarTask], cost: SetUpPrices) -> list[Trail]:
    """From the first trail on always the one that takes the least to set, of the same section where one is."""
    left = [trail for i, trail in enumerate(trails) if i != first]
    order = [trails[first]]
    while left:
        here = order[-1][-1]
        group, end = tasks[here.task].group, here.arrow.end

        def dear(i: int, group: int = group, end: Arm = end) -> tuple[float, bool]:
            begins = left[i][0]
            return change(end, begins.arrow.start, cost), tasks[begins.task].group != group

        order.append(left.pop(min(range(len(left)), key=dear)))
    return order
