"""What lies on the rack as stock of a plan, and a plan as what it takes off the rack and leaves there; knows nest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from itertools import count
from typing import Final

import attrs

from mitertool.cut import Cut
from mitertool.nest import Bar, Placed, Plan, Stock
from mitertool.piece import Piece
from mitertool.quantity.compare import longer, same_length
from mitertool.rack.values import BookedBar, Closed, RackBar, slanted
from mitertool.sections import Section

Whose = tuple[str, str]
"""A job and revision."""

REST: Final = "rest"


def for_job(lying: Iterable[RackBar], own: Whose, wanted: Iterable[tuple[str, str]]) -> tuple[RackBar, ...]:
    """The left-overs that a plan of a job may draw on, each with its grade as the job writes it.

    Those that nobody has booked, or this plan itself (`own`, as it is booked), but none that is only expected: these
    are there when another bar is cut. `wanted` are the sections with their grades.
    """
    grades = {(section, plain(grade)): grade for section, grade in wanted}
    return tuple(
        attrs.evolve(bar, grade=grades[bar.section, plain(bar.grade)], taken=None)
        for bar in lying
        if (bar.taken is None or bar.taken.whose == own)
        and not bar.expected
        and (bar.section, plain(bar.grade)) in grades
    )


def whole_and_rest(job: str, revision: str, closed: Iterable[Closed]) -> tuple[Whose, Whose]:
    """By what job and revision a whole plan is booked, and that of a rest beside it, which may be cut in part.

    A rest that was closed as cut has a rest of its own, which counts on.
    """
    taken = {(one.job, one.revision) for one in closed}
    names = ((job, name) for name in rests(revision))
    return (job, revision), next(name for name in names if name not in taken)


def rests(revision: str, most: int | None = None) -> Iterator[str]:
    """How the rests of a revision are called, one behind the other; without end, or so many."""
    first = f"{revision} {REST}".strip()
    yield first
    yield from (f"{first} {number}" for number in (count(2) if most is None else range(2, most + 1)))


def plain(grade: str) -> str:
    """A grade without what may be written one way or another."""
    return "".join(grade.split()).casefold()


def stock_of(bar: RackBar) -> Stock:
    """A left-over as stock that costs nothing, so that a plan draws on it first."""
    return Stock(bar.section, bar.square, bar.grade, 1, 0.0)


def taken_by(plan: Plan, rack: Sequence[RackBar]) -> tuple[tuple[int, int, RackBar | None], ...]:
    """Every bar of a plan: its number, which of those cut alike, and the left-over that it is; None for new steel.

    Bars that are cut at once, side by side, count one by one.
    """
    left = list(rack)
    found: list[tuple[int, int, RackBar | None]] = []
    for number, bar in enumerate(plan.bars, 1):
        for copy in range(1, bar.count * bar.section.bars + 1):
            own = None if bar.price else next((one for one in left if _is(one, bar)), None)
            if own:
                left.remove(own)
            found.append((number, copy, own))
    return tuple(found)


def booked(
    plan: Plan, rack: Sequence[RackBar], keep: float, heats: Mapping[int, str], date: str = ""
) -> tuple[BookedBar, ...]:
    """What the bars of a plan take and what they leave, of which `keep` mm or more goes on the rack.

    `heats` is the heat of new steel by the number of its bar.
    """
    found = []
    for number, copy, own in taken_by(plan, rack):
        rest = _rest(plan.bars[number - 1], own, own.heat if own else heats.get(number, ""), date)
        kept = rest if rest and not longer(keep, rest.square) else None
        new = _new(plan.bars[number - 1], heats.get(number, "")) if plan.bars[number - 1].price else None
        found.append(BookedBar(number, copy, own.number if own else 0, kept, new))
    return tuple(found)


def numbered(bars: Sequence[BookedBar], numbers: Sequence[int]) -> tuple[BookedBar, ...]:
    """The bars, what each leaves with its number on the rack; as they are where no numbers are known."""
    rest = iter(numbers)
    return tuple(
        attrs.evolve(bar, leaves=attrs.evolve(bar.leaves, number=next(rest))) if bar.leaves and numbers else bar
        for bar in bars
    )


def _new(bar: Bar, heat: str) -> RackBar:
    """A whole bar of new steel, as it would lie on the rack."""
    return RackBar(bar.section.one_bar.name, bar.stock_length, bar.stock_length, bar.grade, heat)


def work_hash(revision: str, pieces: Iterable[tuple[str, int, Piece]]) -> str:
    """A hash of the pieces of a revision, by mark and with how many of each, from whatever bars they are cut."""
    cut = [
        (mark, many, one.section.name, round(one.centerline, 6), one.left.miter, one.right.miter)
        for mark, many, one in pieces
    ]
    return _hash((revision, sorted(cut)))


def plan_hash(plan: Plan, bars: Sequence[BookedBar]) -> str:
    """A hash of what a plan cuts from what: the same plan has the same, whenever it is made."""
    cut = [
        (bar.section.name, bar.grade, round(bar.stock_length, 6), bar.count, [_placed(one) for one in bar.pieces])
        for bar in plan.bars
    ]
    takes = [(bar.number, bar.copy, bar.takes) for bar in bars]
    return _hash((cut, takes))


def _hash(of: object) -> str:
    return sha256(repr(of).encode()).hexdigest()[:12]


def _placed(one: Placed) -> tuple[str, str, float]:
    return one.mark, one.pose, round(one.at, 6)


def _is(one: RackBar, bar: Bar) -> bool:
    alike = (one.section, one.grade) == (bar.section.one_bar.name, bar.grade)
    return alike and same_length(one.square, bar.stock_length)


def _rest(bar: Bar, own: RackBar | None, heat: str, date: str) -> RackBar | None:
    """What is left of a bar behind its last kerf, its far end as it was."""
    section = bar.section.one_bar
    last = bar.cuts[-1].cut
    whole = bar.drop - last.half_reach(section)
    if whole <= 0:
        return None
    left = last.unlaid(section).plane.reversed
    right = own.right if own else Cut()
    length = bar.drop + last.half_reach(section) + slanted(right, _drawn(section))
    return RackBar(section.name, length, whole, bar.grade, heat, left, right, date=date)


def _drawn(section: Section) -> Section:
    """The section as the catalogue draws it, however it was laid."""
    back = section.lay(0, turned=True) if section.turned else section
    return back.lay(-back.rotation)
