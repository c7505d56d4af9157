"""The best plan of a small job over all ways, orders, poses and settings, found by looking at every state; knows whole.

A state is what is still to be cut, which blanks wait for their recut, where the arm stands and what bar is on the saw.
The cheapest state is looked at first, so the first in which nothing is left is the best plan. Of two ways to one state
the one that costs no less and has used no less of its bar is dropped, and so is what cannot end below a plan that is
known. It takes as many states as there are sets of pieces, so it is for some eight of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import count, product
from math import ceil
from typing import Final, NamedTuple

import attrs

from mitertool.bar import Angles, BarPiece
from mitertool.bar.spacing import behind, gap
from mitertool.nest.assemble import Loaded, laid_on
from mitertool.nest.blanks import Arm, BlankWay, BySetting, RecutWay, arm_of, blanked, is_parallel
from mitertool.nest.candidates import Group, group_of
from mitertool.nest.lie import may_lie_over
from mitertool.nest.lots import FULL, Frame, KindMember, Lot, frames, lay_of, on_bar
from mitertool.nest.measure import Work
from mitertool.nest.plan import BAR_BY_BAR, BY_SETTING, Item, Stock
from mitertool.nest.setups import odd_rolls
from mitertool.nest.still import Still
from mitertool.nest.whole import Draft, Means, Recutting, Whole, set_whole
from mitertool.piece.poses import OTHER_END, TURNED

PIECES: Final = 8
"""A job of more pieces is not small."""

_LOOKS: Final = 8_000
"""States looked at for an effort of 1, some seconds; a job that has more is left to the search."""

_TIES: Final = 600
"""States after which it is enough that nothing costs less: which of the plans that cost the same is not looked for."""

_DIGITS: Final = 7
"""Decimals to which costs are compared: sums in another order are one."""

Cost = tuple[float, float, float, float]
"""What is least first to last: money, nothing and ties; or steel, work and ties; then what is used of the bars, mm."""


class Option(NamedTuple):
    """How a cut is set: the number of the setting of arm and blade, and the roll of the bar."""

    arm: int
    roll: float


@attrs.frozen(eq=False)
class Form:
    """A piece, or its blank, as it may lie on a bar: both cuts and the ways to set them, its length, its lay.

    `over`: half a turn over it may lie too. Of a blank `recut` is the number of its kind among those that wait.
    """

    item: Item
    number: int
    piece: BarPiece
    own: BarPiece
    pose: str
    lay: float
    over: bool
    lead: tuple[Option, ...]
    trail: tuple[Option, ...]
    reach: float
    tail: float
    recut: int = -1


@attrs.frozen(eq=False)
class Waits:
    """Blanks of one mark with one end finished: the blank, the ways to recut it, and the settings that do."""

    item: Item
    ways: tuple[RecutWay, ...]
    arms: tuple[int, ...]


class OnSaw(NamedTuple):
    """The bar on the saw: its stock, the form whose trailing cut is next, its roll, whether a first roll is owed."""

    stock: int
    form: int
    roll: float
    owes: bool


class State(NamedTuple):
    """What is left of each item, how many blanks wait, what limited stock is taken, the arm, the bar on the saw."""

    left: tuple[int, ...]
    waits: tuple[int, ...]
    taken: tuple[int, ...]
    arm: int
    bar: OnSaw | None


class Label:
    """A way to a state: what it costs, how far its bar is used, what came before and what was done."""

    __slots__ = ("before", "cost", "done", "state", "used")

    def __init__(self, cost: Cost, used: float, state: State, before: Label | None, done: tuple[str, int]) -> None:
        self.cost, self.used, self.state, self.before, self.done = cost, used, state, before, done


@attrs.frozen(eq=False)
class Small:
    """A small job: its items, its stock, and with what plans are made; `ways` are those that each group may take."""

    items: tuple[Item, ...]
    stock: tuple[Stock, ...]
    shop: Means
    by_setting: BySetting | None
    ways: Mapping[Group, tuple[str, ...]]
    lots: tuple[Lot, ...]

    def run(self, known: Whole, effort: float) -> tuple[Whole, bool]:
        """The best plan, and whether it is proved; the known one where the states are more than can be looked at."""
        best, proved, looks = known, True, int(_LOOKS * effort)
        for chosen in product(*self.ways.values()):
            ways = dict(zip(self.ways, chosen, strict=True))
            search = _Search(self, ways, best, looks)
            found = search.run()
            looks, proved = looks - search.looks, proved and search.ended
            if found is not None and self.shop.measure.key(found.work) < self.shop.measure.key(best.work):
                best = found
        return best, proved


class _Search:
    """One choice of ways."""

    def __init__(self, small: Small, ways: Mapping[Group, str], known: Whole, looks: int) -> None:
        self.small, self.shop, self.ways, self.known = small, small.shop, ways, known
        self.most, self.looks, self.ended = looks, 0, False
        self.arms: dict[Arm, int] = {}
        self.forms: list[Form] = []
        self.waits: list[Waits] = []
        self.of_item: list[list[int]] = []
        self._prepare()
        self.costs = _Costs(self)
        self.limit = self.costs.of_work(known.work)
        self.gaps: dict[tuple[int, int], tuple[float, bool]] = {}

    # what there is

    def _prepare(self) -> None:
        by_group: dict[Group, list[Item]] = {}
        for item in self.small.items:
            by_group.setdefault(group_of(item), []).append(item)
        self.frames = {group: frames(items, self.shop.rolls(group[0])) for group, items in by_group.items()}
        self.stood = {group: self._stood(items) for group, items in by_group.items()}
        for number, item in enumerate(self.small.items):
            start = len(self.forms)
            self._add_forms(number, item)
            self.of_item.append(list(range(start, len(self.forms))))

    def _stood(self, items: Sequence[Item]) -> tuple[float, ...]:
        """The rolls that a square cut may keep."""
        found = [0.0]
        for item in items:
            frame = self._frame(item)
            roll = frame.rolls[lay_of(item)]
            found.append(roll)
            for pose in item.poses:
                own = on_bar(item, pose, self.shop.allowance)
                found += odd_rolls(self.shop.settings.made(cut, frame.section, roll) for cut in (own.lead, own.trail))
        return tuple(dict.fromkeys(found))

    def _frame(self, item: Item) -> Frame:
        return self.frames[group_of(item)][lay_of(item)]

    def _add_forms(self, number: int, item: Item) -> None:
        seen: set[tuple[object, ...]] = set()
        for part, pose, recut in self._blanks(item) if self._blank(item) else self._whole(item):
            form = self._form(number, part, pose, recut, item)
            key = (form.piece.lead.plane, form.piece.trail.plane, form.piece.centerline, form.over, form.recut)
            if key not in seen:
                seen.add(key)
                self.forms.append(form)

    def _blank(self, item: Item) -> bool:
        """Whether an item is cut as a blank."""
        by_setting = self.small.by_setting
        by_way = self.ways[group_of(item)] == BY_SETTING
        return by_way and by_setting is not None and item.mark in by_setting.ways

    def _whole(self, item: Item) -> Iterator[tuple[Item, str, int]]:
        return ((item, pose, -1) for pose in item.poses)

    def _blanks(self, item: Item) -> Iterator[tuple[Item, str, int]]:
        assert self.small.by_setting is not None
        ways = self.small.by_setting.ways[item.mark]
        for finished in dict.fromkeys(way.finished for way in ways):
            same = [way for way in ways if way.finished == finished]
            part = blanked(item, finished, [way.pose for way in same], self.shop.allowance.kerf)
            self.waits.append(self._waiting(part, same[0]))
            yield from ((part, way.pose, len(self.waits) - 1) for way in same)

    def _waiting(self, part: Item, way: BlankWay) -> Waits:
        arms = dict.fromkeys(self._arm(one.angles) for one in way.recuts)
        return Waits(part, way.recuts, tuple(arms))

    def _arm(self, angles: Angles) -> int:
        return self.arms.setdefault(arm_of(angles), len(self.arms))

    def _form(self, number: int, part: Item, pose: str, recut: int, item: Item) -> Form:
        frame = self._frame(item)
        section, roll = frame.section, frame.rolls[lay_of(item)]
        own = on_bar(part, pose, self.shop.allowance)
        piece = own.lying(section, roll)
        stood = self.stood[group_of(item)]
        lead, trail = (
            tuple(
                dict.fromkeys(
                    Option(self._arm(one), one.roll) for one in self.shop.settings.of(cut, section, roll, stood)
                )
            )
            for cut in (own.lead, own.trail)
        )
        reach = piece.lead.half_reach(section)
        tail = behind(piece.trail, section, self.shop.allowance.kerf)
        over = may_lie_over(part, pose, section)
        return Form(part, number, piece, own, pose, roll, over, lead, trail, reach, tail, recut)

    def still(self) -> Still:
        """What is still to be set, as its ends and blanks tell."""
        return Still(
            tuple(self._ends(number) for number in range(len(self.small.items))),
            tuple(frozenset(one.arms) for one in self.waits),
            tuple(not self._blank(item) and not is_parallel(item) for item in self.small.items),
            tuple(self._blank(item) for item in self.small.items),
        )

    def _ends(self, number: int) -> tuple[frozenset[int], ...]:
        """The settings that cut the left and the right end of an item, as drawn, in any of its forms."""
        found: dict[str, set[int]] = {"left": set(), "right": set()}
        for form in (self.forms[i] for i in self.of_item[number]):
            leads = self.shop.allowance.leads
            lead = OTHER_END[leads] if form.pose in TURNED else leads
            found[lead].update(option.arm for option in form.lead)
            if form.recut < 0:
                found[OTHER_END[lead]].update(option.arm for option in form.trail)
            else:
                found[form.item.recut].update(self.waits[form.recut].arms)
        return tuple(frozenset(arms) for arms in found.values())

    # the search

    def run(self) -> Whole | None:
        """The best plan of this choice; None where none is better than the known one or the looks are used up."""
        wanted = tuple(item.quantity for item in self.small.items)
        start = State(wanted, (0,) * len(self.waits), (0,) * len(self.small.stock), -1, None)
        self.reached: dict[State, list[tuple[Cost, float]]] = {}
        self.heap: list[tuple[Cost, int, Label]] = []
        self.number = count()
        self._push(Label(_FREE, 0.0, start, None, ("", 0)))
        while self.heap:
            least, _, label = heappop(self.heap)
            state = label.state
            if self.looks > _TIES and not _less_of(least, self.limit):
                break
            if state.bar is None and not any(state.left) and not any(state.waits):
                self.ended = True
                return self._told(label)
            if self._beaten(label):
                continue
            self.reached.setdefault(state, []).append((label.cost, label.used))
            self.looks += 1
            if self.looks > self.most:
                return None
            self._expand(label)
        self.ended = True
        return None

    def _push(self, label: Label) -> None:
        least = self.costs.at_least(label)
        if least < self.limit and not self._beaten(label):
            heappush(self.heap, (least, next(self.number), label))

    def _beaten(self, label: Label) -> bool:
        cost, used = label.cost, label.used + FULL
        return any(one <= cost and place <= used for one, place in self.reached.get(label.state, ()))

    def _expand(self, label: Label) -> None:
        if label.state.bar is None:
            self._recut(label)
            self._open(label)
        else:
            self._close(label, label.state.bar)
            self._on(label, label.state.bar)

    def _recut(self, label: Label) -> None:
        state = label.state
        for number, waiting in enumerate(state.waits):
            if waiting:
                waits = _less(state.waits, number)
                for arm in self.waits[number].arms:
                    cost = self.costs.plus(label.cost, arms=(state.arm, arm), recuts=1, cuts=1)
                    self._push(Label(cost, 0.0, state._replace(waits=waits, arm=arm), label, ("recut", number)))

    def _open(self, label: Label) -> None:
        allowance, state = self.shop.allowance, label.state
        for stock_number, stock in enumerate(self.small.stock):
            if stock.quantity is not None and state.taken[stock_number] >= stock.quantity:
                continue
            taken = state.taken
            if stock.quantity is not None:
                taken = (*taken[:stock_number], taken[stock_number] + 1, *taken[stock_number + 1 :])
            opened = self.costs.plus(label.cost, price=stock.price, loads=1)
            for form_number in self._forms_left(state, stock):
                form = self.forms[form_number]
                used = allowance.trim + form.reach + form.piece.centerline
                if used + form.tail > stock.length - allowance.grip + FULL:
                    continue
                after = self._laid(state._replace(taken=taken), form)
                for option in form.lead:
                    rolled = _apart(option.roll, form.lay)
                    owes = rolled and form.over and abs(abs(option.roll - form.lay) % 360 - 180) < _STILL
                    cost = self.costs.plus(opened, arms=(state.arm, option.arm), rolls=int(rolled and not owes), cuts=1)
                    bar = OnSaw(stock_number, form_number, option.roll, owes)
                    self._push(Label(cost, used, after._replace(arm=option.arm, bar=bar), label, ("open", form_number)))

    def _laid(self, state: State, form: Form) -> State:
        waits = state.waits
        if form.recut >= 0:
            waits = (*waits[: form.recut], waits[form.recut] + 1, *waits[form.recut + 1 :])
        return state._replace(left=_less(state.left, form.number), waits=waits)

    def _forms_left(self, state: State, stock: Stock) -> Iterator[int]:
        for number, left in enumerate(state.left):
            item = self.small.items[number]
            if left and (stock.section, stock.grade) == group_of(item):
                yield from self.of_item[number]

    def _close(self, label: Label, bar: OnSaw) -> None:
        for option in self.forms[bar.form].trail:
            rolls = int(_apart(option.roll, bar.roll))
            if rolls and self._heavy(bar):
                continue
            used = label.used + self.forms[bar.form].tail
            cost = self.costs.plus(label.cost, arms=(label.state.arm, option.arm), rolls=rolls, cuts=1, used=used)
            state = label.state._replace(arm=option.arm, bar=None)
            self._push(Label(cost, 0.0, state, label, ("close", bar.stock)))

    def _heavy(self, bar: OnSaw) -> bool:
        most = self.shop.handling.roll_most
        if most is None:
            return False
        section = self.forms[bar.form].piece.section
        return self.small.stock[bar.stock].length / 1000 * section.nominal_mass_per_metre > most

    def _on(self, label: Label, bar: OnSaw) -> None:
        """One more piece on the bar: the trailing cut before it, and its own leading one where they share none."""
        stock, state, last = self.small.stock[bar.stock], label.state, self.forms[bar.form]
        room = stock.length - self.shop.allowance.grip + FULL
        for number in self._forms_left(state, stock):
            form = self.forms[number]
            if form.piece.section is not last.piece.section:
                continue
            between, shared = self._between(bar.form, number)
            used = label.used + between + form.piece.centerline
            if used + form.tail > room:
                continue
            owed = int(bar.owes and not form.over)
            after = self._laid(state, form)
            for option, cost in self._set(label, bar, form, shared):
                owes = bar.owes and form.over
                paid = self.costs.plus(cost, rolls=owed)
                on_saw = OnSaw(bar.stock, number, option.roll, owes)
                self._push(Label(paid, used, after._replace(arm=option.arm, bar=on_saw), label, ("on", number)))

    def _set(self, label: Label, bar: OnSaw, form: Form, shared: bool) -> Iterator[tuple[Option, Cost]]:
        """How the bar and the arm may stand when the cuts up to the next piece are made, and what it costs so far."""
        heavy, last = self._heavy(bar), self.forms[bar.form]
        firsts = dict.fromkeys((*last.trail, *form.lead)) if shared else last.trail
        for first in firsts:
            rolls = int(_apart(first.roll, bar.roll))
            if rolls and heavy:
                continue
            cut = self.costs.plus(label.cost, arms=(label.state.arm, first.arm), rolls=rolls, cuts=1)
            if shared:
                yield first, cut
                continue
            for second in form.lead:
                again = int(_apart(second.roll, first.roll))
                if not (again and heavy):
                    yield second, self.costs.plus(cut, arms=(first.arm, second.arm), rolls=again, cuts=1)

    def _between(self, one: int, other: int) -> tuple[float, bool]:
        key = one, other
        if key not in self.gaps:
            a, b = self.forms[one].piece, self.forms[other].piece
            apart = gap(a.trail, b.lead, a.section, self.shop.allowance)
            self.gaps[key] = apart, a.trail.parallel(b.lead)
        return self.gaps[key]

    # what comes of it

    def _told(self, label: Label) -> Whole:
        steps: list[tuple[str, int]] = []
        at: Label | None = label
        while at is not None and at.before is not None:
            steps.append(at.done)
            at = at.before
        bars: list[Loaded] = []
        recuts: list[tuple[int, int]] = []
        forms: list[Form] = []
        for what, number in reversed(steps):
            if what in ("open", "on"):
                forms.append(self.forms[number])
            elif what == "close":
                bars.append(self._loaded(self.small.stock[number], forms))
                forms = []
            else:
                recuts.append((len(bars), number))
        drafts = [Draft(lot, (), self.ways[_group(lot)]) for lot in self.small.lots]
        together = _counted(recuts)
        again = [Recutting(self.waits[number].item, times, self.waits[number].ways) for _, number, times in together]
        return set_whole(drafts, bars, again, [after for after, _, _ in together], self.shop)

    def _loaded(self, stock: Stock, forms: Sequence[Form]) -> Loaded:
        members = [KindMember(form.item, {}) for form in forms]
        poses, owns = [form.pose for form in forms], [form.own for form in forms]
        return Loaded(stock.length, stock.price, tuple(laid_on(members, poses, owns, self.shop.allowance)))


def _less_of(one: Cost, other: Cost) -> bool:
    """Whether the one costs less but for the rounding of sums, ties left aside."""
    first, second = ((a - b) / max(1.0, abs(b)) for a, b in zip(one[:2], other[:2], strict=True))
    return first < -_SAME or (first <= _SAME and second < -_SAME)


_SAME: Final = 1e-8
"""Relative. Costs closer than this are one: a bound is told a billionth below what it is."""

_STILL: Final = 1e-6
"""degrees. A bar that turns by less is not rolled."""


def _apart(one: float, other: float) -> bool:
    return min((one - other) % 360, (other - one) % 360) > _STILL


def _less(counts: tuple[int, ...], number: int) -> tuple[int, ...]:
    return (*counts[:number], counts[number] - 1, *counts[number + 1 :])


def _group(lot: Lot) -> Group:
    return group_of(lot.kinds[0].members[0].item)


def _counted(recuts: Sequence[tuple[int, int]]) -> list[tuple[int, int, int]]:
    """Recuts of one kind one after another as one, with how many."""
    found: list[tuple[int, int, int]] = []
    for after, number in recuts:
        if found and found[-1][:2] == (after, number):
            found[-1] = (after, number, found[-1][2] + 1)
        else:
            found.append((after, number, 1))
    return found


class _Costs:
    """What steps cost, and what is left costs at the least."""

    def __init__(self, search: _Search) -> None:
        self.search, self.measure = search, search.shop.measure
        self.places = {number: arm for arm, number in search.arms.items()}
        rates = self.measure.rates
        self.per_minute = rates.per_hour / 60 if rates and self.measure.money else 1.0
        self.swing = rates.minutes(1, 0) if rates else 1.0
        self.tilt = rates.minutes(0, 0, 1) if rates else 1.0
        self.roll = rates.minutes(0, 1) if rates else 1.0
        self.load = rates.load_minutes if rates else 0.0
        self.recut = rates.recut_minutes if rates else 0.0
        self.weights = [self._weight(item) for item in search.small.items]
        self.rates_of_steel = self._cheapest()
        self.still = search.still()

    def _weight(self, item: Item) -> float:
        """What a piece takes of any bar at the least, mm."""
        first = next(form for form in self.search.forms if form.number == self._number(item))
        kerf = min(self.search.shop.allowance.kerf, first.piece.section.width, first.piece.section.height)
        lead, trail = first.piece.lead.kerf_along(kerf), first.piece.trail.kerf_along(kerf)
        return first.piece.centerline + (lead + trail) / 2

    def _number(self, item: Item) -> int:
        return next(i for i, one in enumerate(self.search.small.items) if one is item)

    def _cheapest(self) -> dict[Group, tuple[float, float, bool]]:
        """Of each group the least price of a mm, and of a whole bar; whether bars are bought whole of one length."""
        allowance = self.search.shop.allowance
        found: dict[Group, tuple[float, float, bool]] = {}
        for group in self.search.ways:
            of_group = [one for one in self.search.small.stock if (one.section, one.grade) == group]
            rooms = [(one.price, one.length - allowance.trim - allowance.grip) for one in of_group]
            best = min(price / room for price, room in rooms if room > 0)
            found[group] = best, max(room for _, room in rooms), len(rooms) == 1
        return found

    def plus(
        self,
        cost: Cost,
        price: float = 0.0,
        arms: tuple[int, int] | None = None,
        rolls: int = 0,
        loads: int = 0,
        recuts: int = 0,
        cuts: int = 0,
        used: float = 0.0,
    ) -> Cost:
        """A cost and one step more."""
        swings = tilts = 0
        if arms is not None and arms[0] >= 0 and arms[0] != arms[1]:
            one, other = self.places[arms[0]], self.places[arms[1]]
            swings, tilts = int(one[0] != other[0]), int(one[1] != other[1])
        work = swings * self.swing + tilts * self.tilt + rolls * self.roll + loads * self.load + recuts * self.recut
        ties = (swings + tilts + rolls) * _SET_UP + recuts * _RECUT + cuts + rolls * _ROLLED
        return self._sum(cost, price, work, ties, used)

    def _sum(self, cost: Cost, price: float, work: float, ties: float, used: float) -> Cost:
        last = cost[2] + ties, round(cost[3] + used, _DIGITS)
        if self.measure.money:
            return round(cost[0] + price + work * self.per_minute, _DIGITS), 0.0, *last
        return round(cost[0] + price, _DIGITS), round(cost[1] + work, _DIGITS), *last

    def of_work(self, work: Work) -> Cost:
        """What a plan that is known costs by the same count; all where a bar of it is too heavy to be rolled."""
        if work.heavy:
            return (float("inf"), 0.0, 0.0, 0.0)
        minutes = work.swings * self.swing + work.tilts * self.tilt + work.rolls * self.roll
        minutes += work.loads * self.load + work.recuts * self.recut
        ties = work.setups * _SET_UP + work.recuts * _RECUT + work.cuts + work.rolls * _ROLLED
        return self._sum(_FREE, work.cost, minutes, ties, work.steel - work.left)

    def at_least(self, label: Label) -> Cost:
        """What any plan costs that goes on from there."""
        state, search = label.state, self.search
        weights: dict[Group, float] = {}
        for number, left in enumerate(state.left):
            if left:
                group = group_of(search.small.items[number])
                weights[group] = weights.get(group, 0.0) + left * self.weights[number]
        used = label.used + sum(weights.values())
        if state.bar is not None:
            stock = search.small.stock[state.bar.stock]
            group = stock.section, stock.grade
            if group in weights:
                weights[group] -= stock.length - search.shop.allowance.grip - label.used
        short = {group: weight for group, weight in weights.items() if weight > FULL}
        steel = sum(self._steel(group, weight) for group, weight in short.items())
        loads = sum(ceil(weight / self.rates_of_steel[group][1] - FULL) for group, weight in short.items())
        arms, own = self.still.arm_changes(state.left, state.waits, state.arm), self.still.own_changes(state.left)
        recuts = self.still.recuts(state.left, state.waits)
        set_ups = max(arms * min(self.swing, self.tilt), own * min(self.swing, self.tilt, self.roll))
        cuts = sum(state.left) + recuts + (state.bar is not None) + loads
        ties = max(arms, own) * _SET_UP + recuts * _RECUT + cuts
        work = set_ups + recuts * self.recut + loads * self.load
        return self._sum(label.cost, steel * _UNDER, work * _UNDER, ties, used * _UNDER)

    def _steel(self, group: Group, weight: float) -> float:
        rate, room, whole = self.rates_of_steel[group]
        return rate * room * ceil(weight / room - FULL) if whole else rate * weight


_FREE: Final = (0.0, 0.0, 0.0, 0.0)
"""What nothing costs."""

_UNDER: Final = 1 - 1e-9
"""A bound is never told above what it is by the rounding of a sum."""

_SET_UP: Final = 1e6
_RECUT: Final = 1e3
_ROLLED: Final = 1e-3
"""What set-ups, recuts and rolls count for among plans that cost the same; a cut counts 1."""


def small_job(
    items: Sequence[Item],
    stock: Sequence[Stock],
    shop: Means,
    by_setting: BySetting | None,
    ways: Mapping[Group, tuple[str, ...]],
    lots: Sequence[Lot],
) -> Small | None:
    """The job where it has so few pieces that every state can be looked at."""
    if sum(item.quantity for item in items) > PIECES or not items:
        return None
    named = {group: tuple(way for way in (BAR_BY_BAR, BY_SETTING) if way in found) for group, found in ways.items()}
    bars = tuple(one for one in stock if (one.section, one.grade) in named)
    return Small(tuple(items), bars, shop, by_setting, named, tuple(lots))
