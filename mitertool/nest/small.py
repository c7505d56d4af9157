"""The best plan of a small job over all ways, orders, poses and settings, found by looking at every state; knows whole.

A state is what is still to be cut, which blanks wait for their recut, where the arm stands and what bar is on the saw.
The cheapest state is looked at first, so the first in which nothing is left is the best plan of a small job. Of two
ways to one state the one that costs no less and has used no less of its bar is dropped, and so is what cannot end below
a plan that is known. A bar is rolled as late as it goes, and a blank recut as soon as the arm stands for it; what that
costs counts when the blank is parted, so blanks that the same settings recut are one, however many wait. A bar that
looks the same half a turn over is laid one way only: the other has the same pieces in other poses. It takes as many
states as there are sets of pieces, so it is for some eight of them, or for more of few kinds; of these a state with
fewer pieces left is looked at before one that may cost a little less, until none is left that may cost less than the
best plan found, and ties are left as they are found.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from itertools import count, groupby
from math import prod
from typing import Final

import attrs

from mitertool.nest.assemble import Loaded, laid_on
from mitertool.nest.blanks import BySetting, way_of_parts
from mitertool.nest.lots import FULL, Lot
from mitertool.nest.plan import Group, Item, Stock
from mitertool.nest.small_costs import Costs, added
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_moves import Moves, PutOn
from mitertool.nest.small_states import FREE, Cost, Form, Label, OnSaw, State
from mitertool.nest.whole import Draft, Means, Recutting, Whole, set_whole

PIECES: Final = 8
"""A job of more pieces is not small."""

_STEPS: Final = 50_000
"""Steps for an effort of 1, a third of a second; a job that takes more of them is left to the search."""

_EACH_LEFT: Final = 0.25
"""Swings that each piece that is left takes beside what is known of it, while the next state to look at is chosen: the
bound tells less of what is far from its end. So a better plan is found before all states that may cost less are looked
at; with none, or with a whole swing, later in most jobs of ten to twenty pieces."""

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
        self.moves = Moves(small.stock, small.shop, self.forms, self.costs)
        self.deep = not is_small(small.items)
        self.reached, self.known = _Best(self.deep), _Best(self.deep)
        self.heap: list[tuple[tuple[float, ...], int, Cost, Label]] = []
        self.number = count()
        self.best: Label | None = None
        self._begin()

    # the search

    def _begin(self) -> None:
        wanted = tuple(item.quantity for item in self.small.items)
        start = State(wanted, 0, (0,) * len(self.small.stock), -1, None)
        self._push(Label(FREE, 0.0, start, None, ("", 0)))

    def run(self, steps: int) -> Whole | None:
        """The best plan that so many steps find, None where none is better than the known one.

        It has `ended` where no more steps find a better one.
        """
        while self.heap and self.steps < steps:
            _, _, least, label = heappop(self.heap)
            state = label.state
            if not self._is_less(least):
                continue
            if state.bar is None and not any(state.left) and not state.waits:
                self.best, self.limit = label, label.cost
            elif self.reached.add(label):
                self.looks += 1
                self._expand(label)
        self.ended = not self.heap
        return self._told(self.best) if self.best else None

    def _push(self, label: Label) -> None:
        self.steps += 1
        if not self.known.add(label):
            return
        least = self.costs.at_least(label, self.limit)
        if self._is_less(least):
            heappush(self.heap, (self._rank(least, sum(label.state.left)), next(self.number), least, label))

    def _rank(self, least: Cost, left: int) -> tuple[float, ...]:
        """What is looked at first: what costs least, where a job has more pieces than few with what is left of them."""
        if not self.deep:
            return least
        more = left * self.costs.units.swing * _EACH_LEFT
        return (least[0] + more, left) if self.shop.measure.money else (least[0], least[1] + more, left)

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
        """Second ends; whether the arm stands for some as it is, which is then the best that can be done next."""
        state, recut_by = label.state, self.forms.recut_by
        at_once = bool(state.waits & recut_by.get(state.arm, 0))
        for arm in [state.arm] if at_once else recut_by:
            if state.waits & recut_by[arm]:
                cost = self.costs.plus(label.cost, arms=(state.arm, arm))
                after = state._replace(waits=state.waits & ~recut_by[arm], arm=arm)
                self._push(Label(cost, 0.0, after, label, ("recut", arm)))
        return at_once

    def _open(self, label: Label) -> None:
        state = label.state
        for number, stock in enumerate(self.small.stock):
            taken = state.taken
            if stock.quantity is not None:
                if taken[number] >= stock.quantity:
                    continue
                taken = (*taken[:number], taken[number] + 1, *taken[number + 1 :])
            for form, left in self._forms_left(state, stock):
                self._lay(label, ("open", form), (number, left, taken), self.moves.first(number, state.arm, form))

    def _close(self, label: Label, bar: OnSaw) -> None:
        used = label.used + self.forms.all[bar.form].tail
        for move in self.moves.last(bar, label.state.arm):
            state = label.state._replace(arm=move.arm, bar=None)
            self._push(Label(added(label.cost, move.cost, used), 0.0, state, label, ("close", bar.stock)))

    def _on(self, label: Label, bar: OnSaw) -> None:
        """One more piece on the bar."""
        state = label.state
        for form, left in self._forms_left(state, self.small.stock[bar.stock]):
            laid = self.moves.next(bar, state.arm, form)
            self._lay(label, ("on", form), (bar.stock, left, state.taken), laid)

    def _forms_left(self, state: State, stock: Stock) -> Iterator[tuple[int, tuple[int, ...]]]:
        """The forms of pieces for a stock, with what is left of all items when one is laid."""
        for item, of_item in enumerate(self.forms.of_item):
            if state.left[item] and stock.group == self.small.items[item].group:
                left = (*state.left[:item], state.left[item] - 1, *state.left[item + 1 :])
                yield from ((form, left) for form in of_item)

    def _lay(
        self, label: Label, done: tuple[str, int], bar: tuple[int, tuple[int, ...], tuple[int, ...]], laid: PutOn
    ) -> None:
        """A form put on a bar, told by its stock, by what is then left of all items and by what is taken of stock."""
        stock, left, taken = bar
        used = label.used + laid.takes
        if used + laid.tail > self.moves.room[stock]:
            return
        waits = label.state.waits | self.forms.all[done[1]].waits
        for on_saw, arm, cost in laid.moves:
            state = State(left, waits, taken, arm, on_saw)
            self._push(Label(added(label.cost, cost), used, state, label, done))

    # what comes of it

    def _told(self, label: Label) -> Whole:
        steps: list[tuple[str, int]] = []
        at: Label | None = label
        while at is not None and at.before is not None:
            steps.append(at.done)
            at = at.before
        bars: list[Loaded] = []
        parts: dict[Group, list[Item]] = {}
        waiting: list[int] = []
        recuts: list[tuple[int, int]] = []
        forms: list[Form] = []
        for what, number in reversed(steps):
            if what in ("open", "on"):
                forms.append(self.forms.all[number])
                parts.setdefault(forms[-1].item.group, []).append(forms[-1].item)
                waiting += [forms[-1].recut] if forms[-1].waits else []
            elif what == "close":
                bars.append(self._loaded(self.small.stock[number], forms))
                forms = []
            else:
                now = [one for one in waiting if number in self.forms.waits[one].arms]
                recuts += [(len(bars), one) for one in sorted(now)]
                waiting = [one for one in waiting if one not in now]
        drafts = [Draft(lot, (), way_of_parts(parts[lot.group])) for lot in self.small.lots]
        together = [(after, number, len(list(same))) for (after, number), same in groupby(recuts)]
        blanks = [(self.forms.waits[number], times) for _, number, times in together]
        again = [Recutting(waits.item, times, waits.ways) for waits, times in blanks]
        return set_whole(drafts, bars, again, [after for after, _, _ in together], self.shop)

    def _loaded(self, stock: Stock, forms: Sequence[Form]) -> Loaded:
        items, poses, owns = ([getattr(form, what) for form in forms] for what in ("item", "pose", "own"))
        return Loaded(stock.length, stock.price, tuple(laid_on(items, poses, owns, self.shop.allowance)))


class _Best:
    """Of each state the ways to it that none beats: none costs no more, has used no more of its bar and has no sort of
    blanks waiting that it has not. In a `deep` search ties count for nothing."""

    def __init__(self, deep: bool) -> None:
        self.of: dict[State, list[tuple[tuple[float, ...], float, int]]] = {}
        self.deep = deep

    def add(self, label: Label) -> bool:
        """Whether a way is beaten by none that was added before; it stands with them then."""
        waits = label.state.waits
        ways = self.of.setdefault(label.state._replace(waits=0), [])
        cost, used = label.cost[:2] if self.deep else label.cost, label.used
        for one, place, others in ways:
            if one <= cost and place <= used + FULL and not others & ~waits:
                return False
        ways.append((cost, used, waits))
        return True


def is_small(items: Sequence[Item]) -> bool:
    """Whether a job has so few pieces that every state is looked at."""
    return 0 < sum(item.quantity for item in items) <= PIECES


def has_few_states(items: Sequence[Item]) -> bool:
    """Whether it has no more sets of pieces that may be left than steps are done, though more pieces."""
    return bool(items) and prod(item.quantity + 1 for item in items) <= _STEPS


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
