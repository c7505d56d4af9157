"""The second ends of blanks as the saw makes them: how each is set and where its stop stands; knows the plan."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import attrs

from mitertool.bar import BarPiece
from mitertool.job.solved import SolvedPiece
from mitertool.saw import Reach
from mitertool.saw.feed.stops import Stop, stop_behind
from mitertool.saw.setting.asked import Asked

if TYPE_CHECKING:
    from mitertool.nest import Plan, Recut


@attrs.frozen
class RecutRun:
    """A recut of the plan, its number counted from 1, and the finished piece as it lies for it on the feed side.

    The end that is cut leads, the finished one lies behind the vise. `reach` is how the saw is set and `stop` where the
    stop stands that the finished end touches, also on a saw with a bar feed; both None without a saw file.
    """

    number: int
    recut: Recut
    piece: BarPiece
    reach: Reach | None = None
    stop: Stop | None = None

    @property
    def minutes(self) -> float | None:
        """Time of the cuts by the shop's own rates; None where the saw file gives none."""
        minutes = self.reach.minutes if self.reach else None
        return None if minutes is None else minutes * self.recut.count


def second_end(number: int) -> str:
    """What the second ends of the blanks of a recut are called, by its number in the plan."""
    return f"E{number}"


def recut_runs(plan: Plan | None, pieces: Sequence[SolvedPiece], saw: Asked | None) -> tuple[RecutRun, ...]:
    """The recuts of a plan in their order."""
    by_mark = {solved.mark: solved.in_vise.blank for solved in pieces}
    found = plan.recuts if plan else ()
    leads = saw.saw.leads if saw else "left"
    laid = (BarPiece.of(one.mark, by_mark[one.mark], one.pose, leads=leads) for one in found)
    return tuple(_run(number, *both, saw) for number, both in enumerate(zip(found, laid, strict=True), 1))


def _run(number: int, recut: Recut, piece: BarPiece, saw: Asked | None) -> RecutRun:
    if saw is None:
        return RecutRun(number, recut, piece)
    reach = saw.as_set(recut.section, recut.angles)
    return RecutRun(number, recut, piece, reach, stop_behind(piece, reach))
