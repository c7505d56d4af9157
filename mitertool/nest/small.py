"""The best plan of a small job over all ways, orders, poses and settings, found by looking at every state; knows whole.

A state is what is still to be cut, which blanks wait for their recut, where the arm stands and what bar is on the saw.
The cheapest state is looked at first, so the first in which nothing is left is the best plan. Of two ways to one state
the one that costs no less and has used no less of its bar is dropped, and so is what cannot end below a plan that is
known. It takes as many states as there are sets of pieces, so it is for some eight of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import count, groupby, product
from typing import Final

import attrs

from mitertool.bar.spacing import gap
from mitertool.nest.assemble import Loaded, laid_on
from mitertool.nest.blanks import BySetting
from mitertool.nest.lots import FULL, Lot
from mitertool.nest.plan import BAR_BY_BAR, BY_SETTING, Group, Item, Stock
from mitertool.nest.small_costs import Costs
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import FREE, Cost, Form, Label, OnSaw, Option, State
from mitertool.nest.whole import Draft, Means, Recutting, Whole, set_whole

PIECES: Final = 8
"""A job of more pieces is not small."""

_LOOKS: Final = 8_000
"""States looked at for an effort of 1, some seconds; a job that has more is left to the search."""

_TIES: Final = 600
"""States after which it is enough that nothing costs less: which of the plans that cost the same is not looked for."""


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
        self.small, self.shop, self.ways = small, small.shop, ways
        self.most, self.looks, self.ended = looks, 0, False
        self.forms = Forms(small.items, small.shop, small.by_setting, ways)
        self.costs = Costs(small.stock, self.forms)
        self.limit = self.costs.of_work(known.work)
        self.gaps: dict[tuple[int, int], tuple[float, bool]] = {}

    # the search

    def run(self) -> Whole | None:
        """The best plan of this choice; None where none is better than the known one or the looks are used up."""
        wanted = tuple(item.quantity for item in self.small.items)
        start = State(wanted, (0,) * len(self.forms.waits), (0,) * len(self.small.stock), -1, None)
        self.reached: dict[State, list[tuple[Cost, float]]] = {}
        self.heap: list[tuple[Cost, int, Label]] = []
        self.number = count()
        self._push(Label(FREE, 0.0, start, None, ("", 0)))
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
                for arm in self.forms.waits[number].arms:
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
                form = self.forms.all[form_number]
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
            if left and stock.group == item.group:
                yield from self.forms.of_item[number]

    def _close(self, label: Label, bar: OnSaw) -> None:
        for option in self.forms.all[bar.form].trail:
            rolls = int(_apart(option.roll, bar.roll))
            if rolls and self._heavy(bar):
                continue
            used = label.used + self.forms.all[bar.form].tail
            cost = self.costs.plus(label.cost, arms=(label.state.arm, option.arm), rolls=rolls, cuts=1, used=used)
            state = label.state._replace(arm=option.arm, bar=None)
            self._push(Label(cost, 0.0, state, label, ("close", bar.stock)))

    def _heavy(self, bar: OnSaw) -> bool:
        return self.shop.too_heavy(self.forms.all[bar.form].piece.section, self.small.stock[bar.stock].length)

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
                on_saw = OnSaw(bar.stock, number, option.roll, owes)
                self._push(Label(paid, used, after._replace(arm=option.arm, bar=on_saw), label, ("on", number)))

    def _set(self, label: Label, bar: OnSaw, form: Form, shared: bool) -> Iterator[tuple[Option, Cost]]:
        """How the bar and the arm may stand when the cuts up to the next piece are made, and what it costs so far."""
        heavy, last = self._heavy(bar), self.forms.all[bar.form]
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
        recuts: list[tuple[int, int]] = []
        forms: list[Form] = []
        for what, number in reversed(steps):
            if what in ("open", "on"):
                forms.append(self.forms.all[number])
            elif what == "close":
                bars.append(self._loaded(self.small.stock[number], forms))
                forms = []
            else:
                recuts.append((len(bars), number))
        drafts = [Draft(lot, (), self.ways[lot.group]) for lot in self.small.lots]
        together = [(after, number, len(list(same))) for (after, number), same in groupby(recuts)]
        blanks = [(self.forms.waits[number], times) for _, number, times in together]
        again = [Recutting(waits.item, times, waits.ways) for waits, times in blanks]
        return set_whole(drafts, bars, again, [after for after, _, _ in together], self.shop)

    def _loaded(self, stock: Stock, forms: Sequence[Form]) -> Loaded:
        items, poses, owns = ([getattr(form, what) for form in forms] for what in ("item", "pose", "own"))
        return Loaded(stock.length, stock.price, tuple(laid_on(items, poses, owns, self.shop.allowance)))


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
    bars = tuple(one for one in stock if one.group in named)
    return Small(tuple(items), bars, shop, by_setting, named, tuple(lots))
