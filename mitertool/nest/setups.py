"""The set-ups of a day's work: how each cut is set, and what changes between cuts; knows plan and bar.

The first cut finds the arm where it stands, the arm stays where it is for the next bar, and a bar is laid on the saw as
its first piece lies. Where a cut can be set in two ways (rolled half a turn, the arm on the other side), the ways that
need the fewest or cheapest set-ups are chosen over the whole order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import reduce
from itertools import pairwise
from typing import Final

import attrs

from mitertool.bar import Angles, BarCut, Changes, short_way, ways
from mitertool.nest.plan import Bar, Makes
from mitertool.sections import Section, lies_over

_ROLL: Final = 1.001
"""Set-ups that a roll counts for where no rates are given: as much as a swing, which goes first among equals."""

_TOO_HEAVY: Final = 1e6
"""Set-ups that a roll counts for of a bar that is too heavy to be rolled: more than any work has."""


@attrs.frozen
class SetUpPrices:
    """What a swing, a tilt and a roll cost in the order of work."""

    swing: float = 1.0
    tilt: float = 1.0
    roll: float = _ROLL

    def of(self, changes: Changes) -> float:
        """What changes cost together."""
        return self.swing * changes.swings + self.tilt * changes.tilts + self.roll * changes.rolls


@attrs.frozen
class Laying:
    """What lies on the saw from one laying to the next: the ways to set each of its cuts in order.

    `free` are the rolls (degrees) of the first cut that are no set-up, None: all, as of a blank that is laid for its
    recut. `heavy`: it is not rolled between two cuts.
    """

    cuts: tuple[tuple[Angles, ...], ...]
    free: tuple[float, ...] | None = (0.0,)
    heavy: bool = False
    _steps: dict[SetUpPrices, tuple[Step, ...]] = attrs.field(factory=dict, init=False, eq=False, repr=False)

    def steps(self, cost: SetUpPrices) -> tuple[Step, ...]:
        """What it costs from each of its cuts to the next."""
        if cost not in self._steps:
            pairs = pairwise(self.cuts)
            self._steps[cost] = tuple([[self.step(a.changes(b), cost) for a in one] for b in two] for one, two in pairs)
        return self._steps[cost]

    def laid_in(self, first: Angles) -> Changes:
        """What the first cut takes of the bar as it is laid."""
        rolled = self.free is not None and all(first.changes(Angles(roll=roll)).rolls for roll in self.free)
        return Changes(rolls=int(rolled))

    def step(self, changes: Changes, cost: SetUpPrices) -> float:
        """What changes between two of its cuts cost."""
        return cost.of(changes) + (_TOO_HEAVY * changes.rolls if self.heavy else 0.0)


class Settings:
    """The ways in which a saw makes cuts, each looked for once."""

    def __init__(self, arm: Makes) -> None:
        self.arm = arm
        self._made: dict[tuple[int, BarCut, float], tuple[Angles, ...]] = {}
        self._over: dict[tuple[int, float], bool] = {}
        self._kept: list[Section] = []

    def of(self, cut: BarCut, section: Section, roll: float, stood: Sequence[float] = ()) -> tuple[Angles, ...]:
        """The ways to set a cut of a bar that lies as `section`, of a piece that lies as drawn when it is rolled so.

        `cut` is that of the piece as it lies. A square cut is the same however the bar is rolled, so it may also keep
        one of the rolls `stood` (degrees) of other cuts. Where the saw makes none the plain one stands; that the cut
        cannot be made is told elsewhere.
        """
        found = self.made(cut, section, roll)
        if cut.is_square:
            kept = (one for turn in stood if self.arm.makes(section, one := Angles(roll=turn)))
            return tuple(dict.fromkeys((*found, *kept))) or self._plain(cut, roll)
        return found or self._plain(cut, roll)

    def made(self, cut: BarCut, section: Section, roll: float = 0.0) -> tuple[Angles, ...]:
        """Every way in which the saw makes a cut, as the piece lies and rolled half a turn from there.

        Where only a half turn to where the section does not lie safely makes it, it is packed and cut so.
        """
        key = id(section), cut, roll
        if key not in self._made:
            self._kept.append(section)
            plain, over = (rolled_on(one, roll) for one in ways(cut, self.arm.tilts))
            safe = bool((plain.roll - roll) % 360) or self._lies_over(section, roll)
            both = [one for one in (plain, over) if (one is plain or safe) and self.arm.makes(section, one)]
            if not both and self.arm.makes(section, over):
                both = [over]
            self._made[key] = tuple(both)
        return self._made[key]

    def safely(self, cut: BarCut, section: Section) -> bool:
        """Whether the saw makes a cut of a piece as it lies, or rolled half a turn where the section lies safely so."""
        return any(one.roll == 0 or one.roll % 180 or self._lies_over(section, 0.0) for one in self.made(cut, section))

    def _lies_over(self, section: Section, roll: float) -> bool:
        key = id(section), roll
        if key not in self._over:
            self._kept.append(section)
            self._over[key] = lies_over(section.lay(-roll) if roll else section)
        return self._over[key]

    def _plain(self, cut: BarCut, roll: float) -> tuple[Angles, ...]:
        return (rolled_on(ways(cut, self.arm.tilts)[0], roll),)


def ways_to_set(cut: BarCut, section: Section, arm: Makes) -> tuple[Angles, ...]:
    """The ways in which a saw makes a cut of a piece that lies as `section`; the plain one where it makes none."""
    return Settings(arm).of(cut, section, 0.0)


def rolled_on(angles: Angles, roll: float) -> Angles:
    """The setting of a bar that is rolled on by so many degrees."""
    return attrs.evolve(angles, roll=short_way(angles.roll + roll)) if roll else angles


def odd_rolls(options: Iterable[Sequence[Angles]]) -> tuple[float, ...]:
    """The rolls of less or more than half a turn among ways to set cuts, each once, degrees."""
    rolls = (one.roll for found in options for one in found)
    return tuple(dict.fromkeys(short_way(roll) for roll in rolls if roll % 180))


def choose(turns: Sequence[Laying], cost: SetUpPrices) -> list[list[Angles]]:
    """One setting for each cut of each turn, so that the whole order of work costs the least."""
    cuts = [options for turn in turns for options in turn.cuts]
    if not cuts:
        return [[] for _ in turns]
    steps = list(_steps(turns, cost))
    totals, came = [cost.of(turns[0].laid_in(one)) for one in cuts[0]], list[list[int]]()
    for step in steps:
        sums = [[total + more for total, more in zip(totals, row, strict=True)] for row in step]
        totals = [min(row) for row in sums]
        came.append([row.index(least) for row, least in zip(sums, totals, strict=True)])
    at = totals.index(min(totals))
    chosen = [cuts[-1][at]]
    for options, back in zip(reversed(cuts[:-1]), reversed(came), strict=True):
        at = back[at]
        chosen.append(options[at])
    rest = iter(reversed(chosen))
    return [[next(rest) for _ in turn.cuts] for turn in turns]


Step = Sequence[Sequence[float]]
"""What it costs from each way to set one cut to each way to set the next: a row for each of these."""


def _steps(turns: Sequence[Laying], cost: SetUpPrices) -> Iterator[Step]:
    """From cut to cut of all work."""
    for number, turn in enumerate(turns):
        if number:
            yield _laid_next(turns[number - 1].cuts[-1], turn, cost)
        yield from turn.steps(cost)


def _laid_next(before: Sequence[Angles], turn: Laying, cost: SetUpPrices) -> Step:
    """What the arm stands at stays; how what comes next is laid belongs to itself."""
    rolls = [turn.laid_in(two).rolls for two in turn.cuts[0]]
    pairs = zip(turn.cuts[0], rolls, strict=True)
    return [[cost.of(one.changes(two)._replace(rolls=roll)) for one in before] for two, roll in pairs]


def count(bar: Sequence[Angles]) -> Changes:
    """What is set from the first cut of a bar to its last, and the roll in which its first cut finds it."""
    laid_in = Changes(rolls=bar[0].changes(Angles()).rolls if bar else 0)
    return reduce(Changes.plus, (a.changes(b) for a, b in pairwise(bar)), laid_in)


def between(before: Angles, after: Angles) -> Changes:
    """What is set from the last cut of a bar to the first of the next; how that is laid in belongs to itself."""
    return before.changes(after)._replace(rolls=0)


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
