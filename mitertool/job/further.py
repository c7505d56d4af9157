"""The further cuts of pieces with more than one plane at an end, in the order of work; knows solved pieces and bars.

They are made on the pieces when all bars are parted: each piece is laid in the vise again and marked with a tape.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import attrs

from mitertool.bar import Angles, BarCut, ways
from mitertool.job.settings import Use
from mitertool.job.solved import FurtherCut, SolvedPiece
from mitertool.saw import Reach

if TYPE_CHECKING:
    from mitertool.nest import Plan


@attrs.frozen
class FurtherRow:
    """One further cut of all pieces of a mark."""

    solved: SolvedPiece
    quantity: int
    cut: FurtherCut

    @property
    def mark(self) -> str:
        """The mark of the pieces."""
        return self.solved.mark

    @property
    def minutes(self) -> float | None:
        """Time of the cuts by the shop's own rates; None where the saw file gives none."""
        minutes = self.cut.reach.minutes if self.cut.reach else None
        return None if minutes is None else minutes * self.quantity

    @property
    def angles(self) -> Angles:
        """How it is set; without a saw file swung and tilted for the piece as it lies drawn."""
        cut = self.cut
        return cut.reach.angles if cut.reach else ways(BarCut.of(cut.cut, cut.end == "right"), tilts=True)[0]


def rows_in_order(
    pieces: Sequence[SolvedPiece], plan: Plan | None, finished: Sequence[SolvedPiece] = ()
) -> tuple[FurtherRow, ...]:
    """A row a further cut and mark: those of one setting together, first that in which the last bar leaves the arm.

    `finished` are pieces of no bar, all of which are cut so too.
    """
    counts = [*((one, one.quantity) for one in finished), *((one, _count(one, plan)) for one in pieces)]
    found = [FurtherRow(solved, count, cut) for solved, count in counts if count for cut in solved.further]
    groups: list[list[FurtherRow]] = []
    for row in found:
        group = next((group for group in groups if _one_arm(group[0].angles, row.angles)), None)
        if group is None:
            groups.append([row])
        else:
            group.append(row)
    left = left_at(plan)
    groups.sort(key=lambda group: left is None or not _one_arm(group[0].angles, left))
    return tuple(row for group in groups for row in group)


def _count(solved: SolvedPiece, plan: Plan | None) -> int:
    """The pieces that lie on bars; without bars all of them."""
    if plan is None:
        return solved.quantity
    return sum(bar.count for bar in plan.bars for placed in bar.pieces if placed.mark == solved.mark)


def left_at(plan: Plan | None) -> Angles | None:
    """How the last cut of bars and recuts leaves the arm; None without bars."""
    return plan.settings[-1] if plan and plan.bars else None


def swings(rows: Sequence[FurtherRow], before: Angles | None) -> int:
    """How often the arm is swung or the blade tilted for the rows; the first cut of all finds it where it stands."""
    found = [*([before] if before else []), *(row.angles for row in rows)]
    return sum(not _one_arm(one, other) for one, other in pairwise(found))


def _one_arm(one: Angles, other: Angles) -> bool:
    """Whether neither the arm is swung nor the blade tilted between the two."""
    return not any(one.changes(other)[:2])


def uses(rows: Iterable[FurtherRow]) -> Iterator[tuple[Use, str, Reach]]:
    """What each row makes, its grade and its reach; nothing without a saw file."""
    for row in rows:
        if row.cut.reach:
            use = Use(row.mark, row.cut.end, row.cut.way.roll, row.cut.number, row.cut.way.turned)
            yield use, row.solved.order.grade, row.cut.reach
