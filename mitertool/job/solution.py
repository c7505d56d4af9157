"""The one frozen answer that a packet is made of; values only."""

from __future__ import annotations

from functools import cached_property
from math import inf
from typing import TYPE_CHECKING

import attrs

from mitertool import job as jobs
from mitertool import nest, rack
from mitertool.frame.alternatives import PastTheScale, steep_braces
from mitertool.job.further import FurtherRow, left_at, rows_in_order, swings, uses
from mitertool.job.model import FrameOrder, Job
from mitertool.job.recut_pieces import RecutPiece, recut_uses
from mitertool.job.recuts import RecutRun
from mitertool.job.runs import Run, cuts_in_order
from mitertool.job.settings import ByCut, JobSetting, numbered
from mitertool.job.solved import SolvedPiece
from mitertool.job.sources import Source, sources
from mitertool.quantity.compare import longer
from mitertool.quantity.problem import Problem, Remark
from mitertool.quantity.problem_words import problem_says, problem_why, problems_in_lines
from mitertool.saw import Reach
from mitertool.words import counted, phrase

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from mitertool.job import Fit
    from mitertool.nest import Plan
    from mitertool.rack import BookedBar, Booking, RackBar


@attrs.frozen(repr=False)
class Solution:
    """A solved job: pieces in the order of the job, frames, the plan of bars (None without stock), `found` problems.

    `runs` is each bar of the plan as the saw works it off, `recuts` each recut of it; in which order they are done say
    the plan's `steps`. `refused` marks cannot be made and go on no bar. `again` are pieces that are cut already and
    become others, in a job of a rest.

    `numbers` are those that the left-overs get which it puts on the rack, in the order of the bars; empty where they
    are not known yet.

    `past` holds the mitered corners that ask for more than the scale has, with what may be done instead, by frame.
    """

    job: Job
    pieces: tuple[SolvedPiece, ...]
    frames: tuple[FrameOrder, ...]
    plan: Plan | None
    found: tuple[Problem, ...]
    past: tuple[PastTheScale, ...] = ()
    runs: tuple[Run, ...] = ()
    refused: frozenset[str] = frozenset()
    recuts: tuple[RecutRun, ...] = ()
    again: tuple[RecutPiece, ...] = ()
    numbers: tuple[int, ...] = ()

    def __repr__(self) -> str:
        bars = f", {sum(bar.count for bar in self.plan.bars)} bars" if self.plan else ""
        against = f", {len(self.found)} problems" if self.found else ""
        return f"<Solution {self.job.head.name}: {len(self.pieces)} marks, {len(self.frames)} frames{bars}{against}>"

    @cached_property
    def settings(self) -> tuple[JobSetting, ...]:
        """Every setting of the saw that the job asks for, in the order of work; empty without a saw file.

        Those that only pieces ask for that are recut into others come last.
        """
        on_bars = cuts_in_order(self.runs, self.pieces, self.recuts)
        return numbered((*on_bars, *uses(self.further), *recut_uses(self.again)))

    def setting_of(self, reach: Reach, grade: str) -> int:
        """The number of the setting that makes a cut of a bar of this grade; 0 for none."""
        return self._by_cut.number_of(reach, grade)

    @cached_property
    def _by_cut(self) -> ByCut:
        return ByCut.of(self.settings)

    @cached_property
    def further(self) -> tuple[FurtherRow, ...]:
        """The further cuts of pieces with more than one plane at an end, in the order of work, after the bars."""
        return rows_in_order(self.pieces, self.plan, [one.solved for one in self.again])

    @property
    def further_swings(self) -> int:
        """How often the arm is swung or the blade tilted for the further cuts."""
        return swings(self.further, left_at(self.plan))

    @property
    def swings(self) -> int:
        """All swings of the plan's bars and of the further cuts."""
        return (self.plan.swings if self.plan else 0) + self.further_swings

    @cached_property
    def on_rack(self) -> tuple[BookedBar, ...]:
        """What each bar of the plan takes off the rack and leaves on it; empty for a job that draws on none."""
        if self.plan is None or self.job.rack is None:
            return ()
        heats = (self.job.heats_of(bar) for bar in self.plan.bars)
        known = {number: told[0] for number, told in enumerate(heats, 1) if len(told) == 1}
        keep = inf if self.job.rack.keep is None else self.job.rack.keep
        bars = rack.booked(self.plan, self.job.rack.bars, keep, known, self.job.head.date)
        off = [(one.number, bar) for one, bar in self.off_cuts if self.goes_back(bar)]
        more = (rack.BookedBar(-number, copy, 0, bar) for copy, (number, bar) in enumerate(off, 1))
        return rack.numbered((*bars, *more), self.numbers)

    @property
    def raw_ends(self) -> bool:
        """Whether raw ends of bars become ends of pieces without that anybody said so."""
        return not self.job.trim_said and self.plan is not None and bool(self.plan.bars)

    @property
    def keeps(self) -> bool:
        """Whether the job says what of its left-overs goes back on the rack."""
        return self.job.rack is not None and self.job.rack.keep is not None

    def goes_back(self, bar: RackBar) -> bool:
        """Whether a left-over is long enough to go back on the rack."""
        keep = self.job.rack.keep if self.job.rack else None
        return keep is not None and not longer(keep, bar.square)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Where every bar of the plan comes from."""
        return self._sources[0]

    @property
    def off_rack(self) -> tuple[str, ...]:
        """The bars of the plan that are left-overs off the rack: number, and which of those alike."""
        return tuple(f"{one.number}.{one.copy}" for one in self.sources if one.rack)

    def heats(self, number: int, copy: int = 0) -> tuple[str, ...]:
        """The heats that the bars of a number may be of, or one of them alike; none where that of one is not told."""
        found: list[str] = []
        for one in self.sources:
            if one.number == number and copy in (0, one.copy):
                own = () if self.plan is None else self.job.heats_of(self.plan.bars[number - 1])
                found += [one.heat] if one.rack or one.recut else own or ("",)
        return tuple(dict.fromkeys(found)) if all(found) else ()

    def heat_of(self, mark: str) -> str:
        """The heat of all pieces of a mark; "" where that is not known, or not one."""
        marks = {mark, *(one.comes_with for one in self.pieces if one.mark == mark)}
        bars = enumerate(self.plan.bars if self.plan else (), 1)
        found = {self.heats(number) for number, bar in bars if any(one.mark in marks for one in bar.pieces)}
        heats = found.pop() if len(found) == 1 else ()
        return heats[0] if len(heats) == 1 else ""

    @property
    def heats_told(self) -> dict[str, str]:
        """The heats that are known of one bar each, by number and which of those alike, and of recut pieces."""
        bars = {f"{one.number}.{one.copy}": self.heats(one.number, one.copy) for one in self.sources}
        found = {name: heats[0] for name, heats in bars.items() if len(heats) == 1}
        return {**found, **{one.called: one.offer.heat for one in self.again if one.offer.heat}}

    @property
    def off_cuts(self) -> tuple[tuple[RecutPiece, RackBar], ...]:
        """What comes off pieces that are recut, of which no bar is made, with the recut."""
        return self._sources[1]

    @cached_property
    def _sources(self) -> tuple[tuple[Source, ...], tuple[tuple[RecutPiece, RackBar], ...]]:
        if self.plan is None:
            return (), ()
        return sources(self.plan, self.job.rack.bars if self.job.rack else (), self.again)

    @property
    def booking(self) -> Booking:
        """The same as the booking of the job and its revision."""
        head, drawn = self.job.head, self.job.rack
        whose = (drawn.rest if self.job.rest else drawn.whole) if drawn else (head.name, head.revision)
        if self.plan is None:
            return rack.Booking(*whose, "", head.date)
        work = rack.work_hash(head.revision, ((one.mark, one.quantity, one.piece) for one in self.pieces))
        return rack.Booking(*whose, rack.plan_hash(self.plan, self.on_rack), head.date, self.on_rack, work)

    @cached_property
    def fit(self) -> Fit:
        """What errors of tape and scale open, and how much of the job's tolerance they use up."""
        return jobs.fit_of(self.job, self.pieces)

    @property
    def problems(self) -> tuple[str, ...]:
        """Why it cannot be made as asked, a sentence each in the units of the job; empty where it can."""
        return tuple(problem_says(problem, self.job.head.units) for problem in self.found)

    @property
    def refusal(self) -> tuple[str, ...]:
        """All that is said where a job with problems is refused: they, what cures them, what fits the bars anyway."""
        return (*self.problems, *self._cures())

    @property
    def refusal_in_lines(self) -> tuple[str, ...]:
        """The same below how many marks it is told of, a line a reason; empty where one reason is all there is."""
        if len(self.found) < 2:
            return ()
        marks = len({problem.mark for problem in self.found})
        told = problems_in_lines(self.found, self.job.head.units)
        return counted("refuse.marks", marks), *told, *self._cures()

    def _cures(self) -> Iterator[str]:
        """What cures problems, and what fits the bars anyway."""
        wrong = {problem.mark for problem in self.found}
        yield from (one.in_units(self.job.head.units) for mark, one in self.steep.items() if mark in wrong)
        fits = nest.what_fits_says(self.plan) if self.plan else ""
        yield from [fits] if fits else []

    @cached_property
    def steep(self) -> Mapping[str, Remark]:
        """By their marks the braces whose tips ask for more than the scale has, with the ends that ask for less."""
        return {
            mark: one
            for frame in self.job.frames
            for mark, one in steep_braces(frame.assembly, self.job.swing_most).items()
        }

    @property
    def on_no_bar(self) -> str:
        """How many pieces of which marks the plan leaves out, with the first reason of those that cannot be made."""
        left_out = self.plan.left_out if self.plan else ()
        return ", ".join(self._left_out(mark, count) for mark, count in left_out)

    def _left_out(self, mark: str, count: int) -> str:
        if mark not in self.refused:
            return f"{count} {mark}"
        why = next(problem_why(problem, self.job.head.units) for problem in self.found if problem.mark == mark)
        return phrase("plan.left-out", count=count, mark=mark, why=why)

    @property
    def problem_marks(self) -> tuple[str, ...]:
        """The marks that cannot be made as asked, in the order of the job."""
        wrong = {problem.mark for problem in self.found}
        return tuple(piece.mark for piece in self.pieces if piece.mark in wrong)
