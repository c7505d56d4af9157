"""The set-ups of a day's work: how each cut is set, and what changes between cuts; knows plan and bar.

The first cut finds the arm where it stands, the arm stays where it is for the next bar, and a new bar may be laid in
rolled or not. Where a cut can be set in two ways (rolled half a turn, the arm on the other side), the ways that need
the fewest or cheapest set-ups are chosen over the whole order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import pairwise
from typing import Final

import attrs

from mitertool.bar import Angles, BarCut, Changes, short_way, ways
from mitertool.nest.plan import Bar, Makes, Rates
from mitertool.sections import Section, lies_over

_ROLL: Final = 1.001
"""Set-ups that a roll counts for where no rates are given: as much as a swing, which goes first among equals."""


@attrs.frozen
class SetUpPrices:
    """What a swing or a tilt, and what a roll costs in the order of work."""

    swing: float = 1.0
    roll: float = _ROLL


def prices(rates: Rates | None) -> SetUpPrices:
    """By the rates, else one set-up as dear as another."""
    return SetUpPrices() if rates is None else SetUpPrices(rates.money(1, 0), rates.money(0, 1))


def settings(cut: BarCut, section: Section, arm: Makes, rolls: bool, stood: Sequence[float] = ()) -> tuple[Angles, ...]:
    """The ways to set a cut: as the bar lies, and rolled where the section lies safely so.

    With `rolls` both are offered, else the rolled one only where the saw does not make the plain one. A square cut is
    the same however the bar is rolled, so it may also keep one of the rolls `stood` (degrees) of other cuts. Where
    the saw makes none the plain one stands; that the cut cannot be made is told elsewhere.
    """
    found = makeable(cut, section, arm) or _packed(cut, section, arm)
    if cut.is_square:
        kept = (one for roll in stood if arm.makes(section, one := Angles(roll=roll)))
        return (*found, *kept) or ways(cut, arm.tilts)[:1]
    free = rolls or any(one.roll % 180 for one in found)
    return found[: None if free else 1] or ways(cut, arm.tilts)[:1]


def odd_rolls(cuts: Iterable[BarCut], section: Section, arm: Makes) -> tuple[float, ...]:
    """The rolls of less or more than half a turn that these cuts ask for, each once, degrees."""
    rolls = (one.roll for cut in cuts for one in settings(cut, section, arm, True))
    return tuple(dict.fromkeys(short_way(roll) for roll in rolls if roll % 180))


def makeable(cut: BarCut, section: Section, arm: Makes) -> tuple[Angles, ...]:
    """Every way in which the saw makes a cut, as the bar lies and rolled half a turn from there."""
    plain, rolled = ways(cut, arm.tilts)
    safe = bool(plain.roll) or lies_over(section)
    return tuple(one for one in (plain, rolled) if (one is plain or safe) and arm.makes(section, one))


def _packed(cut: BarCut, section: Section, arm: Makes) -> tuple[Angles, ...]:
    """The bar rolled half a turn to where it does not lie safely and is packed, where nothing else makes the cut."""
    _, rolled = ways(cut, arm.tilts)
    return (rolled,) if arm.makes(section, rolled) else ()


Bars = Sequence[Sequence[tuple[Angles, ...]]]


def choose(bars: Bars, cost: SetUpPrices) -> list[list[Angles]]:
    """One setting for each cut of each bar, so that the whole order of work costs the least."""
    flat = [(options, first == 0) for bar in bars for first, options in enumerate(bar)]
    if not flat:
        return [[] for _ in bars]
    totals = [[0.0] * len(flat[0][0])]
    came: list[list[int]] = []
    for (before, _), (options, new_bar) in pairwise(flat):
        steps = [
            [total + _change(one, two, new_bar, cost) for one, total in zip(before, totals[-1], strict=True)]
            for two in options
        ]
        came.append([step.index(min(step)) for step in steps])
        totals.append([min(step) for step in steps])
    at = totals[-1].index(min(totals[-1]))
    chosen = [flat[-1][0][at]]
    for (options, _), back in zip(reversed(flat[:-1]), reversed(came), strict=True):
        at = back[at]
        chosen.append(options[at])
    rest = iter(reversed(chosen))
    return [[next(rest) for _ in bar] for bar in bars]


def _change(one: Angles, two: Angles, new_bar: bool, cost: SetUpPrices) -> float:
    changes = one.changes(two)
    return cost.swing * (changes.swings + changes.tilts) + cost.roll * (0 if new_bar else changes.rolls)


def count(bar: Sequence[Angles]) -> Changes:
    """What is set from the first cut of a bar to its last, and the roll in which its first cut finds it."""
    laid_in = Changes(rolls=bar[0].changes(Angles()).rolls if bar else 0)
    return reduce(Changes.plus, (a.changes(b) for a, b in pairwise(bar)), laid_in)


def count_all(bars: Sequence[Sequence[Angles]]) -> Changes:
    """What is set for bars one after another; how a new bar is laid in belongs to that bar."""
    between = (a[-1].changes(b[0])._replace(rolls=0) for a, b in pairwise(bars))
    return reduce(Changes.plus, (*map(count, bars), *between), Changes())


def swings_from_square(bars: Sequence[Bar]) -> int:
    """Changes of the arm where every bar is trimmed square first and the arm goes back to square after it.

    The convention of the published instances, which makes a bound provable; on the floor the arm stays where it is.
    """
    total = 0
    for bar in bars:
        square = Angles()
        cuts = [square, *(cut.angles for cut in bar.cuts), square]
        total += bar.count * sum(any(a.changes(b)[:2]) for a, b in pairwise(cuts))
    return total
