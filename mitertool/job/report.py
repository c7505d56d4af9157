"""What a job comes to in one line: where its steel goes, and what steel, cuts and set-ups cost; knows the solution."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.job.further import FurtherRow
from mitertool.job.rates import known_sum, paid, rates_of
from mitertool.job.recut_pieces import RecutPiece
from mitertool.job.solution import Solution
from mitertool.nest import Plan, set_up_minutes, shares_of


@attrs.frozen
class BarShare:
    """What one bar of the number on the sheet comes to, mm on the centerline, `copies` of them alike.

    `bought` or `from_rack` is `pieces`, `kerf`, `kept` and `scrap` together; costs are None where they are not known.
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
    steel_cost: float | None = None
    cuts_cost: float | None = None
    set_up_cost: float | None = None


@attrs.frozen
class Report:
    """Lengths are mm on the centerline.

    `bought`, `from_rack` and `cut_again`, pieces that are recut, together are `pieces`, `kerf`, `kept` and `scrap`.
    `kept` goes back on the rack; `spoiled` are pieces of earlier packets that went wrong, as they were drawn, whatever
    becomes of them. Costs are None where a price or a rate is not known; `price` is their sum. `bars` are the shares of
    the bars in it.
    """

    bought: float = 0.0
    from_rack: float = 0.0
    pieces: float = 0.0
    kerf: float = 0.0
    kept: float = 0.0
    scrap: float = 0.0
    spoiled: float = 0.0
    cut_again: float = 0.0
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
    return attrs.evolve(
        again,
        **{name: length + getattr(again, name) for name, length in total.items()},
        steel_cost=_steel_cost(solution, plan),
        cuts_cost=paid(solution.job.saw, _blade(solution)),
        set_up_cost=paid(solution.job.saw, [plan.minutes]),
        currency=solution.job.saw.cost.currency if solution.job.saw else "",
        bars=bars,
    )


_LENGTHS: Final = ("bought", "from_rack", "pieces", "kerf", "kept", "scrap")


def _shares(solution: Solution, plan: Plan) -> Iterator[BarShare]:
    """Every bar of the plan; of an off-cut the steel is that of the piece that is recut."""
    kept = {bar.number for bar in solution.on_rack if bar.leaves}
    recut = {one.number for one in solution.sources if one.recut}
    priced, rates = _steel_cost(solution, plan) is not None, rates_of(solution.job.saw)
    set_up = set_up_minutes(plan, rates) if rates else (None,) * len(plan.bars)
    for run, setting, cutting in zip(solution.runs, set_up, _blade_by_bar(solution, plan), strict=True):
        bar, steel, copies = run.bar, run.bar.steel, run.bar.count * run.bar.section.bars
        drop = bar.drop if run.number in kept else 0.0
        free = 0.0 if bar.price or run.number in recut else bar.stock_length
        lost = steel.wedges + steel.trim + steel.grip + steel.drops - drop
        yield BarShare(
            *(run.number, copies, bar.stock_length if bar.price else 0.0, free),
            *(steel.pieces, steel.kerf, drop, lost),
            bar.price if priced else None,
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
    rest = solution.job.rest
    spoiled = summed(one.count * one.length for one in (rest.offers if rest else ()) if one.spoiled)
    before, pieces, kerf = 0.0, 0.0, 0.0
    for one in _become_others(solution):
        count = one.offer.count
        before += count * (one.offer.piece.centerline if one.offer.piece else 0.0)
        pieces += count * one.solved.piece.centerline
        kerf += count * summed(run.recut.cut.kerf_along(solution.job.kerf) for run in one.steps)
    back = {id(bar.leaves) for bar in solution.on_rack if bar.number < 0}
    kept = summed((bar.length + bar.square) / 2 for _, bar in solution.off_cuts if id(bar) in back)
    used = {one.number for one in solution.sources if one.recut}
    on_bars = summed(run.bar.stock_length * run.bar.count for run in solution.runs if run.number in used)
    scrap = before - pieces - kerf - kept - on_bars
    return Report(pieces=pieces, kerf=kerf, kept=kept, scrap=scrap, spoiled=spoiled, cut_again=before)


def _steel_cost(solution: Solution, plan: Plan) -> float | None:
    """What the bars cost, where every row of stock bears a price."""
    priced = all(stock.cost is not None for stock in solution.job.stock)
    return plan.cost if priced else None
