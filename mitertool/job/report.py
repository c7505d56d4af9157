"""What a job comes to in one line: where its steel goes, and what steel, cuts and set-ups cost; knows the solution."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

import attrs

from mitertool import nest
from mitertool.base.totals import summed
from mitertool.job.before import CutAlready
from mitertool.job.further import FurtherRow
from mitertool.job.rates import known_sum, paid, rates_of
from mitertool.job.recut_pieces import RecutPiece
from mitertool.job.solution import Solution
from mitertool.job.sources import Source
from mitertool.nest import Bar, Plan, set_up_minutes, shares_of


@attrs.frozen
class BarShare:
    """What one bar of the number on the sheet comes to, mm on the centerline, `copies` of them alike.

    `bought`, `from_rack` or `left_before` is `pieces`, `kerf`, `kept` and `scrap` together; costs are None where they
    are not known.
    Second ends of its blanks and further cuts of its pieces, with what is set up for them, count to the bar.
    """

    number: int
    copies: int
    bought: float
    from_rack: float
    pieces: float
    kerf: float
    kept: float
    scrap: float
    left_before: float = 0.0
    steel_cost: float | None = None
    cuts_cost: float | None = None
    set_up_cost: float | None = None


@attrs.frozen
class Report:
    """Lengths are mm on the centerline.

    `bought`, `from_rack` and `cut_before` together are `pieces`, `kerf`, `kept`, `scrap` and `spoiled`. `cut_before`
    are pieces of earlier packets that went wrong or that nobody wants any more, whole, whatever becomes of them, and
    `spoiled` what of them becomes nothing; `not_in_pieces` is what of them these packets counted as kerf and scrap, as
    of blanks. In `cut_before` are also left-overs of bars of the job itself, `left_before`, which earlier packets
    counted as kept, `kept_before`, where they go on a rack. What was bought for the job and lay on the rack uncut is
    `bought`; `kept` goes back on the rack. Costs are None where a price or a rate is not known; `price` is their sum.
    `bars` are the shares of the bars in it.
    """

    bought: float = 0.0
    from_rack: float = 0.0
    pieces: float = 0.0
    kerf: float = 0.0
    kept: float = 0.0
    scrap: float = 0.0
    spoiled: float = 0.0
    cut_before: float = 0.0
    not_in_pieces: float = 0.0
    left_before: float = 0.0
    kept_before: float = 0.0
    steel_cost: float | None = None
    cuts_cost: float | None = None
    set_up_cost: float | None = None
    currency: str = ""
    bars: tuple[BarShare, ...] = ()

    @property
    def price(self) -> float | None:
        """Steel, cuts and set-ups together."""
        return known_sum((self.steel_cost, self.cuts_cost, self.set_up_cost))


def report_of(solution: Solution) -> Report:
    """The report of a solved job; nothing but what became of cut pieces where it has no stock."""
    plan = solution.plan
    again = _again(solution)
    if plan is None:
        return again
    bars = tuple(_shares(solution, plan))
    total = {name: summed(getattr(bar, name) * bar.copies for bar in bars) for name in _LENGTHS}
    before = [kept for one in solution.sources for kept in [_kept_as(one, solution)] if kept is not None]
    return attrs.evolve(
        again,
        **{name: length + getattr(again, name) for name, length in total.items()},
        cut_before=again.cut_before + total["left_before"],
        kept_before=summed(before),
        steel_cost=known_sum([bar.steel_cost for bar in bars for _ in range(bar.copies)]),
        cuts_cost=paid(solution.job.saw, _blade(solution)),
        set_up_cost=paid(solution.job.saw, [plan.minutes]),
        currency=solution.job.saw.cost.currency if solution.job.saw else "",
        bars=bars,
    )


_LENGTHS: Final = ("bought", "from_rack", "pieces", "kerf", "kept", "scrap", "left_before")


def _shares(solution: Solution, plan: Plan) -> Iterator[BarShare]:
    """Every bar of the plan; of an off-cut the steel is that of the piece that is recut."""
    kept = {bar.number for bar in solution.on_rack if bar.leaves}
    own = Counter(one.number for one in solution.sources if _is_own(one, solution))
    recut = {one.number for one in solution.sources if one.recut}
    before = Counter(one.number for one in solution.sources if _kept_as(one, solution) is not None)
    rates = rates_of(solution.job.saw)
    set_up = set_up_minutes(plan, rates) if rates else (None,) * len(plan.bars)
    for run, setting, cutting in zip(solution.runs, set_up, _blade_by_bar(solution, plan), strict=True):
        bar, steel, copies = run.bar, run.bar.steel, run.bar.count * run.bar.section.bars
        drop = bar.drop if run.number in kept else 0.0
        bought = bar.stock_length if bar.price else bar.stock_length * own[run.number] / copies
        left = bar.stock_length * before[run.number] / copies
        free = 0.0 if run.number in recut else bar.stock_length - bought - left
        lost = steel.wedges + steel.trim + steel.grip + steel.drops - drop
        yield BarShare(
            *(run.number, copies, bought, free),
            *(steel.pieces, steel.kerf, drop, lost, left),
            _price(solution, bar, own[run.number] / copies),
            *(None if spent is None else spent / copies for spent in _paid_both(solution, cutting, setting)),
        )


def _paid_both(solution: Solution, *minutes: float | None) -> Iterator[float | None]:
    yield from (paid(solution.job.saw, [one]) for one in minutes)


def _become_others(solution: Solution) -> Iterator[RecutPiece]:
    yield from (one for one in solution.again if one.offer.fate != "finish")


def _blade(solution: Solution) -> Iterator[float | None]:
    """Minutes of all cuts."""
    steps = (step for one in _become_others(solution) for step in one.steps)
    for work in (solution.runs, solution.recuts, solution.further, steps):
        yield from (one.minutes for one in work)


def _blade_by_bar(solution: Solution, plan: Plan) -> tuple[float | None, ...]:
    """Minutes of the cuts of each bar, and of second ends and further cuts of what comes off it."""
    spent = [run.minutes for run in solution.runs]
    shared = [(one.minutes, shares_of(plan, one.recut)) for one in solution.recuts]
    shared += [(row.minutes, _bars_of(row, plan)) for row in solution.further if row.solved in solution.pieces]
    for minutes, shares in shared:
        for number, share in shares:
            spent[number] = known_sum((spent[number], None if minutes is None else minutes * share))
    return tuple(spent)


def _bars_of(row: FurtherRow, plan: Plan) -> Iterator[tuple[int, float]]:
    """The numbers of the bars, counted from 0, that hold the pieces of a further cut, and which share of them each."""
    held = [bar.count * sum(one.mark == row.mark for one in bar.pieces) for bar in plan.bars]
    yield from ((number, many / sum(held)) for number, many in enumerate(held) if many)


def _again(solution: Solution) -> Report:
    """What went wrong, and where the steel of pieces that are recut goes, but for off-cuts that bars are made of.

    Blanks that get the end that they were meant for count with the bars that gave them, in the packet of these.
    """
    taken, pieces, kerf = 0.0, 0.0, 0.0
    for one in _become_others(solution):
        count = one.offer.count
        taken += count * _by_now(one.offer)
        pieces += count * one.solved.piece.centerline
        kerf += count * summed(run.recut.cut.kerf_along(solution.job.kerf) for run in one.steps)
    kept = summed((bar.length + bar.square) / 2 for _, bar in solution.off_cuts if solution.goes_back(bar))
    used = {one.number for one in solution.sources if one.recut}
    on_bars = summed(run.bar.stock_length * run.bar.count for run in solution.runs if run.number in used)
    scrap = taken - pieces - kerf - kept - on_bars
    rest = solution.job.rest
    lost = [one for one in (rest.offers if rest else ()) if one.fate not in ("keep", "finish")]
    left = [
        (one.count, one.length - (_by_now(one) if one.fate == "recut" and rest and rest.taken else 0.0)) for one in lost
    ]
    spoiled = summed(count * max(0.0, length) for count, length in left)
    more = summed(count * max(0.0, -length) for count, length in left)
    return Report(
        pieces=pieces,
        kerf=kerf,
        kept=kept,
        scrap=scrap,
        spoiled=spoiled,
        cut_before=taken + spoiled,
        not_in_pieces=more,
    )


def _by_now(offer: CutAlready) -> float:
    """How long a piece that is cut already is by now, on the centerline."""
    return offer.piece.centerline if offer.piece else 0.0


def _is_own(one: Source, solution: Solution) -> bool:
    """Whether a bar was bought for the job and lies on the rack whole."""
    return one.rack is not None and one.rack.bought == solution.job.head.name


def _kept_as(one: Source, solution: Solution) -> float | None:
    """What was counted as left where an earlier bar of the job left this one, mm; None of any other bar."""
    job, plan = solution.job, solution.plan
    if one.rack:
        mine = job.rack is not None and one.rack.number in {bar.number for bar in job.rack.left}
        return (one.rack.length + one.rack.square) / 2 if mine else None
    if job.rest is None or plan is None or one.new or one.recut:
        return None
    bar = plan.bars[one.number - 1]
    such = nest.Stock(bar.section.one_bar.name, bar.stock_length, bar.grade)
    return None if any(stock.same_bar(such) for stock, _ in job.own_stock) else bar.stock_length


def _price(solution: Solution, bar: Bar, own: float) -> float | None:
    """What a bar costs, where every row of stock bears a price; `own` is the share of those alike that lay there."""
    job = solution.job
    if any(stock.cost is None for stock in job.stock):
        return None
    such = nest.Stock(bar.section.one_bar.name, bar.stock_length, bar.grade)
    costs = [stock.cost for stock, _ in job.own_stock if stock.same_bar(such)] if own else [0.0]
    return None if not costs or costs[0] is None else bar.price + costs[0] * own
