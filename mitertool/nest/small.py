"""The best plan of a small job over all ways, orders, poses and settings, found by looking at every state; knows whole.

A state is what is still to be cut, which blanks wait for their recut, where the arm stands and what bar is on the saw.
The cheapest state is looked at first, so the first in which nothing is left is the best plan. Of two ways to one state
the one that costs no less and has used no less of its bar is dropped, and so is what cannot end below a plan that is
known. A bar is rolled as late as it goes, and a blank recut as soon as the arm stands for it. It takes as many states
as there are sets of pieces, so it is for some eight of them, or for more of few kinds; of these, where many states cost
the same, the one with the fewest pieces left is looked at first, and ties are left as they are found.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import count, groupby
from math import prod
from typing import Final

import attrs

from mitertool.bar.spacing import gap
from mitertool.nest.assemble import Loaded, laid_on
from mitertool.nest.blanks import BySetting, way_of_parts
from mitertool.nest.lots import FULL, Lot
from mitertool.nest.plan import Group, Item, Stock
from mitertool.nest.small_costs import Costs
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import FREE, Cost, Form, Label, OnSaw, Option, State, apart
from mitertool.nest.whole import Draft, Means, Recutting, Whole, set_whole

PIECES: Final = 8
"""A job of more pieces is not small."""

_SETS: Final = 1000
"""Sets of pieces that may be left, up to which a job of more pieces is looked through: by far more take too long."""

_STEPS: Final = 50_000
"""Steps for an effort of 1, half a second; a job that takes more of them is left to the search."""

_TIES: Final = 600
"""States after which it is enough that nothing costs less: which of the plans that cost the same is not looked for."""


@attrs.frozen(eq=False)
class Small:
    """A small job: its items, its stock, and with what plans are made; `ways` is the one of each group.

    Where that is `MIXED` every piece may be a blank or none.
    """

    items: tuple[Item, ...]
    stock: tuple[Stock, ...]
    shop: Means
    by_setting: BySetting | None
    ways: Mapping[Group, str]
    lots: tuple[Lot, ...]

    def run(self, known: Whole, effort: float) -> tuple[Whole, bool]:
        """The best plan, and whether it is proved; the known one where it takes more steps than may be done."""
        search = _Search(self, known)
        found = search.run(int(_STEPS * effort))
        key = self.shop.measure.key
        return found if found is not None and key(found.work) < key(known.work) else known, search.ended


class _Search:
    """The states of a small job, and what is known of them."""

    def __init__(self, small: Small, known: Whole) -> None:
        self.small, self.shop = small, small.shop
        self.steps, self.looks, self.ended = 0, 0, False
        self.forms = Forms(small.items, small.shop, small.by_setting, small.ways)
        self.costs = Costs(small.stock, self.forms)
        self.limit = self.costs.of_plan(known)
        self.gaps: dict[tuple[int, int], tuple[float, bool]] = {}
        self.reached, self.known = _Best(), _Best()
        self.heap: list[tuple[tuple[float, ...], int, Cost, Label]] = []
        self.deep = not is_small(small.items)
        self.number = count()
        self._begin()

    # the search

    def _begin(self) -> None:
        wanted = tuple(item.quantity for item in self.small.items)
        start = State(wanted, (0,) * len(self.forms.waits), (0,) * len(self.small.stock), -1, None)
        self._push(Label(FREE, 0.0, start, None, ("", 0)))

    def run(self, steps: int) -> Whole | None:
        """The best plan in so many steps, None where none is better than the known one or found yet.

        It has `ended` where no more steps find a better one.
        """
        while self.heap and self.steps < steps:
            _, _, least, label = heappop(self.heap)
            state = label.state
            if not self._is_less(least):
                self.heap.clear()
            elif state.bar is None and not any(state.left) and not any(state.waits):
                self.ended = True
                return self._told(label)
            elif self.reached.add(label):
                self.looks += 1
                self._expand(label)
        self.ended = not self.heap
        return None

    def _push(self, label: Label) -> None:
        self.steps += 1
        if not self.known.add(label):
            return
        least = self.costs.at_least(label, self.limit)
        if self._is_less(least):
            rank = (*least[:2], sum(label.state.left)) if self.deep else least
            heappush(self.heap, (rank, next(self.number), least, label))

    def _is_less(self, least: Cost) -> bool:
        """Whether it is less than what is known; ties count in a job of few pieces while few states are looked at."""
        return least[:2] < self.limit[:2] if self.deep or self.looks > _TIES else least < self.limit

    def _expand(self, label: Label) -> None:
        if label.state.bar is None:
            if not self._recut(label):
                self._open(label)
        else:
            self._close(label, label.state.bar)
            self._on(label, label.state.bar)

    def _recut(self, label: Label) -> bool:
        """A second end; whether the arm stands for one as it is, which is then the best that can be done next."""
        state = label.state
        waiting = [number for number, count in enumerate(state.waits) if count]
        at_once = next((number for number in waiting if state.arm in self.forms.waits[number].arms), None)
        for number in waiting if at_once is None else [at_once]:
            waits = _less(state.waits, number)
            for arm in self.forms.waits[number].arms if at_once is None else [state.arm]:
                cost = self.costs.plus(label.cost, arms=(state.arm, arm), recuts=1, cuts=1)
                self._push(Label(cost, 0.0, state._replace(waits=waits, arm=arm), label, ("recut", number)))
        return at_once is not None

    def _open(self, label: Label) -> None:
        allowance, state = self.shop.allowance, label.state
        for stock_number, stock in enumerate(self.small.stock):
            if stock.quantity is not None and state.taken[stock_number] >= stock.quantity:
                continue
            taken = state.taken
            if stock.quantity is not None:
                taken = (*taken[:stock_number], taken[stock_number] + 1, *taken[stock_number + 1 :])
            opened = self.costs.plus(label.cost, price=self.costs.prices[stock_number], loads=1)
            for form_number in self._forms_left(state, stock):
                form = self.forms.all[form_number]
                used = allowance.trim + form.reach + form.piece.centerline
                if used + form.tail > stock.length - allowance.grip + FULL:
                    continue
                after = self._laid(state._replace(taken=taken), form)
                heavy = self._heavy(stock, form)
                for option in form.lead if heavy else _later(form.lead, form.lay, form.over):
                    rolled = apart(option.roll, form.lay)
                    owes = rolled and form.over and _half_round(option.roll, form.lay)
                    cost = self.costs.plus(opened, arms=(state.arm, option.arm), rolls=int(rolled and not owes), cuts=1)
                    bar = OnSaw(stock_number, self.forms.behind[form_number], option.roll, owes)
                    self._push(Label(cost, used, after._replace(arm=option.arm, bar=bar), label, ("open", form_number)))

    def _laid(self, state: State, form: Form) -> State:
        waits = state.waits
        if form.recut >= 0:
            waits = (*waits[: form.recut], waits[form.recut] + 1, *waits[form.recut + 1 :])
        return state._replace(left=_less(state.left, form.number), waits=waits)

    def _forms_left(self, state: State, stock: Stock) -> Iterator[int]:
        for number, left in enumerate(state.left):
            item = self.small.items[number]
            if left and stock.group == item.group:
                yield from self.forms.of_item[number]

    def _close(self, label: Label, bar: OnSaw) -> None:
        heavy = self._heavy_on(bar)
        for option in self._options(self.forms.all[bar.form].trail, bar.roll, heavy):
            rolls = int(apart(option.roll, bar.roll))
            used = label.used + self.forms.all[bar.form].tail
            cost = self.costs.plus(label.cost, arms=(label.state.arm, option.arm), rolls=rolls, cuts=1, used=used)
            state = label.state._replace(arm=option.arm, bar=None)
            self._push(Label(cost, 0.0, state, label, ("close", bar.stock)))

    def _heavy(self, stock: Stock, form: Form) -> bool:
        return self.shop.too_heavy(form.piece.section, stock.length)

    def _heavy_on(self, bar: OnSaw) -> bool:
        return self._heavy(self.small.stock[bar.stock], self.forms.all[bar.form])

    def _options(self, options: Sequence[Option], roll: float, heavy: bool) -> Sequence[Option]:
        """How a cut may be set on a bar that lies so."""
        return [one for one in options if not apart(one.roll, roll)] if heavy else _later(options, roll)

    def _on(self, label: Label, bar: OnSaw) -> None:
        """One more piece on the bar: the trailing cut before it, and its own leading one where they share none."""
        stock, state, last = self.small.stock[bar.stock], label.state, self.forms.all[bar.form]
        room = stock.length - self.shop.allowance.grip + FULL
        for number in self._forms_left(state, stock):
            form = self.forms.all[number]
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
                on_saw = OnSaw(bar.stock, self.forms.behind[number], option.roll, owes)
                self._push(Label(paid, used, after._replace(arm=option.arm, bar=on_saw), label, ("on", number)))

    def _set(self, label: Label, bar: OnSaw, form: Form, shared: bool) -> Iterator[tuple[Option, Cost]]:
        """How the bar and the arm may stand when the cuts up to the next piece are made, and what it costs so far."""
        heavy, last = self._heavy_on(bar), self.forms.all[bar.form]
        firsts = tuple(dict.fromkeys((*last.trail, *form.lead))) if shared else last.trail
        for first in self._options(firsts, bar.roll, heavy):
            rolls = int(apart(first.roll, bar.roll))
            cut = self.costs.plus(label.cost, arms=(label.state.arm, first.arm), rolls=rolls, cuts=1)
            if shared:
                yield first, cut
                continue
            for second in self._options(form.lead, first.roll, heavy):
                again = int(apart(second.roll, first.roll))
                yield second, self.costs.plus(cut, arms=(first.arm, second.arm), rolls=again, cuts=1)

    def _between(self, one: int, other: int) -> tuple[float, bool]:
        key = one, other
        if key not in self.gaps:
            a, b = self.forms.all[one].piece, self.forms.all[other].piece
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
        parts: dict[Group, list[Item]] = {}
        recuts: list[tuple[int, int]] = []
        forms: list[Form] = []
        for what, number in reversed(steps):
            if what in ("open", "on"):
                forms.append(self.forms.all[number])
                parts.setdefault(forms[-1].item.group, []).append(forms[-1].item)
            elif what == "close":
                bars.append(self._loaded(self.small.stock[number], forms))
                forms = []
            else:
                recuts.append((len(bars), number))
        drafts = [Draft(lot, (), way_of_parts(parts[lot.group])) for lot in self.small.lots]
        together = [(after, number, len(list(same))) for (after, number), same in groupby(recuts)]
        blanks = [(self.forms.waits[number], times) for _, number, times in together]
        again = [Recutting(waits.item, times, waits.ways) for waits, times in blanks]
        return set_whole(drafts, bars, again, [after for after, _, _ in together], self.shop)

    def _loaded(self, stock: Stock, forms: Sequence[Form]) -> Loaded:
        items, poses, owns = ([getattr(form, what) for form in forms] for what in ("item", "pose", "own"))
        return Loaded(stock.length, stock.price, tuple(laid_on(items, poses, owns, self.shop.allowance)))


class _Best:
    """Of each state the ways to it that none beats: none costs no more and has used no more of its bar."""

    def __init__(self) -> None:
        self.of: dict[State, list[tuple[Cost, float]]] = {}

    def add(self, label: Label) -> bool:
        """Whether a way is beaten by none that was added before; it stands with them then."""
        ways = self.of.setdefault(label.state, [])
        cost, used = label.cost, label.used
        for one, place in ways:
            if one <= cost and place <= used + FULL:
                return False
        ways.append((cost, used))
        return True


def _half_round(one: float, other: float) -> bool:
    return not apart(one, other + 180)


def _later(options: Sequence[Option], roll: float, over: bool = False) -> Sequence[Option]:
    """Options of a cut but those that roll the bar with an arm for which it may lie on: it is rolled later as well.

    With `over` half a turn is none, so it stays.
    """
    still = {one.arm for one in options if not apart(one.roll, roll)}

    def needed(one: Option) -> bool:
        return one.arm not in still or not apart(one.roll, roll) or (over and _half_round(one.roll, roll))

    return [one for one in options if needed(one)]


def _less(counts: tuple[int, ...], number: int) -> tuple[int, ...]:
    return (*counts[:number], counts[number] - 1, *counts[number + 1 :])


def is_small(items: Sequence[Item]) -> bool:
    """Whether a job has so few pieces that every state is looked at."""
    return 0 < sum(item.quantity for item in items) <= PIECES


def has_few_states(items: Sequence[Item]) -> bool:
    """Whether it has few sets of pieces that may be left, though more pieces."""
    return bool(items) and prod(item.quantity + 1 for item in items) <= _SETS


def small_job(
    items: Sequence[Item],
    stock: Sequence[Stock],
    shop: Means,
    by_setting: BySetting | None,
    ways: Mapping[Group, str],
    lots: Sequence[Lot],
) -> Small:
    """The job as it is looked through."""
    bars = tuple(one for one in stock if one.group in ways)
    return Small(tuple(items), bars, shop, by_setting, ways, tuple(lots))
