"""The set-ups of a day's work: how each cut is set, and what changes between cuts; knows plan, spacing, sections.

The first cut finds the arm where it stands, the arm stays where it is for the next bar, and a new bar may be laid in
rolled or not. Where a cut can be set in two ways (rolled half a turn, the arm on the other side), the ways that need
the fewest or cheapest set-ups are chosen over the whole order.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan, atan2, cos, degrees, hypot, radians, tan
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.nest.plan import Arm, Bar, Rates
from mitertool.nest.spacing import Slope
from mitertool.sections import Section, lies_safely

_SAME: Final = 1e-7
"""degrees. Rolls closer than this are one, and an arm reaches this far past its stop: far below any scale."""
_ROLL: Final = 1.001
"""Set-ups that a roll counts for where no rates are given: as much as a swing, which goes first among equals."""


@attrs.frozen
class Setting:
    """How one cut is set, degrees."""

    swing: float
    tilt: float
    roll: float

    @property
    def slope(self) -> Slope:
        """The slope that the blade cuts across a bar that is not rolled."""
        swing, tilt = radians(self.swing), radians(self.tilt)
        return Slope(tan(swing), tan(tilt) / cos(swing))

    def same_arm(self, other: Setting) -> bool:
        """Whether the arm stays."""
        return self.slope.parallel(other.slope)

    def same_roll(self, other: Setting) -> bool:
        """Whether the bar stays."""
        return abs((self.roll - other.roll + 180) % 360 - 180) <= _SAME


@attrs.frozen
class Prices:
    """What a swing and a roll cost in the order of work."""

    swing: float = 1.0
    roll: float = _ROLL


def prices(rates: Rates | None) -> Prices:
    """By the rates, else one set-up as dear as another."""
    return Prices() if rates is None else Prices(rates.money(1, 0), rates.money(0, 1))


def settings(slope: Slope, section: Section, arm: Arm, rolls: bool) -> tuple[Setting, ...]:
    """The ways to set a cut of this slope: as the bar lies, and rolled where the section lies safely so.

    With `rolls` both are offered, else the rolled one only where the arm does not reach the plain one. Where it
    reaches none the plain one stands; that the cut cannot be made is told elsewhere.
    """
    swing = atan(slope.p)
    if abs(slope.q) <= SAME_SLOPE or arm.tilts:
        plain = Setting(degrees(swing), degrees(atan(slope.q * cos(swing))), 0.0)
    else:
        plain = Setting(degrees(atan(hypot(slope.p, slope.q))), 0.0, degrees(atan2(slope.q, slope.p)))
    rolled = Setting(-plain.swing, -plain.tilt, plain.roll + 180.0)
    safe = bool(plain.roll) or lies_safely(section.lay(180))
    options = [one for one in (plain, rolled) if _reaches(arm, one) and (one is plain or safe)] or [plain]
    return tuple(options if rolls or plain.roll else options[:1])


def _reaches(arm: Arm, one: Setting) -> bool:
    swings = -arm.discharge_side_most - _SAME <= one.swing <= arm.feed_side_most + _SAME
    return swings and arm.tilt_lowest - _SAME <= one.tilt <= arm.tilt_highest + _SAME


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
    return cost.swing * (not one.same_arm(two)) + cost.roll * (not (new_bar or one.same_roll(two)))


def count(bar: Sequence[Setting]) -> tuple[int, int]:
    """Swings and rolls from the first cut of a bar to its last."""
    pairs = list(pairwise(bar))
    return sum(not a.same_arm(b) for a, b in pairs), sum(not a.same_roll(b) for a, b in pairs)


def count_all(bars: Sequence[Sequence[Setting]]) -> tuple[int, int]:
    """Swings and rolls of bars one after another."""
    inside = [count(bar) for bar in bars]
    between = sum(not a[-1].same_arm(b[0]) for a, b in pairwise(bars))
    return sum(swings for swings, _ in inside) + between, sum(rolls for _, rolls in inside)


def swings_from_square(bars: Sequence[Bar]) -> int:
    """Changes of the arm where every bar is trimmed square first and the arm goes back to square after it.

    The convention of the published instances, which makes a bound provable; on the floor the arm stays where it is.
    """
    total = 0
    for bar in bars:
        square = Setting(0.0, 0.0, 0.0)
        cuts = [square, *(Setting(cut.swing, cut.tilt, cut.roll) for cut in bar.cuts), square]
        total += bar.count * count(cuts)[0]
    return total
