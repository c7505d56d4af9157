"""Each bar of a plan as the saw works it off: its cuts, what is keyed or where the stop stands, and its time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from math import inf
from typing import TYPE_CHECKING

import attrs

from mitertool import nest
from mitertool.bar import BarPiece, kerfs_of
from mitertool.base.totals import summed
from mitertool.job.recuts import RecutRun
from mitertool.job.settings import Use
from mitertool.job.solved import SolvedPiece
from mitertool.piece import Piece
from mitertool.piece.poses import HALF_OVER, OTHER_END, end_in
from mitertool.quantity.problem import Problem
from mitertool.saw import Machine, Reach
from mitertool.saw.feed.feed import FeedList, SetCut, cuts_as_set, feed_list
from mitertool.saw.feed.stops import BlanksBeside, Stop, blanks_first, stops
from mitertool.saw.setting.asked import Asked
from mitertool.sections import Section

if TYPE_CHECKING:
    from mitertool.nest import Bar, Placed, Plan


@attrs.frozen
class Run:
    """A bar of the plan, its number counted from 1, its pieces as they lie on it, and its cuts as the plan sets them.

    `cuts` is empty without a saw file.
    """

    number: int
    bar: Bar
    pieces: tuple[BarPiece, ...]
    saw: Machine | None = None
    cuts: tuple[SetCut, ...] = ()

    @cached_property
    def feed(self) -> FeedList | None:
        """What is keyed into the bar feed; None for a saw without one."""
        if self.saw is None:
            return None
        return feed_list(self.saw, self.cuts, self.bar.stock_length, self.bar.count)

    @property
    def left_to_push(self) -> float:
        """What the bar feed could still push of the bar after the last cut, mm; infinite without a bar feed."""
        if self.saw is None or self.saw.feed is None or not self.cuts:
            return inf
        return self.bar.stock_length - self.cuts[-1].place - self.saw.feed.dead_length

    def spare(self, grip: float) -> float:
        """What a bar is longer than cuts and grip need, mm; and than the feed needs where it pushes it to the end."""
        spare = self.bar.left_whole - grip
        return min(spare, self.left_to_push) if self.left_to_push >= 0 else spare

    @cached_property
    def stops(self) -> tuple[Stop, ...]:
        """Where the stop stands for each piece; empty for a saw with a bar feed."""
        if self.saw is None or self.feed is not None:
            return ()
        return stops(self.pieces, [cut.reach for cut in self.cuts if cut.mark])

    @cached_property
    def blanks(self) -> BlanksBeside | None:
        """Parallel blanks beside the bar; None where the bar feed's automatic cycle makes it."""
        if self.saw is None or self.feed is None or self.feed.automatic:
            return None
        return blanks_first(self.saw, self.pieces, self.cuts, self.bar.count)

    @property
    def minutes(self) -> float | None:
        """Time of the cuts of all such bars by the shop's own rates; None where the saw file gives none."""
        found = [cut.reach.minutes for cut in self.cuts]
        if not found or any(minutes is None for minutes in found):
            return None
        return self.bar.count * summed(minutes for minutes in found if minutes is not None)


def runs(plan: Plan | None, pieces: Sequence[SolvedPiece], saw: Asked | None) -> tuple[Run, ...]:
    """The bars of a plan in their order."""
    by_mark = {solved.mark: solved.in_vise.blank for solved in pieces}
    bars = plan.bars if plan else ()
    return tuple(_run(number, bar, by_mark, saw) for number, bar in enumerate(bars, 1))


def _run(number: int, bar: Bar, by_mark: Mapping[str, Piece], asked: Asked | None) -> Run:
    leads = asked.saw.leads if asked else "left"
    pieces = tuple(laid(one, by_mark[one.mark], bar.section, leads) for one in bar.pieces)
    if asked is None:
        return Run(number, bar, pieces)
    chosen = [asked.as_set(bar.section, cut.angles) for cut in bar.cuts]
    return Run(number, bar, pieces, asked.saw, cuts_as_set(kerfs_of(pieces, asked.saw.kerf), bar.section, chosen))


def laid(one: Placed, piece: Piece, section: Section, leads: str) -> BarPiece:
    """A piece, or the blank of it, as it lies on a bar that lies as `section`."""
    part = nest.blank_of(piece, OTHER_END[one.recut], one.blank) if one.recut else piece
    return BarPiece.of(one.mark, part, one.pose, one.at, leads).lying(section, one.lay)


def on_bars(worked: Sequence[Run]) -> Iterator[Problem]:
    """Every reason, once a mark, why the saw cannot make a cut of it as the plan sets it on a bar."""
    told: set[tuple[str, str]] = set()
    for run in worked:
        for placed, lead, trail in _cuts_of(run):
            for reason in (*lead.reach.reasons, *trail.reach.reasons):
                if (placed.mark, reason.code) not in told:
                    told.add((placed.mark, reason.code))
                    yield Problem.of(reason, placed.mark)


def _cuts_of(run: Run) -> Iterator[tuple[Placed, SetCut, SetCut]]:
    """Each piece of a bar with its leading and its trailing cut; none without a saw."""
    trailing = [i for i, cut in enumerate(run.cuts) if cut.mark]
    for placed, i in zip(run.bar.pieces if run.cuts else (), trailing, strict=True):
        yield placed, run.cuts[i - 1], run.cuts[i]


def _recut_ends(recuts: Sequence[RecutRun], done: int) -> Iterator[tuple[Use, str, Reach]]:
    """The ends that are recut when so many entries of bars are done."""
    for one in recuts:
        if one.recut.after == done and one.reach:
            saw = one.reach.setting.saw
            yield Use.of(one.recut.mark, saw.leads, one.reach, one.recut.pose), one.recut.grade, one.reach


def cuts_in_order(
    worked: Sequence[Run], pieces: Sequence[SolvedPiece], recuts: Sequence[RecutRun] = ()
) -> Iterator[tuple[Use, str, Reach]]:
    """Every end that is cut, as what it makes, its grade and its reach, in the order of work; last marks on no bar."""
    on_a_bar: set[str] = set()
    extra = {solved.comes_with: solved for solved in pieces if solved.is_extra}
    for done, run in enumerate(worked):
        yield from _recut_ends(recuts, done)
        on_a_bar |= {placed.mark for placed in run.bar.pieces}
        on_a_bar |= {extra[mark].mark for mark in on_a_bar if mark in extra}
        for placed, lead, trail in _cuts_of(run):
            saw = lead.reach.setting.saw
            for end, cut in ((saw.leads, lead), (saw.trails, trail)):
                use = Use.of(placed.mark, end, cut.reach, placed.pose, placed.lay)
                if use.end != placed.recut:
                    yield use, run.bar.grade, cut.reach
                    if placed.mark in extra:
                        over = Use.of(extra[placed.mark].mark, end, cut.reach, HALF_OVER[placed.pose])
                        yield over, run.bar.grade, cut.reach
    yield from _recut_ends(recuts, len(worked))
    for solved in pieces:
        if solved.mark not in on_a_bar and solved.left and solved.right:
            for end, reach in (("left", solved.left), ("right", solved.right)):
                yield Use.of(solved.mark, end_in(solved.pose, end), reach, solved.pose), solved.order.grade, reach
