"""Bars for all pieces: the least steel and the fewest set-ups, with what no plan can beat; knows all of nest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from math import isfinite

import attrs

from mitertool.bar import Allowance, BarPiece
from mitertool.bar.spacing import before, behind
from mitertool.base.errors import BadInput, CannotMake
from mitertool.base.totals import summed
from mitertool.nest import setups
from mitertool.nest.candidates import Offered, as_they_stand, offered
from mitertool.nest.choice import Weighing
from mitertool.nest.claim import PlanClaim, plan_of
from mitertool.nest.done import Done, remaining
from mitertool.nest.fitting import within, without_the_rest
from mitertool.nest.greedy import Found
from mitertool.nest.lots import Lot, lots, on_bar
from mitertool.nest.measure import measured
from mitertool.nest.plan import ANY_ARM, INTERRUPTED, LIFTS_ALL, Handling, Item, Makes, Plan, Rates, Stock
from mitertool.nest.search import Search
from mitertool.nest.small import has_few_states, is_small, small_job
from mitertool.nest.whole import Means, Whole
from mitertool.nest.work import Clock, Effort, Goal, Progress, Telling
from mitertool.quantity.compare import longer
from mitertool.quantity.problem import Problem, Remark, counts, lengths, masses, names
from mitertool.quantity.problem_words import problem_says
from mitertool.words import phrase


class NoBars(CannotMake):
    """Pieces for which there is no bar.

    Attributes: `problems`, one a mark; `reasons` has their sentences in mm; `plan` puts the others on bars.
    """

    def __init__(self, problems: Sequence[Problem], plan: Plan) -> None:
        self.problems, self.plan = tuple(problems), plan
        super().__init__([problem_says(problem, "mm") for problem in problems])


@attrs.frozen
class Terms:
    """How a plan is looked for. `effort` 1 is meant for a person who waits; `time_limit` is in seconds.

    `way` fixes one of `WAYS` (None: the best of all), `handling` says what is too heavy to be rolled or turned.
    """

    arm: Makes = ANY_ARM
    rates: Rates | None = None
    effort: float = 1.0
    time_limit: float | None = None
    progress: Progress | None = None
    way: str | None = None
    handling: Handling = LIFTS_ALL


def solve(
    items: Sequence[Item],
    stock: Sequence[Stock],
    allowance: Allowance,
    *,
    arm: Makes = ANY_ARM,
    rates: Rates | None = None,
    done: Done | None = None,
    effort: float = 1.0,
    time_limit: float | None = None,
    progress: Progress | None = None,
    way: str | None = None,
    handling: Handling = LIFTS_ALL,
) -> Plan:
    """Put all `items` on bars of `stock` but those that are refused, which the plan leaves out.

    With `rates` and a price of every bar the plan has the least cost of steel and work, over all ways of working or as
    `way` fixes one of `WAYS`; else the least steel, then the least work: by the rates, else by set-ups. `handling` says
    what is too heavy to be rolled or turned. `done` takes out what is already cut. The plan is the same for the same
    `effort`; only `time_limit` (s) depends on the clock. Ctrl-C ends the search with the best plan so far.

    Raises `NoBars` with every piece that no bar takes or that stock runs out for and a plan of the others,
    `BadInput` for poses that the section does not allow.

    >>> from mitertool.nest import Allowance, Item, Stock
    >>> flat = mt.flat(80, 12)
    >>> mt.nest.solve([Item("A", mt.Piece(flat, 1000), 5)], [Stock(flat.name, 6000)], Allowance(kerf=2))
    <Plan: 1 bars, cost 6000, proved best; 0 swings, 0 rolls>
    """
    if done is not None:
        items, stock = remaining(items, stock, done)
    return planned(items, stock, allowance, Terms(arm, rates, effort, time_limit, progress, way, handling))


def planned(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, terms: Terms) -> Plan:
    """The plan for given terms; errors as `solve`."""
    _check(items, terms)
    clock, telling = Clock(terms.time_limit), Telling(terms.progress)
    given, (stock, measure, remarks) = stock, measured(stock, terms.rates)
    shop = Means(allowance, setups.Settings(terms.arm), terms.handling, measure, _masses(items, stock))
    made = [_offered(item, shop) for item in items]
    too_long = [problem for lot in lots(made, stock, allowance, shop.rolls) for problem in _too_long(lot, allowance)]
    marks = {problem.mark for problem in too_long}
    fitting = [item for item in made if not item.refused and item.mark not in marks]
    goal = Goal(measure.setups.swing if measure.money else 0.0)
    telling.part(_FIRST)
    searches, stopped = _search(list(lots(fitting, stock, allowance, shop.rolls)), terms, goal, telling)
    run_out = [problem for search in searches for problem in _run_out(search)]
    if run_out:
        searches, stopped = _search_what_fits(searches, terms, goal, stopped, telling)
    rest = attrs.evolve(terms, effort=terms.effort * _BESIDE)
    ways = _Ways(tuple(stock), shop, rest, clock, telling)
    plan, heavy = ways.best_plan(searches, stopped, (terms.effort, remarks))
    if heavy:
        return _without(heavy, items, [*too_long, *run_out], (given, allowance, terms))
    left_out = _left_out(items, searches)
    plan = attrs.evolve(plan, left_out=left_out, searched=within(items, left_out, _ways_searched(plan), shop.rolls))
    if too_long or run_out:
        raise NoBars([*too_long, *run_out], plan)
    return plan


def _masses(items: Sequence[Item], stock: Sequence[Stock]) -> dict[str, float]:
    """What the heaviest bar of each section weighs, kg."""
    longest = {one.section: max(s.length for s in stock if s.section == one.section) for one in stock}
    sections = {item.piece.section.name: item.piece.section for item in items}
    return {name: longest.get(name, 0.0) / 1000 * one.nominal_mass_per_metre for name, one in sections.items()}


@attrs.frozen(eq=False)
class _Ways:
    """With what the ways of a job are weighed: its stock, its means, the terms of each search and the time for all."""

    stock: tuple[Stock, ...]
    shop: Means
    terms: Terms
    clock: Clock
    telling: Telling

    def best_plan(
        self, searches: Sequence[Search], stopped: str, given: tuple[float, Sequence[Remark]]
    ) -> tuple[Plan, list[Problem]]:
        """The best of all ways that are offered; where the search was stopped only what stands is put in order.

        Also the marks for which every way rolls a bar that is too heavy. `given` is the effort for a small job and
        what is told of its stock.
        """
        effort, remarks = given
        weighing, found, exact = Weighing(self.shop, effort), as_they_stand(searches), False
        try:
            for found in self._offered(searches, stopped):
                weighing.offer(list(found.groups.values()))
                weighing.run(self._stop(stopped))
                claim = PlanClaim(searches, found, weighing.all, weighing.best, stopped, exact)
                if stopped == INTERRUPTED or self.clock.late or self._nothing_better(claim):
                    break
            self.telling.part(1.0)
            weighing.bring_closer(self._stop(stopped))
            if stopped in ("", "effort") and not self.clock.late:
                exact = self._looked_through(searches, found, weighing, effort)
        except KeyboardInterrupt:
            stopped = INTERRUPTED
            weighing.offer(list(found.groups.values()))
            weighing.one_at_least()
        claim = PlanClaim(searches, found, weighing.all, weighing.best, stopped, exact)
        return plan_of(claim, [*remarks, *_heavy(self.shop)]), _too_heavy(claim.best)

    def _offered(self, searches: Sequence[Search], stopped: str) -> Iterator[Offered]:
        """What is offered, more and more of it; where the user has stopped the search only what stands."""
        self.telling.part(_OFFERED)

        def searched(found: Sequence[Lot], goal: Goal, starts: Sequence[Found]) -> Sequence[Search]:
            still = self.terms.effort if stopped in ("", "effort") else 0.0
            terms = attrs.evolve(self.terms, effort=still, time_limit=self.clock.left)
            others, why = _search(found, terms, goal, self.telling, starts, first=False)
            if why == INTERRUPTED:
                raise KeyboardInterrupt
            return others

        def work(pieces: int) -> Effort:
            still = self.terms.effort if stopped in ("", "effort") else 0.0
            share = _MENDED_OF_MANY if pieces > _MANY else _MENDED
            return Effort(still * share * _effort(pieces), self.clock.left, self.telling.step)

        yield from offered(searches, self.terms.way, self.stock, self.shop, searched, work)

    def _nothing_better(self, claim: PlanClaim) -> bool:
        """Whether no plan costs less, or, where nobody gives rates, has as little steel and fewer set-ups."""
        measure = self.shop.measure
        if not claim.proved:
            return False
        return measure.money or (measure.rates is None and claim.best.work.setups <= claim.setups_least)

    def _stop(self, stopped: str) -> Callable[[], bool]:
        """Whether to stop, asked between plans that are weighed."""

        def stop() -> bool:
            self.telling.step()
            return stopped == INTERRUPTED or self.clock.late

        return stop

    def _looked_through(self, searches: Sequence[Search], found: Offered, weighing: Weighing, effort: float) -> bool:
        """The best plan, among those weighed, of a job so small that every state can be looked at; whether it was.

        Nobody looks there how long the blade takes, so where that costs money the best plan is not known by it.
        """
        items = [member.item for search in searches for kind in search.lot.kinds for member in kind.members]
        share = 1.0 if is_small(items) else self._few_unproved(items, searches, found, weighing)
        if not share:
            return False
        lots = [search.lot for search in searches]
        small = small_job(items, self.stock, self.shop, found.by_setting, found.ways, lots)
        best, exact = small.run(weighing.best, effort * share)
        weighing.others.append(best)
        return exact and not self._blade_costs(best)

    def _blade_costs(self, one: Whole) -> bool:
        return self.shop.measure.money and one.work.blade is not None

    def _few_unproved(
        self, items: Sequence[Item], searches: Sequence[Search], found: Offered, weighing: Weighing
    ) -> float:
        """Of the steps the share for a job of few kinds of pieces that costs more money, or has more set-ups, than its
        bound; 0 for any other."""
        if not has_few_states(items):
            return 0.0
        claim = PlanClaim(searches, found, weighing.all, weighing.best, "", exact=False)
        if self.shop.measure.money:
            return float(not claim.proved and not self._blade_costs(claim.best))
        counted = claim.proved and self.shop.measure.rates is None
        return _FOR_SET_UPS * (counted and claim.best.work.setups > claim.setups_least)


def _too_heavy(best: Whole) -> list[Problem]:
    """The marks on bars that are rolled though they are too heavy, once each."""
    most, found = best.shop.handling.roll_most or 0.0, dict[str, Problem]()
    for bar in (best.bars[i] for i in best.heavy):
        told = names(section=bar.section.name) + masses(need=best.shop.mass(bar), have=most)
        for one in bar.laid:
            found.setdefault(one.item.mark, Problem(one.item.mark, "", "roll-heavy", told))
    return list(found.values())


def _without(
    heavy: Sequence[Problem],
    items: Sequence[Item],
    problems: Sequence[Problem],
    given: tuple[Sequence[Stock], Allowance, Terms],
) -> Plan:
    """Raises `NoBars` with what is too heavy beside the other problems, and with a plan of the rest."""
    marks = {problem.mark for problem in heavy}
    rest = [attrs.evolve(item, refused=item.refused or item.mark in marks) for item in items]
    try:
        plan, more = planned(rest, *given), list(problems)
    except NoBars as error:
        plan, more = error.plan, list(error.problems)
    raise NoBars([*heavy, *more], plan)


def _heavy(shop: Means) -> Iterator[Remark]:
    """The sections of which bars are not rolled."""
    most = shop.handling.roll_most
    for name, mass in sorted(shop.masses.items()):
        if most is not None and longer(mass, most):
            yield Remark("plan.roll-heavy", names(section=name) + masses(need=mass, have=most))


def _ways_searched(plan: Plan) -> tuple[str, ...]:
    """The ways for which plans were weighed."""
    return tuple(dict.fromkeys(one.way for one in plan.alternatives))


def _search_what_fits(
    searches: Sequence[Search], terms: Terms, goal: Goal, stopped: str, telling: Telling
) -> tuple[list[Search], str]:
    """The lots without what is on no bar, searched from the bars that stand; not again where the user has stopped."""
    found = [(without_the_rest(search.lot, search.best), search.best) for search in searches]
    fitting = [(lot, best) for lot, best in found if any(lot.demand)]
    again = attrs.evolve(terms, effort=0.0) if stopped == INTERRUPTED else terms
    found_again, later = _search([lot for lot, _ in fitting], again, goal, telling, [best for _, best in fitting])
    return found_again, stopped if stopped == INTERRUPTED else later


def _left_out(items: Sequence[Item], searches: Sequence[Search]) -> tuple[tuple[str, int], ...]:
    """The marks of which pieces are on no bar, with how many."""
    planned = Counter({m.item.mark: m.item.quantity for s in searches for kind in s.lot.kinds for m in kind.members})
    missing = ((item.mark, item.quantity - planned[item.mark]) for item in items)
    return tuple((mark, count) for mark, count in missing if count)


def _check(items: Sequence[Item], terms: Terms) -> None:
    for item in items:
        if not item.poses:
            raise BadInput(
                phrase("what.of-key", what=item.mark, key="turn"),
                ", ".join(item.turn),
                phrase("refuse.section-turn", poses=", ".join(item.piece.poses)),
            )
    if not (isfinite(terms.effort) and terms.effort >= 0):
        raise BadInput("effort", terms.effort, phrase("refuse.0-or-more-allowed"))


def _offered(item: Item, shop: Means) -> Item:
    """The item in the poses that the saw makes; in all of its own where it makes none, which is told elsewhere."""
    made = (pose for pose in item.poses if _makes(on_bar(item, pose, shop.allowance), shop.settings))
    return attrs.evolve(item, turn=tuple(made) or item.poses)


def _makes(laid: BarPiece, found: setups.Settings) -> bool:
    return all(found.safely(cut, laid.section) for cut in (laid.lead, laid.trail))


def _too_long(lot: Lot, allowance: Allowance) -> list[Problem]:
    members = [member.item for number in lot.too_long for member in lot.kinds[number].members]
    return [_no_bar(item, lot, allowance) for item in members]


def _no_bar(item: Item, lot: Lot, allowance: Allowance) -> Problem:
    called = names(section=item.piece.section.name)
    if not lot.stock:
        return Problem(item.mark, "", "no-stock", called + names(grade=item.grade))
    need = _need(on_bar(item, "as-drawn", allowance), allowance)
    longest = max(stock.length for stock in lot.stock)
    return Problem(item.mark, "", "too-long", called + lengths(have=longest, need=need))


def _need(piece: BarPiece, allowance: Allowance) -> float:
    begin = before(piece.lead, piece.section, allowance)
    return begin + piece.centerline + behind(piece.trail, piece.section, allowance.kerf) + allowance.grip


def _run_out(search: Search) -> list[Problem]:
    problems = []
    for kind, missing in zip(search.lot.kinds, search.best.missing, strict=True):
        for member in reversed(kind.members):
            count = min(missing, member.item.quantity)
            missing -= count
            if count:
                called = names(section=member.item.piece.section.name)
                problems.append(Problem(member.item.mark, "", "stock-short", counts(missing=count) + called))
    return problems


def _search(
    found: Sequence[Lot], terms: Terms, goal: Goal, telling: Telling, starts: Sequence[Found] = (), first: bool = True
) -> tuple[list[Search], str]:
    """Every lot searched with its share of the work, from the bars of `starts` where any; each has a plan.

    A search that is stopped early has the best plan so far. What the `first` finds is told.
    """
    work = Effort(0.0, terms.time_limit, telling.step)
    searches: list[Search] = []

    def report() -> None:
        if first:
            telling.better(summed(s.cost for s in searches), summed(s.floor.value for s in searches))

    searches += [Search(lot, goal, work, report) for lot in found]
    for search, start_at in zip(searches, starts, strict=False):
        search.offer(Found(start_at.bars, (0,) * len(start_at.missing)))
    stopped = ""
    try:
        report()
        for search in searches:
            work.left = max(0.0, work.left) + terms.effort * _effort(sum(search.lot.demand))
            search.run()
            if work.over and not search.finished:
                stopped = "time" if work.late else "effort"
    except KeyboardInterrupt:
        stopped = INTERRUPTED
    return searches, stopped


def _effort(pieces: int) -> float:
    """Effort that a lot of so many pieces may take."""
    pieces = min(pieces, _MOST)
    return _EFFORT + _EFFORT_A_PIECE * pieces + _EFFORT_OF_MANY * max(0, pieces - _MANY)


_FIRST = 0.4
_OFFERED = 0.8
"""Shares of the whole work that are done when the first bars are found, and when all ways are offered."""
_BESIDE = 0.2
"""Share of the effort that each way beside the first may take."""
_MENDED = 3.0
_MENDED_OF_MANY = 2.0
"""Of that share how much goes into blanks on as many bars as there are, where pieces are many more."""
_FOR_SET_UPS = 0.3
"""Of the steps for a small job those for one of more pieces whose steel is proved, but not its set-ups."""
_EFFORT = 60.0
_EFFORT_A_PIECE = 5.0
"""Effort a lot and a piece for an effort of 1: a second or two for a shop's job."""
_MANY = 500
_EFFORT_OF_MANY = 4.0
"""Effort more for each piece above so many: half a minute for two thousand."""
_MOST = 3000
"""Pieces for which there is that effort: a lot of more has no more of it, and ends within minutes too."""
