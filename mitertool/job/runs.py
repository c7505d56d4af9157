"""Each bar of a plan as the saw works it off: its cuts, what is keyed or where the stop stands, and its time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from mitertool.job.settings import Use
from mitertool.job.solved import SolvedPiece
from mitertool.nest import Bar, Plan
from mitertool.piece import Piece
from mitertool.saw import Reach, Saw
from mitertool.saw.feed import BarCut, BarPiece, FeedList, bar_cuts, feed_list
from mitertool.saw.stops import Alternative, Stop, blanks_first, stops


@attrs.frozen
class Run:
    """A bar of the plan, its number counted from 1, and its pieces as they lie on it.

    `cuts` is empty without a saw file; `feed` is None for a saw without a bar feed and `stops` is empty for one with;
    `blanks` is None where the bar feed's automatic cycle makes the bar.
    """

    number: int
    bar: Bar
    pieces: tuple[BarPiece, ...]
    cuts: tuple[BarCut, ...] = ()
    feed: FeedList | None = None
    stops: tuple[Stop, ...] = ()
    blanks: Alternative | None = None

    @property
    def minutes(self) -> float | None:
        """Time of the cuts of all such bars by the shop's own rates; None where the saw file gives none."""
        found = [cut.reach.minutes for cut in self.cuts]
        if not found or any(minutes is None for minutes in found):
            return None
        return self.bar.count * sum(minutes for minutes in found if minutes is not None)


def runs(plan: Plan | None, pieces: Sequence[SolvedPiece], saw: Saw | None) -> tuple[Run, ...]:
    """The bars of a plan in their order."""
    by_mark = {solved.mark: solved.piece for solved in pieces}
    bars = plan.bars if plan else ()
    return tuple(_run(number, bar, _on_bar(bar, by_mark), saw) for number, bar in enumerate(bars, 1))


def _on_bar(bar: Bar, by_mark: dict[str, Piece]) -> tuple[BarPiece, ...]:
    return tuple(
        BarPiece(placed.mark, posed.left, posed.right, posed.centerline, placed.at)
        for placed in bar.pieces
        for posed in (by_mark[placed.mark].posed(placed.pose),)
    )


def _run(number: int, bar: Bar, pieces: tuple[BarPiece, ...], saw: Saw | None) -> Run:
    if saw is None:
        return Run(number, bar, pieces)
    cuts = bar_cuts(saw, bar.section, pieces)
    feed = feed_list(saw, bar.section, pieces, bar.stock_length, bar.count)
    by_hand = feed is not None and not feed.automatic
    return Run(
        number,
        bar,
        pieces,
        cuts,
        feed,
        stops(saw, bar.section, pieces) if feed is None else (),
        blanks_first(saw, bar.section, pieces, bar.count) if by_hand else None,
    )


def cuts_in_order(worked: Sequence[Run], pieces: Sequence[SolvedPiece]) -> Iterator[tuple[Use, str, Reach]]:
    """Every end that is cut, as what it makes, its grade and its reach: bar by bar, then marks that lie on no bar."""
    on_bars: set[str] = set()
    for run in worked:
        for placed, piece in zip(run.bar.pieces, run.pieces, strict=True):
            on_bars.add(piece.mark)
            if run.cuts:
                yield from _ends(run, piece, placed.pose.startswith("end-for-end"))
    for solved in pieces:
        if solved.mark not in on_bars and solved.left and solved.right:
            for end, reach in (("left", solved.left), ("right", solved.right)):
                yield Use(solved.mark, end, reach.roll), solved.order.grade, reach


def _ends(run: Run, piece: BarPiece, turned: bool) -> Iterator[tuple[Use, str, Reach]]:
    """Both ends of a piece on its bar, the leading one first; turned end for end they are the other ones as drawn."""
    saw = run.cuts[0].reach.setting.saw
    for end in (saw.leads, "left" if saw.leads == "right" else "right"):
        cut = piece.left if end == "left" else piece.right
        reach = saw.reach(run.bar.section, cut, end)
        drawn = ("left" if end == "right" else "right") if turned else end
        yield Use(piece.mark, drawn, reach.roll), run.bar.grade, reach
