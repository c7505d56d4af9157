"""The set-ups of a day's work: how each cut is set, and what changes between cuts; knows plan, spacing, sections.

The first cut finds the arm where it stands, the arm stays where it is for the next bar, and a new bar may be laid in
rolled or not. Where a cut can be set in two ways (rolled half a turn, the arm on the other side), the ways that need
the fewest or cheapest set-ups are chosen over the whole order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import pairwise
from math import atan, atan2, cos, degrees, hypot
from typing import Final, NamedTuple

import attrs

from mitertool.base.tolerances import SAME_SETTING, SAME_SLOPE
from mitertool.nest.plan import Arm, Bar, Rates
from mitertool.nest.spacing import SQUARE, Slope
from mitertool.saw.reach import short_way
from mitertool.sections import Section, lies_over

_ROLL: Final = 1.001
"""Set-ups that a roll counts for where no rates are given: as much as a swing, which goes first among equals."""


@attrs.frozen
class Setting:
    """How one cut is set, degrees."""

    swing: float
    tilt: float
    roll: float

    @property
    def as_set(self) -> tuple[float, float, float]:
        """Swing, tilt and roll."""
        return self.swing, self.tilt, self.roll

    def changes(self, other: Setting) -> Changes:
        """What is set anew between the two, each 0 or 1."""
        return Changes(
            int(abs(self.swing - other.swing) > SAME_SETTING),
            int(abs(self.tilt - other.tilt) > SAME_SETTING),
            int(abs(short_way(self.roll - other.roll)) > SAME_SETTING),
        )


class Changes(NamedTuple):
    """Swings of the arm, tilts of the blade, rolls of the bar."""

    swings: int = 0
    tilts: int = 0
    rolls: int = 0

    def plus(self, other: Changes) -> Changes:
        """Both together."""
        return Changes(*(a + b for a, b in zip(self, other, strict=True)))


@attrs.frozen
class Prices:
    """What a swing or a tilt, and what a roll costs in the order of work."""

    swing: float = 1.0
    roll: float = _ROLL


def prices(rates: Rates | None) -> Prices:
    """By the rates, else one set-up as dear as another."""
    return Prices() if rates is None else Prices(rates.money(1, 0), rates.money(0, 1))


def settings(slope: Slope, section: Section, arm: Arm, rolls: bool, stood: Sequence[float] = ()) -> tuple[Setting, ...]:
    """The ways to set a cut of this slope: as the bar lies, and rolled where the section lies safely so.

    With `rolls` both are offered, else the rolled one only where the saw does not make the plain one. A square cut is
    the same however the bar is rolled, so it may also keep one of the rolls `stood` (degrees) of other cuts. Where
    the saw makes none the plain one stands; that the cut cannot be made is told elsewhere.
    """
    ways = makeable(slope, section, arm) or _packed(slope, section, arm)
    if slope.parallel(SQUARE):
        kept = (Setting(0.0, 0.0, roll) for roll in stood if arm.makes(section, 0.0, 0.0, roll))
        return (*ways, *kept) or (_both(slope, arm)[0],)
    free = rolls or any(one.roll % 180 for one in ways)
    return ways[: None if free else 1] or (_both(slope, arm)[0],)


def odd_rolls(slopes: Iterable[Slope], section: Section, arm: Arm) -> tuple[float, ...]:
    """The rolls of less or more than half a turn that cuts of these slopes ask for, each once, degrees."""
    rolls = (one.roll for slope in slopes for one in settings(slope, section, arm, True))
    return tuple(dict.fromkeys(short_way(roll) for roll in rolls if roll % 180))


def makeable(slope: Slope, section: Section, arm: Arm) -> tuple[Setting, ...]:
    """Every way in which the saw makes a cut of this slope, as the bar lies and rolled half a turn from there."""
    plain, rolled = _both(slope, arm)
    safe = bool(plain.roll) or lies_over(section)
    return tuple(one for one in (plain, rolled) if (one is plain or safe) and arm.makes(section, *one.as_set))


def _packed(slope: Slope, section: Section, arm: Arm) -> tuple[Setting, ...]:
    """The bar rolled half a turn to where it does not lie safely and is packed, where nothing else makes the cut."""
    rolled = _both(slope, arm)[1]
    return (rolled,) if arm.makes(section, *rolled.as_set) else ()


def _both(slope: Slope, arm: Arm) -> tuple[Setting, Setting]:
    """The bar as it lies, or rolled for a bevel of a blade that does not tilt; and half a turn further."""
    swing = atan(slope.p)
    if abs(slope.q) <= SAME_SLOPE or arm.tilts:
        plain = Setting(degrees(swing), degrees(atan(slope.q * cos(swing))), 0.0)
    else:
        plain = Setting(degrees(atan(hypot(slope.p, slope.q))), 0.0, degrees(atan2(slope.q, slope.p)))
    return plain, Setting(-plain.swing + 0.0, -plain.tilt + 0.0, plain.roll + 180.0)


Bars = Sequence[Sequence[tuple[Setting, ...]]]


def choose(bars: Bars, cost: Prices) -> list[list[Setting]]:
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


def _change(one: Setting, two: Setting, new_bar: bool, cost: Prices) -> float:
    changes = one.changes(two)
    return cost.swing * (changes.swings + changes.tilts) + cost.roll * (0 if new_bar else changes.rolls)


def count(bar: Sequence[Setting]) -> Changes:
    """What is set from the first cut of a bar to its last, and the roll in which its first cut finds it."""
    laid_in = Changes(rolls=int(bool(bar) and abs(short_way(bar[0].roll)) > SAME_SETTING))
    return reduce(Changes.plus, (a.changes(b) for a, b in pairwise(bar)), laid_in)


def count_all(bars: Sequence[Sequence[Setting]]) -> Changes:
    """What is set for bars one after another; how a new bar is laid in belongs to that bar."""
    between = (a[-1].changes(b[0])._replace(rolls=0) for a, b in pairwise(bars))
    return reduce(Changes.plus, (*map(count, bars), *between), Changes())


def swings_from_square(bars: Sequence[Bar]) -> int:
    """Changes of the arm where every bar is trimmed square first and the arm goes back to square after it.

    The convention of the published instances, which makes a bound provable; on the floor the arm stays where it is.
    """
    total = 0
    for bar in bars:
        square = Setting(0.0, 0.0, 0.0)
        cuts = [square, *(Setting(cut.swing, cut.tilt, cut.roll) for cut in bar.cuts), square]
        total += bar.count * sum(any(a.changes(b)[:2]) for a, b in pairwise(cuts))
    return total
