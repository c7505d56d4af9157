"""What each bar of a plan takes of its set-ups, loads and second ends, minutes; knows setups and plan.

A set-up counts to the bar that it is made for. That of second ends, and their laying, counts to the bars that gave the
blanks, to each by how many it gave.
"""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.bar import Angles, Changes
from mitertool.nest.plan import Bar, Plan, Rates, Recut
from mitertool.nest.setups import between, count


def set_up_minutes(plan: Plan, rates: Rates) -> tuple[float, ...]:
    """By the bars of a plan, all that are alike together; their sum is `plan.minutes`."""
    spent = [0.0] * len(plan.bars)
    stands: Angles | None = None
    for step in plan.steps:
        if step.bar is not None:
            bar = plan.bars[step.bar]
            first, stands_then, own = bar.cuts[0].angles, bar.cuts[-1].angles, _of_bars(bar, rates)
            whose: Iterator[tuple[int, float]] = iter([(step.bar, 1.0)])
        else:
            recut = plan.recuts[step.recut or 0]
            first, stands_then, own = recut.angles, recut.angles, rates.minutes(0, 0, recuts=recut.count)
            whose = shares_of(plan, recut)
        moved = _minutes(between(stands, first), rates) if stands else 0.0
        for number, share in whose:
            spent[number] += (moved + own) * share
        stands = stands_then
    return tuple(spent)


def shares_of(plan: Plan, recut: Recut) -> Iterator[tuple[int, float]]:
    """The numbers of the bars, counted from 0, that gave the blanks of a recut, and which share of them each gave."""
    given = [
        bar.count * sum((one.mark, one.recut) == (recut.mark, recut.end) for one in bar.pieces) for bar in plan.bars
    ]
    yield from ((number, many / sum(given)) for number, many in enumerate(given) if many)


def _of_bars(bar: Bar, rates: Rates) -> float:
    """Loads and all that is set within bars that are alike, and from one of them to the next."""
    angles = [cut.angles for cut in bar.cuts]
    within, next_one = count(angles), between(angles[-1], angles[0])
    set_up = _minutes(within, rates) * bar.count + _minutes(next_one, rates) * (bar.count - 1)
    return set_up + rates.minutes(0, 0, loads=bar.count)


def _minutes(changes: Changes, rates: Rates) -> float:
    return rates.minutes(changes.swings, changes.rolls, changes.tilts)
