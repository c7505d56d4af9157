"""What may be done next in a small job with the bar on the saw, or with a fresh one, and what it costs; knows forms.

It depends on how bar and arm stand and on what comes next, not on all that was done before, so each is asked once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import NamedTuple

from mitertool.bar.spacing import gap
from mitertool.nest.lots import FULL
from mitertool.nest.plan import Stock
from mitertool.nest.small_costs import Costs
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import FREE, Cost, Form, OnSaw, Option, apart
from mitertool.nest.whole import Means


class SawMove(NamedTuple):
    """How the bar and the arm stand when it is done (bar None: the bar is done too), and what it costs."""

    bar: OnSaw | None
    arm: int
    cost: Cost


class PutOn(NamedTuple):
    """A piece put on a bar: what it takes of it (mm), what its end takes behind it, the ways to do it."""

    takes: float
    tail: float
    moves: tuple[SawMove, ...]


_NOWHERE = PutOn(inf, 0.0, ())


class Moves:
    """The moves of a job with some stock, each asked once."""

    def __init__(self, stock: Sequence[Stock], shop: Means, forms: Forms, costs: Costs) -> None:
        self.stock, self.shop, self.forms, self.costs = stock, shop, forms, costs
        self.room = [one.length - shop.allowance.grip + FULL for one in stock]
        self._first: dict[tuple[int, int, int], PutOn] = {}
        self._next: dict[tuple[OnSaw, int, int], PutOn] = {}
        self._last: dict[tuple[OnSaw, int], tuple[SawMove, ...]] = {}

    def first(self, stock: int, arm: int, number: int) -> PutOn:
        """A form as the first on a fresh bar."""
        key = stock, arm, number
        if key not in self._first:
            form = self.forms.all[number]
            takes = self.shop.allowance.trim + form.reach + form.piece.centerline
            self._first[key] = PutOn(takes, form.tail, tuple(self._opening(stock, arm, number)))
        return self._first[key]

    def next(self, bar: OnSaw, arm: int, number: int) -> PutOn:
        """A form behind those on the bar: the trailing cut before it, and its own leading one where they share none."""
        key = bar, arm, number
        if key not in self._next:
            self._next[key] = self._behind(bar, arm, number)
        return self._next[key]

    def last(self, bar: OnSaw, arm: int) -> tuple[SawMove, ...]:
        """The trailing cut of the last piece of a bar."""
        key = bar, arm
        if key not in self._last:
            ways = self._options(self.forms.all[bar.form].trail, bar.roll, self._heavy_on(bar))
            self._last[key] = tuple(SawMove(None, one.arm, self._cut(FREE, Option(arm, bar.roll), one)) for one in ways)
        return self._last[key]

    def _opening(self, stock: int, arm: int, number: int) -> Iterator[SawMove]:
        """The first cut of a bar; it is not set half a turn over where other forms of its pieces lie so."""
        form, one = self.forms.all[number], self.stock[stock]
        opened = self._and_recut(self.costs.plus(FREE, price=self.costs.prices[stock], loads=1), form)
        over = form.over and one.group not in self.forms.twinned
        for option in form.lead if self._heavy(one, form) else later(form.lead, form.lay, over):
            half = form.over and _half_round(option.roll, form.lay)
            if over or not half:
                stands = Option(arm, option.roll if half else form.lay)
                bar = OnSaw(stock, self.forms.behind[number], option.roll, half)
                yield SawMove(bar, option.arm, self._cut(opened, stands, option))

    def _behind(self, bar: OnSaw, arm: int, number: int) -> PutOn:
        last, form = self.forms.all[bar.form], self.forms.all[number]
        if form.piece.section is not last.piece.section:
            return _NOWHERE
        between = gap(last.piece.trail, form.piece.lead, last.piece.section, self.shop.allowance)
        more = self._and_recut(self.costs.plus(FREE, rolls=int(bar.owes and not form.over)), form)
        owes, behind = bar.owes and form.over, self.forms.behind[number]
        ways = self._set(bar, arm, form, more)
        moves = (SawMove(OnSaw(bar.stock, behind, one.roll, owes), one.arm, cost) for one, cost in ways)
        return PutOn(between + form.piece.centerline, form.tail, tuple(moves))

    def _set(self, bar: OnSaw, arm: int, form: Form, cost: Cost) -> Iterator[tuple[Option, Cost]]:
        """How the bar and the arm may stand when the cuts up to the next piece are made, and the cost with these."""
        heavy, last, stands = self._heavy_on(bar), self.forms.all[bar.form], Option(arm, bar.roll)
        if last.piece.trail.parallel(form.piece.lead):
            shared = tuple(dict.fromkeys((*last.trail, *form.lead)))
            yield from ((one, self._cut(cost, stands, one)) for one in self._options(shared, bar.roll, heavy))
            return
        for one in self._options(last.trail, bar.roll, heavy):
            cut = self._cut(cost, stands, one)
            yield from ((two, self._cut(cut, one, two)) for two in self._options(form.lead, one.roll, heavy))

    def _cut(self, cost: Cost, stands: Option, option: Option) -> Cost:
        """A cost and that of a cut, from how the arm and the bar stand."""
        rolls = int(apart(option.roll, stands.roll))
        return self.costs.plus(cost, arms=(stands.arm, option.arm), rolls=rolls, cuts=1)

    def _and_recut(self, cost: Cost, form: Form) -> Cost:
        """A cost with that of the second end of a blank, which comes at some time."""
        return self.costs.plus(cost, recuts=1, cuts=1) if form.waits else cost

    def _heavy(self, stock: Stock, form: Form) -> bool:
        return self.shop.too_heavy(form.piece.section, stock.length)

    def _heavy_on(self, bar: OnSaw) -> bool:
        return self._heavy(self.stock[bar.stock], self.forms.all[bar.form])

    def _options(self, options: Sequence[Option], roll: float, heavy: bool) -> Sequence[Option]:
        """How a cut may be set on a bar that lies so."""
        return [one for one in options if not apart(one.roll, roll)] if heavy else later(options, roll)


def later(options: Sequence[Option], roll: float, over: bool = False) -> Sequence[Option]:
    """Options of a cut but those that roll the bar with an arm for which it may lie on: it is rolled later as well.

    With `over` half a turn is none, so it stays.
    """
    still = {one.arm for one in options if not apart(one.roll, roll)}

    def needed(one: Option) -> bool:
        return one.arm not in still or not apart(one.roll, roll) or (over and _half_round(one.roll, roll))

    return [one for one in options if needed(one)]


def _half_round(one: float, other: float) -> bool:
    return not apart(one, other + 180)
