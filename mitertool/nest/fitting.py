"""What fits the bars where not everything does, and how much a plan's claim covers; knows lots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from operator import attrgetter
from typing import Final

import attrs

from mitertool.base.names import all_of
from mitertool.nest.greedy import Found
from mitertool.nest.lots import KindMember, Lot, PieceKind, frames
from mitertool.nest.plan import Item, Plan
from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING, MIXED
from mitertool.quantity.problem import Remark, names
from mitertool.words import phrase

_NAMED: Final = 6
"""Marks that are named one by one where a job is refused; of more it is told how many there are."""


def without_the_rest(lot: Lot, found: Found) -> Lot:
    """The lot without the pieces that are on no bar of the plan; of one kind the marks named last are left out."""
    kinds = (_fewer(kind, missing) for kind, missing in zip(lot.kinds, found.missing, strict=True))
    return attrs.evolve(lot, kinds=tuple(kinds))


def _fewer(kind: PieceKind, missing: int) -> PieceKind:
    members: list[KindMember] = []
    rest = missing
    for member in reversed(kind.members):
        out = min(rest, member.item.quantity)
        rest -= out
        members.append(attrs.evolve(member, item=attrs.evolve(member.item, quantity=member.item.quantity - out)))
    return attrs.evolve(kind, demand=kind.demand - missing, members=tuple(reversed(members)))


def within(
    items: Sequence[Item], left_out: Sequence[tuple[str, int]], ways: Sequence[str], rolls: Callable[[str], bool]
) -> tuple[Remark, ...]:
    """What was searched, in clauses: no plan outside of it is said to be worse."""
    plain = [way for way in (BAR_BY_BAR, BY_SETTING) if way in ways or MIXED in ways]
    wanted = [item for item in items if item.quantity and not item.refused]
    held = [item.mark for item in wanted if set(item.poses) < set(item.piece.poses)]
    return (
        *(Remark("searched.ways", (), "-".join(way.replace(" ", "-") for way in plain)),),
        *((Remark("searched.without", names(pieces=[f"{n} {mark}" for mark, n in left_out])),) if left_out else ()),
        *((Remark("searched.turned", names(marks=held)),) if held else ()),
        *(Remark("searched.lays", names(section=name)) for name in _lying_differently(wanted, rolls)),
    )


def counted(marks: Iterable[tuple[str, int]]) -> str:
    """Marks with how many of each, in words."""
    return all_of([f"{count} {mark}" for mark, count in marks])


def what_fits_says(plan: Plan) -> str:
    """How many pieces of which marks are on the bars of a plan that leaves some out; "" where it leaves none."""
    if not plan.left_out:
        return ""
    placed = Counter(piece.mark for bar in plan.bars for piece in bar.pieces for _ in range(bar.count))
    if len(placed) > _NAMED:
        return phrase("plan.fits/many", pieces=placed.total(), marks=len(placed))
    fits = counted(sorted(placed.items()))
    return phrase("plan.fits", pieces=fits) if fits else phrase("plan.none-fits")


def _lying_differently(items: Sequence[Item], rolls: Callable[[str], bool]) -> Iterator[str]:
    """Sections of which pieces of one grade lie in more than one way and share no bar: no roll leads between them."""
    by_group = attrgetter("group")
    for (name, _), alike in groupby(sorted(items, key=by_group), key=by_group):
        found = frames(alike, rolls(name))
        if len({id(frame) for frame in found.values()}) > 1:
            yield name
