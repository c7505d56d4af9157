"""What is put on bars, the bars, and the plan that comes out; values only."""

from __future__ import annotations

from math import isfinite
from typing import Any, Final, Protocol

import attrs

from mitertool.bar import Angles, BarCut
from mitertool.base.errors import BadInput
from mitertool.base.shown import Shown
from mitertool.nest.way_names import BAR_BY_BAR
from mitertool.piece import Piece
from mitertool.quantity.compare import reaches, same_length
from mitertool.quantity.problem import Remark
from mitertool.sections import Section
from mitertool.words import phrase

Group = tuple[str, str]
"""A section and a grade: what may share bars."""

INTERRUPTED: Final = "interrupted"
"""Why a search ended that the user stopped."""


def _from_zero(_: object, attribute: attrs.Attribute[Any], value: float) -> None:
    if not (isfinite(value) and value >= 0):
        raise BadInput(attribute.name, value, phrase("refuse.of-0-or-more", name=attribute.name))


@attrs.frozen
class Item:
    """`quantity` pieces of one mark; `turn` holds the poses they may take (empty: all that the section allows).

    `refused` pieces go on no bar: they cannot be made, for a reason that is told elsewhere. Of a blank `piece` is what
    leaves the bar, `recut` the end, "left" or "right" as drawn, that is cut later, and `whole` the finished piece.
    """

    mark: str
    piece: Piece
    quantity: int = attrs.field(validator=_from_zero)
    grade: str = ""
    turn: tuple[str, ...] = ()
    refused: bool = False
    recut: str = ""
    whole: Piece | None = None

    @property
    def group(self) -> Group:
        """Its section and its grade."""
        return self.piece.section.name, self.grade

    @property
    def poses(self) -> tuple[str, ...]:
        """The poses that both the section and the mark allow."""
        return tuple(pose for pose in self.piece.poses if not self.turn or pose in self.turn)


@attrs.frozen
class Stock:
    """Bars to cut from: `quantity` None means as many as needed; `cost` defaults to the length (mm)."""

    section: str
    length: float
    grade: str = ""
    quantity: int | None = attrs.field(default=None, validator=attrs.validators.optional(_from_zero))
    cost: float | None = attrs.field(default=None, validator=attrs.validators.optional(_from_zero))
    bars: int = 1

    @property
    def group(self) -> Group:
        """Its section and its grade."""
        return self.section, self.grade

    def same_bar(self, other: Stock) -> bool:
        """Whether both are bars of one section, grade and length."""
        return self.group == other.group and same_length(self.length, other.length)

    @property
    def price(self) -> float:
        """Cost of one bar, its length where no cost is given; of a row that of all its `bars`."""
        return (self.length if self.cost is None else self.cost) * self.bars


class Makes(Protocol):
    """What a saw makes of a bar, asked without knowing the saw."""

    @property
    def tilts(self) -> bool:
        """Whether its blade tilts."""

    def makes(self, section: Section, angles: Angles) -> bool:
        """Whether it makes a cut of a bar so laid and so set."""

    def minutes(self, section: Section, angles: Angles) -> float | None:
        """How long the blade takes for such a cut by the shop's own rates; None where there are none."""


@attrs.frozen
class ArmLimits:
    """Where an arm goes, degrees from square to either side, whether the blade tilts, and between which angles."""

    feed_side_most: float = 90.0
    discharge_side_most: float = 90.0
    tilts: bool = True
    tilt_lowest: float = -90.0
    tilt_highest: float = 90.0

    def makes(self, section: Section, angles: Angles) -> bool:  # noqa: ARG002
        """Whether it goes so far; nothing else stands in the way."""
        swings = reaches(angles.swing, -self.discharge_side_most, self.feed_side_most)
        return swings and reaches(angles.tilt, self.tilt_lowest, self.tilt_highest)

    def minutes(self, section: Section, angles: Angles) -> float | None:  # noqa: ARG002
        """Not known."""
        return None


ANY_ARM = ArmLimits()
"""An arm that swings and tilts to every angle."""


@attrs.frozen
class Rates:
    """What the work costs: minutes of a swing, a roll, a tilt, and money for an hour.

    `load_minutes` are those of a bar that is laid on the feed, `recut_minutes` of a blank that is laid and stopped
    again. A tilt takes as long as a swing where nobody says.
    """

    swing_minutes: float = attrs.field(validator=_from_zero)
    roll_minutes: float = attrs.field(validator=_from_zero)
    per_hour: float = attrs.field(validator=_from_zero)
    load_minutes: float = attrs.field(default=0.0, validator=_from_zero)
    recut_minutes: float = attrs.field(default=0.0, validator=_from_zero)
    tilt_minutes: float | None = attrs.field(default=None, validator=attrs.validators.optional(_from_zero))

    def minutes(self, swings: int, rolls: int, tilts: int = 0, loads: int = 0, recuts: int = 0) -> float:
        """Time of set-ups, of bars laid on the feed and of blanks laid again, minutes."""
        tilt = self.swing_minutes if self.tilt_minutes is None else self.tilt_minutes
        setups = swings * self.swing_minutes + tilts * tilt + rolls * self.roll_minutes
        return setups + loads * self.load_minutes + recuts * self.recut_minutes

    def money(self, minutes: float) -> float:
        """Cost of so many minutes."""
        return minutes / 60 * self.per_hour


@attrs.frozen
class Handling:
    """The heaviest bar that is rolled between two cuts and the heaviest that is turned end for end, kg; None: any."""

    roll_most: float | None = None
    turn_most: float | None = None


LIFTS_ALL = Handling()
"""Nothing is too heavy."""


@attrs.frozen
class Placed:
    """A piece on a bar: its mark and pose, and where its leading cut crosses the centerline from the bar's end, mm.

    `lay` is how far the bar is rolled, degrees, from how it lies until the piece lies as its own lay says; 0 where the
    bar lies so. Of a blank `recut` is the end, "left" or "right" as drawn, that is cut later, and `blank` its length on
    the centerline, mm; a finished piece has "" and 0.
    """

    mark: str
    pose: str
    at: float
    lay: float = 0.0
    recut: str = ""
    blank: float = 0.0


@attrs.frozen
class SawCut:
    """One cut of a bar in the order of work; lengths are mm from the leading end of the raw bar.

    The plane of the piece's face crosses the centerline at `at`, the bottom of the fixed side at `fixed` and of the
    moving side at `moving`; on the centerline the blade takes from `kerf_from` to `kerf_to`. `shared` cuts part two
    pieces. `cut` is the plane itself, `angles` is how it is set.
    """

    at: float
    fixed: float
    moving: float
    kerf_from: float
    kerf_to: float
    shared: bool
    cut: BarCut
    angles: Angles

    @property
    def swing(self) -> float:
        """Swing of the arm, degrees."""
        return self.angles.swing

    @property
    def tilt(self) -> float:
        """Tilt of the blade, degrees."""
        return self.angles.tilt

    @property
    def roll(self) -> float:
        """Roll of the bar, degrees."""
        return self.angles.roll

    @property
    def kerf_lies(self) -> str:
        """On which side of the face's places the blade takes its kerf: "before", toward the leading end, or "past"."""
        return "before" if self.kerf_from < self.at else "past"


@attrs.frozen
class Steel:
    """Where the steel of some bars goes, mm on the centerline; `bought` is the sum of all the others."""

    bought: float = 0.0
    pieces: float = 0.0
    kerf: float = 0.0
    wedges: float = 0.0
    trim: float = 0.0
    grip: float = 0.0
    drops: float = 0.0

    def plus(self, other: Steel, times: int = 1) -> Steel:
        """Both together, the other so many times."""
        mine, theirs = attrs.astuple(self), attrs.astuple(other)
        return Steel(*(a + b * times for a, b in zip(mine, theirs, strict=True)))


@attrs.frozen
class Bar:
    """`count` bars cut alike. `drop` is what is left behind the last kerf, on the centerline, the grip with it, mm.

    `swings`, `rolls` and `tilts` count the set-ups from the first cut of a bar to its last; `price` is the cost of one
    bar.
    """

    section: Section
    grade: str
    stock_length: float
    count: int
    pieces: tuple[Placed, ...]
    drop: float
    swings: int
    rolls: int = 0
    price: float = 0.0
    cuts: tuple[SawCut, ...] = ()
    steel: Steel = Steel()
    tilts: int = 0

    @property
    def left_whole(self) -> float:
        """What of it is whole behind the last kerf, of bars side by side that of the shortest, mm."""
        return max(0.0, self.drop - self.cuts[-1].cut.half_reach(self.section)) if self.cuts else self.stock_length

    @property
    def rests(self) -> tuple[float, ...]:
        """What of it is whole behind each cut, from where the last steel ends that its kerf touches, mm."""
        behind = (self.stock_length - cut.kerf_to - cut.cut.half_reach(self.section) for cut in self.cuts)
        return tuple(max(0.0, rest) for rest in behind)

    @property
    def left_over(self) -> float:
        """How much of it lies behind the last kerf, tip to tip, where its far end is square, mm."""
        return self.drop + self.cuts[-1].cut.half_reach(self.section) if self.cuts else self.stock_length


@attrs.frozen
class Recut:
    """`count` blanks of one mark whose other `end`, "left" or "right" as drawn, is cut at one setting, one by one.

    They are cut when `after` of the plan's bars (entries, not single bars) are done. The blank lies on the feed side in
    `pose` against the drawing of the mark, its finished end behind the vise, in the lay of `section`; `blank` is its
    length on the centerline and `length` that of the finished piece, mm. `fixed` and `moving` are how long the finished
    piece is along the bottom of either side as it lies. `cut` is the plane, `angles` how it is set.
    """

    mark: str
    section: Section
    grade: str
    count: int
    end: str
    pose: str
    after: int
    blank: float
    length: float
    fixed: float
    moving: float
    cut: BarCut
    angles: Angles


@attrs.frozen
class GroupWay:
    """The way in which the bars of one section and grade are worked off."""

    section: str
    grade: str
    way: str


@attrs.frozen
class WorkStep:
    """What is done next: the number of a `bar` or of a `recut` in those of the plan, counted from 0; the other None."""

    bar: int | None = None
    recut: int | None = None


@attrs.frozen
class Bound:
    """A cost that no plan for one section and grade can beat, and what is needed to find it again.

    `how` is "material": each piece takes its weight (mm: centerline and half of each kerf) of a bar's usable length,
    so the cheapest whole bars that hold the sum cost `cost`. Or "prices": no bar is worth more than it costs when
    each piece is worth its price, so the sum of the prices, less what limited bars earn above their cost, is
    `plain`; `cost` is the least that whole bars can cost which hold the weights and cost at least `plain`. Or "every
    bar": that bound was too low, and of all bars that could be in a cheaper plan none make one. `worth` holds weight
    or price by mark.
    """

    section: str
    grade: str
    cost: float
    how: str
    plain: float
    worth: tuple[tuple[str, float], ...] = ()


@attrs.frozen
class Alternative:
    """One way to cut the job, and what the whole of the work takes.

    `name` is "chosen", one of `WAYS`, "least steel" or "fewest set-ups"; `way` is one of `WAYS`. `recuts` are counted
    in `cuts`. `steel` is the length bought, mm; `minutes` are of all work that the rates tell, None without; `money` is
    steel and work, None where they are not added up. A tilt of the blade is a set-up of its own.
    """

    name: str
    way: str
    cuts: int
    recuts: int
    swings: int
    rolls: int
    tilts: int
    loads: int
    steel: float
    cost: float
    minutes: float | None
    money: float | None

    @property
    def setups(self) -> int:
        """Swings, tilts and rolls together."""
        return self.swings + self.tilts + self.rolls


@attrs.frozen(repr=False)
class Plan(Shown):
    """Bars in the order of work, what they cost, a lower bound of that cost and whether the plan is proved best.

    `objective` is "steel, then set-ups", or "cost" where rates are given: then `shop_cost` (steel and set-ups) is
    least, and `shop_bound` bounds it. `bounds` tells how `lower_bound` was obtained. `setups_bound` bounds swings,
    tilts and rolls together, where steel goes first in plans with as little. `tip_to_tip` is the cost where each
    piece is counted tip to tip and put on the first bar that takes it (None where stock does not go round).
    `stopped` is "" or why the search ended early: "effort", "time", "interrupted"; a plan that was stopped early
    may still be proved. `left_out` are marks of which so many pieces are on no bar: they fit none or are refused.
    Bounds hold for the pieces on bars, and `searched` says which plans were searched, a clause each.

    `way` is one of `WAYS`, `ways` that of each section and grade; `recuts` are the second ends of blanks, `steps` all
    the work in its order. `loads` counts bars laid on the feed. `minutes` are of set-ups, loads and recuts,
    `blade_minutes` of the blade in the cuts. `remarks` say what of the ways and of the objective could not be had;
    `alternatives` is what was weighed, the chosen plan first: none of them is better.
    """

    bars: tuple[Bar, ...]
    cost: float
    lower_bound: float
    proved: bool
    swings: int
    rolls: int = 0
    objective: str = "steel, then set-ups"
    bounds: tuple[Bound, ...] = ()
    setups_bound: int = 0
    steel: Steel = Steel()
    tip_to_tip: float | None = None
    shop_cost: float | None = None
    shop_bound: float | None = None
    minutes: float | None = None
    stopped: str = ""
    left_out: tuple[tuple[str, int], ...] = ()
    searched: tuple[Remark, ...] = (Remark("searched.ways", (), "bar-by-bar"),)
    tilts: int = 0
    way: str = BAR_BY_BAR
    ways: tuple[GroupWay, ...] = ()
    recuts: tuple[Recut, ...] = ()
    loads: int = 0
    remarks: tuple[Remark, ...] = ()
    blade_minutes: float | None = None
    alternatives: tuple[Alternative, ...] = ()

    def __repr__(self) -> str:
        bars = sum(bar.count for bar in self.bars)
        best = "proved best" if self.proved else f"at least {self.lower_bound:g}"
        return f"<Plan: {bars} bars, cost {self.cost:g}, {best}; {self.swings} swings, {self.rolls} rolls>"

    @property
    def cut_short(self) -> bool:
        """Whether the user stopped the search: another run may find another plan."""
        return self.stopped == INTERRUPTED

    @property
    def within(self) -> tuple[str, ...]:
        """Which plans were searched, a clause each."""
        return tuple(one.in_units("mm") for one in self.searched)

    @property
    def setups(self) -> int:
        """Swings, tilts and rolls together."""
        return self.swings + self.tilts + self.rolls

    @property
    def cuts(self) -> int:
        """Cuts in all, recuts among them."""
        return sum(len(bar.cuts) * bar.count for bar in self.bars) + self.recut_count

    @property
    def recut_count(self) -> int:
        """Blanks that get their other end."""
        return sum(recut.count for recut in self.recuts)

    @property
    def steps(self) -> tuple[WorkStep, ...]:
        """Bars and recuts in the order of work."""
        before = [[i for i, one in enumerate(self.recuts) if one.after == done] for done in range(len(self.bars) + 1)]
        steps = [WorkStep(recut=i) for i in before[0]]
        for number in range(len(self.bars)):
            steps += [WorkStep(bar=number), *(WorkStep(recut=i) for i in before[number + 1])]
        return tuple(steps)

    @property
    def settings(self) -> tuple[Angles, ...]:
        """How arm and blade stand one after another over the whole job, each time that they are set; no rolls."""
        found: list[Angles] = []
        for one in (angles for step in self.steps for angles in self._angles(step)):
            if not found or any(one.changes(found[-1])[:2]):
                found.append(Angles(one.swing, one.tilt))
        return tuple(found)

    def _angles(self, step: WorkStep) -> list[Angles]:
        if step.recut is not None:
            return [self.recuts[step.recut].angles]
        bar = self.bars[step.bar or 0]
        return [cut.angles for cut in bar.cuts] * bar.count
