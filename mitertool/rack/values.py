"""A left-over on the rack, and what a job has booked of it; values only."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.bar import BarCut
from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.quantity.keys import exact
from mitertool.sections import Section
from mitertool.words import phrase

LONGEST: Final = 24_000.0
"""mm. No bar is sold longer: common practice, no source; more is a slip of the unit."""


ALL: Final = "all"
"""Names every bar of a booking."""


def called(job: str, revision: str) -> str:
    """Job and revision in words."""
    return f"{job} {revision}".strip()


@attrs.frozen
class Claim:
    """A job and revision that has a left-over booked, or whose plan left it: by which bar of which plan."""

    job: str
    revision: str = ""
    plan: str = ""
    number: int = 0
    copy: int = 1

    @property
    def whose(self) -> tuple[str, str]:
        """Job and revision."""
        return self.job, self.revision

    @property
    def called(self) -> str:
        """Job and revision in words."""
        return called(self.job, self.revision)


@attrs.frozen
class RackBar:
    """A left-over: its `length` (mm) as a tape measures it, tip to tip, and how its ends stand.

    `left` and `right` are its ends as a piece has them, of the section as the catalogue draws it. `square` is the
    length (mm) that both ends leave whole, which is what a plan may use. `number` is its own on the rack, 0 before it
    lies there; `place`, `heat` and `date` are the shop's words. `taken`: who has booked it. `came`: whose plan will
    leave it; None as soon as that is closed as cut. `bought` is the job that it was bought for, of a whole bar of new
    steel that lies there uncut; "" of any other.
    """

    section: str
    length: float
    square: float
    grade: str = ""
    heat: str = ""
    left: Cut = Cut()
    right: Cut = Cut()
    place: str = ""
    date: str = ""
    number: int = 0
    taken: Claim | None = None
    came: Claim | None = None
    bought: str = ""

    @property
    def expected(self) -> bool:
        """Whether it lies there only when the bar that leaves it is cut."""
        return self.came is not None


def slanted(cut: Cut, section: Section) -> float:
    """How much of a bar's length (mm) an end takes off the part that is whole."""
    return 2 * BarCut(cut).half_reach(section)


def rack_bar(section: Section, length: float, left: Cut, right: Cut, **more: Any) -> RackBar:
    """A left-over of a length, tip to tip. Raises `BadInput` where no such bar can be."""
    if not 0 < length <= LONGEST:
        raise BadInput("length", exact(length), phrase("rack.no-such-length", most=f"{LONGEST:g}"))
    square = length - slanted(left, section) - slanted(right, section)
    if square <= 0:
        raise BadInput("ends", exact(square), phrase("rack.nothing-whole"))
    return attrs.evolve(RackBar(section.name, length, square, left=left, right=right), **more)


@attrs.frozen
class BookedBar:
    """A bar of a plan, by its number on the sheet and which of the bars cut alike: what it takes and what it leaves.

    `takes` is the number of the left-over that it is, 0 for any other steel; `leaves` is None where nothing worth
    keeping. `new` is the whole bar of new steel that it is, None for any other. A recut of pieces that are cut already
    has its number with a minus before it: what comes off them.
    """

    number: int
    copy: int
    takes: int = 0
    leaves: RackBar | None = None
    new: RackBar | None = None

    @property
    def called(self) -> str:
        """Its number in words."""
        number = f"R{-self.number}" if self.number < 0 else f"{self.number}"
        return number if self.copy == 1 else f"{number}.{self.copy}"

    def is_among(self, bars: Collection[str]) -> bool:
        """Whether it is one of the bars of these numbers; a number alone means all that are cut alike."""
        number = self.called.partition(".")[0]
        return bool({self.called, number, f"{number}.{self.copy}", ALL} & set(bars))


@attrs.frozen
class Booking:
    """What the plan of a job and revision takes off the rack and leaves on it.

    `plan` is a hash of that plan, and `work` one of the pieces that it cuts, from whatever bars; "" where booked by
    hand.
    """

    job: str
    revision: str
    plan: str
    date: str = ""
    bars: tuple[BookedBar, ...] = ()
    work: str = ""

    @property
    def called(self) -> str:
        """Job and revision in words."""
        return called(self.job, self.revision)

    def name(self, bar: BookedBar) -> str:
        """The number of a bar in words, with which it is of those that are cut alike."""
        alike = sum(one.number == bar.number for one in self.bars) > 1
        return f"{bar.called}.{bar.copy}" if alike and bar.copy == 1 else bar.called

    @property
    def takes(self) -> tuple[int, ...]:
        """The numbers of the left-overs that it takes."""
        return tuple(bar.takes for bar in self.bars if bar.takes)


@attrs.frozen
class Closed:
    """A booking that was closed when some of it was cut: the `bars` that were, by their numbers on the sheet."""

    job: str
    revision: str
    plan: str
    work: str
    bars: tuple[str, ...]


@attrs.frozen
class Freed:
    """A booking that was given back: what it was, what of it was `cut`, and the left-overs that lie free again.

    `new` are bars of new steel that were neither cut nor told as bought, `added` those that were told, as they lie
    there; `begun` were cut in part.
    """

    booking: Booking
    cut: tuple[BookedBar, ...]
    free: tuple[int, ...]
    new: tuple[BookedBar, ...]
    added: tuple[RackBar, ...]
    begun: tuple[BookedBar, ...] = ()


@attrs.frozen
class DrawnOn:
    """A rack that a job draws on: its file, what the job may have of it, and from which length on (mm) it goes back.

    `bars` are for the whole job, `for_rest` for what remains of it when some is cut; `lying` is all that lies there
    and that nobody has booked, `left` all that bars of the job leave or left there, whatever became of it. `whole`
    and `rest` are by what job and revision either is booked. `keep` is None where the job does not say. `as_cut` is
    what of `left` lies there, by the revision and the bar that was told as cut, with its number.
    """

    file: Path
    whole: tuple[str, str] = ("", "")
    rest: tuple[str, str] = ("", "")
    bars: tuple[RackBar, ...] = ()
    for_rest: tuple[RackBar, ...] = ()
    lying: tuple[RackBar, ...] = ()
    left: tuple[RackBar, ...] = ()
    keep: float | None = None
    as_cut: tuple[tuple[str, str, int], ...] = ()
