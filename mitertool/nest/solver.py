"""Bars for all pieces: the least steel and the fewest set-ups, with what no plan can beat; knows all of nest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from math import isfinite
from typing import TYPE_CHECKING

import attrs

from mitertool.bar import Allowance, Angles, BarPiece
from mitertool.bar.spacing import before, behind
from mitertool.base.errors import BadInput, CannotMake
from mitertool.nest import assemble, order, setups
from mitertool.nest.done import Done, remaining
from mitertool.nest.fitting import within, without_the_rest
from mitertool.nest.greedy import Found, tip_to_tip
from mitertool.nest.lie import as_first_set
from mitertool.nest.lots import FULL, Lot, lots, on_bar
from mitertool.nest.plan import ANY_ARM, BAR_BY_BAR, Bound, GroupWay, Item, Makes, Plan, Rates, Steel, Stock
from mitertool.nest.work import Effort, Goal
from mitertool.quantity.problem import Problem, counts, lengths, names
from mitertool.quantity.problem_words import problem_says

if TYPE_CHECKING:
    from mitertool.nest.search import Search

Progress = Callable[[float, float], None]
"""Called with the cost of the best plan and the bound so far, whenever one of them gets better."""


class NoBars(CannotMake):
    """Pieces for which there is no bar.

    Attributes: `problems`, one a mark; `reasons` has their sentences in mm; `plan` puts the others on bars.
    """

    def __init__(self, problems: Sequence[Problem], plan: Plan) -> None:
        self.problems, self.plan = tuple(problems), plan
        super().__init__([problem_says(problem, "mm") for problem in problems])


@attrs.frozen
class Terms:
    """How a plan is looked for. `effort` 1 is meant for a person who waits; `time_limit` is in seconds."""

    arm: Makes = ANY_ARM
    rates: Rates | None = None
    effort: float = 1.0
    time_limit: float | None = None
    progress: Progress | None = None
    goal: Goal | None = None


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
) -> Plan:
    """Put all `items` on bars of `stock` but those that are refused, which the plan leaves out.

    Without `rates` the plan has the least steel, then the fewest set-ups; with them the least cost of both. `done`
    takes out what is already cut. The plan is the same for the same `effort`; only `time_limit` (s) depends on the
    clock. Ctrl-C ends the search with the best plan so far.

    Raises `NoBars` with every piece that no bar takes or that stock runs out for and a plan of the others,
    `BadInput` for poses that the section does not allow.

    >>> from mitertool.nest import Allowance, Item, Stock
    >>> flat = mt.flat(80, 12)
    >>> mt.nest.solve([Item("A", mt.Piece(flat, 1000), 5)], [Stock(flat.name, 6000)], Allowance(kerf=2))
    <Plan: 1 bars, cost 6000, proved best; 0 swings, 0 rolls>
    """
    if done is not None:
        items, stock = remaining(items, stock, done)
    return planned(items, stock, allowance, Terms(arm, rates, effort, time_limit, progress))


def planned(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, terms: Terms) -> Plan:
    """The plan for given terms; errors as `solve`."""
    _check(items, terms)
    offered = [_offered(item, allowance, terms.arm) for item in items]
    too_long = [problem for lot in lots(offered, stock, allowance) for problem in _too_long(lot, allowance)]
    marks = {problem.mark for problem in too_long}
    fitting = [item for item in offered if not item.refused and item.mark not in marks]
    searches, stopped = _search(list(lots(fitting, stock, allowance)), terms)
    run_out = [problem for search in searches for problem in _run_out(search)]
    if run_out:
        searches, stopped = _search_what_fits(searches, terms, stopped)
    plan = attrs.evolve(_plan(searches, allowance, terms, stopped), left_out=_left_out(items, searches))
    plan = attrs.evolve(plan, within=within(items, plan.left_out))
    if too_long or run_out:
        raise NoBars([*too_long, *run_out], plan)
    return plan


def _search_what_fits(searches: Sequence[Search], terms: Terms, stopped: str) -> tuple[list[Search], str]:
    """The lots without what is on no bar, searched from the bars that stand; not again where the user has stopped."""
    found = [(without_the_rest(search.lot, search.best), search.best) for search in searches]
    fitting = [(lot, best) for lot, best in found if any(lot.demand)]
    again = attrs.evolve(terms, effort=0.0) if stopped == _INTERRUPTED else terms
    found_again, later = _search([lot for lot, _ in fitting], again, [best for _, best in fitting])
    return found_again, stopped if stopped == _INTERRUPTED else later


def _left_out(items: Sequence[Item], searches: Sequence[Search]) -> tuple[tuple[str, int], ...]:
    """The marks of which pieces are on no bar, with how many."""
    planned = Counter({m.item.mark: m.item.quantity for s in searches for kind in s.lot.kinds for m in kind.members})
    missing = ((item.mark, item.quantity - planned[item.mark]) for item in items)
    return tuple((mark, count) for mark, count in missing if count)


def _check(items: Sequence[Item], terms: Terms) -> None:
    for item in items:
        if not item.poses:
            raise BadInput(
                f"{item.mark}, turn",
                ", ".join(item.turn),
                f"its section allows {', '.join(item.piece.poses)}",
            )
    if not (isfinite(terms.effort) and terms.effort >= 0):
        raise BadInput("effort", terms.effort, "allowed: 0 or more")


def _offered(item: Item, allowance: Allowance, arm: Makes) -> Item:
    """The item in the poses that the saw makes; in all of its own where it makes none, which is told elsewhere."""
    made = (pose for pose in item.poses if _makes(on_bar(item, pose, allowance), arm))
    return attrs.evolve(item, turn=tuple(made) or item.poses)


def _makes(laid: BarPiece, arm: Makes) -> bool:
    return all(setups.makeable(cut, laid.section, arm) for cut in (laid.lead, laid.trail))


def _long_kinds(lot: Lot) -> list[int]:
    """Kinds that no bar takes."""
    longest = max(lot.capacity, default=float("-inf"))
    return [
        number for number, kind in enumerate(lot.kinds) if min(lot.used((way,)) for way in kind.ways) > longest + FULL
    ]


def _too_long(lot: Lot, allowance: Allowance) -> list[Problem]:
    members = [member.item for number in _long_kinds(lot) for member in lot.kinds[number].members]
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


def _search(found: Sequence[Lot], terms: Terms, starts: Sequence[Found] = ()) -> tuple[list[Search], str]:
    """Every lot searched with its share of the work, from the bars of `starts` where any; each has a plan.

    A search that is stopped early has the best plan so far.
    """
    from mitertool.nest.search import Search  # numpy comes with it, which a command without bars has no use for

    work = Effort(0.0, terms.time_limit)
    goal = terms.goal or Goal(setups.prices(terms.rates).swing if terms.rates else 0.0)
    searches: list[Search] = []

    def report() -> None:
        if terms.progress and len(searches) == len(found):
            terms.progress(sum(s.cost for s in searches), sum(s.floor.value for s in searches))

    searches += [Search(lot, goal, work, report) for lot in found]
    for search, start_at in zip(searches, starts, strict=False):
        search.offer(Found(start_at.bars, (0,) * len(start_at.missing)))
    stopped = ""
    try:
        report()
        for search in searches:
            work.left = max(0.0, work.left) + terms.effort * (_EFFORT + _EFFORT_A_PIECE * sum(search.lot.demand))
            search.run()
            if work.over and not (search.finished):
                stopped = "time" if work.late else "effort"
    except KeyboardInterrupt:
        stopped = _INTERRUPTED
    return searches, stopped


_INTERRUPTED = "interrupted"
_EFFORT = 1000.0
_EFFORT_A_PIECE = 10.0
"""Effort a lot and a piece for an effort of 1: some seconds for a shop's job, a minute for two thousand pieces."""


def _plan(searches: Sequence[Search], allowance: Allowance, terms: Terms, stopped: str) -> Plan:
    work = _in_order(searches, allowance)
    options = [_settings(bar, allowance, terms) for bar in work]
    chosen = setups.choose(options, setups.prices(terms.rates))
    lying = [as_first_set(bar, ways, allowance) for bar, ways in zip(work, chosen, strict=True)]
    work, settings = [bar for bar, _ in lying], [ways for _, ways in lying]
    bars = assemble.bars_of(work, settings, allowance)
    found = setups.count_all(settings)
    cost, bound = sum(bar.price for bar in work), sum(search.floor.value for search in searches)
    steel = Steel()
    for bar in bars:
        steel = steel.plus(bar.steel, bar.count * bar.section.bars)
    plan = Plan(
        *(bars, cost, bound, cost <= bound * (1 + 1e-9), found.swings, found.rolls),
        bounds=tuple(_bound(search) for search in searches),
        setups_bound=sum(_own_changes(search.lot) for search in searches),
        steel=steel,
        tip_to_tip=_tip_to_tip(searches),
        stopped=stopped,
        tilts=found.tilts,
        ways=tuple(GroupWay(*group, BAR_BY_BAR) for group in dict.fromkeys((b.section.name, b.grade) for b in bars)),
        loads=sum(bar.count for bar in bars),
    )
    return _with_rates(plan, terms.rates)


def _in_order(searches: Sequence[Search], allowance: Allowance) -> list[assemble.Loaded]:
    """All bars in the order of work, one section and grade after the other."""
    work: list[assemble.Loaded] = []
    for search in searches:
        arm = work[-1].laid[-1].piece.trail if work else None
        bars = order.ordered(search.lot, search.best.bars, arm)
        work += assemble.loaded(search.lot, bars, allowance)
    return work


def _settings(bar: assemble.Loaded, allowance: Allowance, terms: Terms) -> list[tuple[Angles, ...]]:
    """The ways to set each cut of a bar."""
    cuts = [kerf.cut for kerf in bar.kerfs(allowance)]
    stood = setups.odd_rolls(cuts, bar.section, terms.arm)
    return [setups.settings(cut, bar.section, terms.arm, terms.rates is not None, stood) for cut in cuts]


def _with_rates(plan: Plan, rates: Rates | None) -> Plan:
    if rates is None:
        return plan
    cheapest = min(rates.money(1, 0), rates.money(0, 1))
    cost = plan.cost + rates.money(plan.swings, plan.rolls, plan.tilts)
    bound = plan.lower_bound + cheapest * plan.setups_bound
    return attrs.evolve(
        plan,
        objective="cost",
        shop_cost=cost,
        shop_bound=bound,
        minutes=rates.minutes(plan.swings, plan.rolls, plan.tilts),
        proved=cost <= bound * (1 + 1e-9),
    )


def _own_changes(lot: Lot) -> int:
    """Pieces whose two cuts are not parallel on the bar: each needs a set-up between them, however it lies."""
    return sum(kind.demand for kind in lot.kinds if kind.ways[0].before != kind.ways[0].after)


def _tip_to_tip(searches: Sequence[Search]) -> float | None:
    found = [(search.lot, tip_to_tip(search.lot)) for search in searches]
    if not all(one.whole for _, one in found):
        return None
    return sum(lot.price(one.bars) for lot, one in found)


def _bound(search: Search) -> Bound:
    lot, floor = search.lot, search.floor
    first = lot.kinds[0].members[0].item
    worth = floor.prices or lot.weights
    by_mark = tuple(
        (member.item.mark, value) for kind, value in zip(lot.kinds, worth, strict=True) for member in kind.members
    )
    return Bound(first.piece.section.name, first.grade, floor.value, floor.how, floor.plain, by_mark)
