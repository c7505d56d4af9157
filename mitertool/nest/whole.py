"""All work of a job, from bars that are chosen to every cut in its order as it is set, and what it takes; knows order.

What is put together here is measured as it will be told: each plan that is weighed is a plan that can be cut.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import TypeVar

import attrs

from mitertool.bar import Allowance, Angles, Changes
from mitertool.bar.spacing import behind
from mitertool.base.totals import summed
from mitertool.nest import setups
from mitertool.nest.assemble import Loaded, Loader, Waiting, bar_of, counted_together, turn_of
from mitertool.nest.blanks import Arm, RecutWay, arm_of, is_parallel
from mitertool.nest.lie import alike_over, as_first_set
from mitertool.nest.lots import Lot, Pattern, on_bar
from mitertool.nest.measure import Measure, Work
from mitertool.nest.order import Arrow, BarTask, Need, Picked, in_order, placed
from mitertool.nest.plan import Bar, Group, Handling, Item, Recut
from mitertool.nest.setups import Laying, Settings
from mitertool.nest.turned import turned
from mitertool.quantity.compare import longer
from mitertool.sections import Section


@attrs.frozen(eq=False)
class Means:
    """What every plan of a job is made with: what the saw takes and makes, what is lifted, by what plans are best.

    `masses` is what the heaviest bar of each section weighs, kg.
    """

    allowance: Allowance
    settings: Settings
    handling: Handling
    measure: Measure
    masses: Mapping[str, float] = attrs.field(factory=dict)
    loader: Loader = attrs.Factory(lambda self: Loader(self.allowance), takes_self=True)
    _turns: dict[int, tuple[Loaded, Laying]] = attrs.field(factory=dict, init=False)

    def rolls(self, section: str) -> bool:
        """Whether every bar of a section, by its name, may be rolled between two cuts."""
        most = self.handling.roll_most
        return most is None or not longer(self.masses.get(section, 0.0), most)

    def mass(self, bar: Loaded) -> float:
        """What a bar weighs as it is bought, kg."""
        return _mass(bar.section, bar.length)

    def heavy(self, bar: Loaded) -> bool:
        """Whether a bar is too heavy to be rolled between two cuts."""
        return self.too_heavy(bar.section, bar.length)

    def too_heavy(self, section: Section, length: float) -> bool:
        """Whether so much of a section is."""
        most = self.handling.roll_most
        return most is not None and longer(_mass(section, length), most)

    def turn(self, bar: Loaded) -> Laying:
        """A bar as it is laid on the saw."""
        if id(bar) not in self._turns:
            laying = turn_of(bar, self.settings, self.allowance, alike_over(bar), self.heavy(bar))
            self._turns[id(bar)] = bar, laying
        return self._turns[id(bar)][1]


def _mass(section: Section, length: float) -> float:
    """kg."""
    return length / 1000 * section.nominal_mass_per_metre


@attrs.frozen(eq=False)
class Draft:
    """Bars for one lot, worked off in one `way`; `recuts` are the ways to recut the blanks of each mark."""

    lot: Lot
    bars: tuple[Pattern, ...]
    way: str
    recuts: dict[str, tuple[RecutWay, ...]] = attrs.field(factory=dict)
    order: tuple[Arm, ...] = ()

    @property
    def group(self) -> Group:
        """The section and the grade."""
        return self.lot.group

    @cached_property
    def slanted(self) -> bool:
        """Whether some of its pieces have two ends that are not parallel."""
        return any(item.recut or not is_parallel(item) for item in self.lot.items)


class Arrows:
    """The arrows of bars, each bar looked at once."""

    def __init__(self, shop: Means) -> None:
        self.shop = shop
        self._found: dict[tuple[int, Pattern], tuple[Arrow, ...]] = {}
        self._lots: list[Lot] = []

    def of(self, lot: Lot, bar: Pattern) -> tuple[Arrow, ...]:
        """Every way to lay and set a bar that no other beats from the same setting to the same."""
        key = id(lot), bar
        if key not in self._found:
            self._lots.append(lot)
            best: dict[tuple[Arm, Arm], Arrow] = {}
            variants = turned(lot, bar)
            for variant in variants:
                for arrow in self._set(lot, variant):
                    stands = best.get(arrow[:2])
                    if stands is None or arrow.cost < stands.cost - _SAME:
                        best[arrow[:2]] = arrow
            for variant in variants:
                self._found[id(lot), variant] = tuple(best.values())
        return self._found[key]

    def _set(self, lot: Lot, bar: Pattern) -> Iterator[Arrow]:
        turn = self.shop.turn(self._sample(lot, bar))
        cost = self.shop.measure.setups
        for first in turn.cuts[0]:
            totals = {first: cost.of(turn.laid_in(first))}
            for options in turn.cuts[1:]:
                totals = {
                    two: min(total + turn.step(one.changes(two), cost) for one, total in totals.items())
                    for two in options
                }
            for last, total in totals.items():
                yield Arrow(arm_of(first), arm_of(last), total, bar)

    def _sample(self, lot: Lot, bar: Pattern) -> Loaded:
        """A bar with the first mark of each kind on it."""
        members = [lot.kinds[way.kind].members[0] for way in bar.walk]
        return self.shop.loader.bar(lot.stock[bar.stock], members, bar.walk)


_SAME = 1e-9
"""Costs closer than this are one."""


@attrs.frozen(eq=False)
class Recutting:
    """Blanks of one mark to be recut: the blank, how many, the ways to lay them."""

    item: Item
    count: int
    ways: tuple[RecutWay, ...]

    @cached_property
    def arms(self) -> tuple[Arm, ...]:
        """The settings that make it."""
        return tuple(dict.fromkeys(way.arm for way in self.ways))

    @cached_property
    def turn(self) -> Laying:
        """A blank as it is laid; however it lies, that is no set-up."""
        return Laying((tuple(dict.fromkeys(way.angles for way in self.ways)),), None)


@attrs.frozen(eq=False)
class Whole:
    """All work in its order: bars and recuts, how each cut is set, and what it takes.

    `after` says of each recut how many bars are cut before it, `heavy` are the numbers of bars that are rolled between
    two cuts though they are too heavy.
    """

    shop: Means
    drafts: tuple[Draft, ...]
    bars: tuple[Loaded, ...]
    bar_settings: tuple[tuple[Angles, ...], ...]
    recuts: tuple[Recutting, ...]
    recut_settings: tuple[Angles, ...]
    after: tuple[int, ...]
    heavy: tuple[int, ...] = ()

    @cached_property
    def changes(self) -> Changes:
        """All set-ups."""
        return _all_changes(self.bar_settings, self.recut_settings, self.after)

    @cached_property
    def work(self) -> Work:
        """What it takes."""
        cuts = sum(len(settings) for settings in self.bar_settings)
        recuts = sum(one.count for one in self.recuts)
        return Work(
            summed(bar.price for bar in self.bars),
            summed(bar.length * bar.section.bars for bar in self.bars),
            *(self.changes.swings, self.changes.tilts, self.changes.rolls),
            *(len(self.bars), recuts, cuts + recuts),
            self._blade,
            len(self.heavy),
            summed(self._left(bar) for bar in self.bars),
        )

    def _left(self, bar: Loaded) -> float:
        """What is left of a bar over its whole section, the grip with it."""
        last = bar.laid[-1].piece
        return bar.length - last.end - behind(last.trail, last.section, self.shop.allowance.kerf)

    @cached_property
    def _blade(self) -> float | None:
        """Minutes of all cuts, where the shop gives its rates."""
        if self.shop.measure.rates is None:
            return None
        asks = self.shop.settings.arm.minutes
        found = [asks(bar.section, one) for bar, cuts in zip(self.bars, self.bar_settings, strict=True) for one in cuts]
        again = zip(self.recuts, self.recut_settings, strict=True)
        found += [asks(one.item.piece.section, angles) for one, angles in again for _ in range(one.count)]
        known = [minutes for minutes in found if minutes is not None]
        return summed(known) if len(known) == len(found) else None

    @cached_property
    def told(self) -> tuple[tuple[Bar, ...], tuple[Recut, ...]]:
        """The bars and the recuts of the plan."""
        pairs = zip(self.bars, self.bar_settings, strict=True)
        single = [bar_of(bar, settings, self.shop.allowance) for bar, settings in pairs]
        bars, after = counted_together(single, self.after)
        recuts = zip(self.recuts, self.recut_settings, after, strict=True)
        return bars, tuple(_recut(one, angles, at, self.shop.allowance) for one, angles, at in recuts)


def _recut(one: Recutting, angles: Angles, after: int, allowance: Allowance) -> Recut:
    way = next(way for way in one.ways if way.angles == angles)
    assert one.item.whole is not None
    whole = attrs.evolve(one.item, piece=one.item.whole, turn=(way.pose,))
    laid = on_bar(whole, way.pose, allowance)
    head = (one.item.mark, laid.section, one.item.grade, one.count, one.item.recut, way.pose, after)
    return Recut(*head, one.item.piece.centerline, laid.centerline, *laid.along_bottom, way.cut, angles)


def whole(drafts: Sequence[Draft], shop: Means, arrows: Arrows) -> Whole:
    """The best order that is found for bars of several lots, and their recuts."""
    tasks, owners = [], []
    for number, draft in enumerate(drafts):
        tasks += [BarTask(number, arrows.of(draft.lot, bar)) for bar in draft.bars]
        owners += [draft] * len(draft.bars)
    needs = list(_needs(drafts, tasks, owners))
    cost = shop.measure.setups
    hint = next((draft.order for draft in drafts if draft.order), ())
    order = in_order(tasks, [need for need, _ in needs], cost, hint)
    return in_this_order(drafts, order, owners, [one for _, one in needs], shop)


def _needs(
    drafts: Sequence[Draft], tasks: Sequence[BarTask], owners: Sequence[Draft]
) -> Iterator[tuple[Need, Recutting]]:
    """The recuts of every mark; its blanks are there when the last bar with such pieces is cut."""
    holding: dict[tuple[int, int], set[int]] = defaultdict(set)
    for i, (task, owner) in enumerate(zip(tasks, owners, strict=True)):
        for way in task.arrows[0].bar.walk:
            holding[id(owner), way.kind].add(i)
    for draft in drafts:
        for kind_number, kind in enumerate(draft.lot.kinds):
            bars = frozenset(holding[id(draft), kind_number])
            for member in kind.members:
                if member.item.recut and bars:
                    one = Recutting(member.item, member.item.quantity, draft.recuts[member.item.mark])
                    yield Need(bars, one.arms), one


def in_this_order(
    drafts: Sequence[Draft], order: Sequence[Picked], owners: Sequence[Draft], recuts: Sequence[Recutting], shop: Means
) -> Whole:
    """All work with the bars in this order: marks laid on them, recuts put between them, every cut set."""
    waiting = {id(draft): Waiting(draft.lot, shop.loader) for draft in drafts}
    bars = [waiting[id(owners[taken.task])].load(taken.arrow.bar) for taken in order]
    renumbered = [Picked(i, taken.arrow) for i, taken in enumerate(order)]
    holding = _holding(bars)
    needs = [Need(frozenset(holding[one.item.mark]), one.arms) for one in recuts]
    put, _ = placed(renumbered, needs, shop.measure.setups)
    return set_whole(drafts, bars, [recuts[i] for _, i in put], [at for at, _ in put], shop)


def _holding(bars: Sequence[Loaded]) -> dict[str, set[int]]:
    """The numbers of the bars that hold blanks of each mark."""
    found: dict[str, set[int]] = defaultdict(set)
    for i, bar in enumerate(bars):
        for one in bar.laid:
            if one.item.recut:
                found[one.item.mark].add(i)
    return found


def set_whole(
    drafts: Sequence[Draft], bars: Sequence[Loaded], recuts: Sequence[Recutting], after: Sequence[int], shop: Means
) -> Whole:
    """All work in a given order, every cut set as costs least over all of it."""
    turns = _merged([shop.turn(bar) for bar in bars], [one.turn for one in recuts], after)
    chosen = setups.choose(turns, shop.measure.setups)
    of_bars, of_recuts = _parted(chosen, len(bars), after)
    heavy = tuple(i for i, pair in enumerate(zip(bars, of_bars, strict=True)) if _rolled_though_heavy(shop, *pair))
    lying = [as_first_set(bar, ways, shop.allowance) for bar, ways in zip(bars, of_bars, strict=True)]
    return Whole(
        *(shop, tuple(drafts), tuple(bar for bar, _ in lying), tuple(tuple(ways) for _, ways in lying)),
        *(tuple(recuts), tuple(ways[0] for ways in of_recuts), tuple(after), heavy),
    )


def _rolled_though_heavy(shop: Means, bar: Loaded, settings: Sequence[Angles]) -> bool:
    return shop.heavy(bar) and any(one.changes(two).rolls for one, two in pairwise(settings))


T = TypeVar("T")


def _merged(bars: Sequence[T], recuts: Sequence[T], after: Sequence[int]) -> list[T]:
    """Bars and recuts in the order of work."""
    order, at = [], 0
    for number in range(len(bars) + 1):
        while at < len(recuts) and after[at] == number:
            order.append(recuts[at])
            at += 1
        if number < len(bars):
            order.append(bars[number])
    return order


def _parted(
    chosen: Sequence[list[Angles]], bars: int, after: Sequence[int]
) -> tuple[list[list[Angles]], list[list[Angles]]]:
    """What was chosen in the order of work, for bars and for recuts."""
    numbers = _merged([(True, i) for i in range(bars)], [(False, i) for i in range(len(after))], after)
    of_bars: list[list[Angles]] = []
    of_recuts: list[list[Angles]] = []
    for (is_bar, _), ways in zip(numbers, chosen, strict=True):
        (of_bars if is_bar else of_recuts).append(ways)
    return of_bars, of_recuts


def _all_changes(bars: Sequence[Sequence[Angles]], recuts: Sequence[Angles], after: Sequence[int]) -> Changes:
    """What is set over the whole order; how a bar is laid in belongs to it, and a blank is laid without a set-up."""
    total = Changes()
    for settings in bars:
        total = total.plus(setups.count(settings))
    order = _merged(list(bars), [[one] for one in recuts], after)
    for one, two in pairwise(order):
        total = total.plus(setups.between(one[-1], two[0]))
    return total
