"""What fits the bars where not everything does, and how much a plan's claim covers; knows lots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

import attrs

from mitertool.nest.greedy import Found
from mitertool.nest.lots import KindMember, Lot, PieceKind, frames
from mitertool.nest.plan import BAR_BY_BAR, BY_SETTING, MIXED, Item, Plan


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
) -> tuple[str, ...]:
    """What was searched, in clauses: no plan outside of it is said to be worse."""
    plain = [way for way in (BAR_BY_BAR, BY_SETTING) if way in ways or MIXED in ways]
    wanted = [item for item in items if item.quantity and not item.refused]
    held = [item.mark for item in wanted if set(item.poses) < set(item.piece.poses)]
    return (
        f"cut {' or '.join(plain)}",
        *((f"without {counted(left_out)}",) if left_out else ()),
        *((f"turned only as allowed: {', '.join(held)}",) if held else ()),
        *(f"{name} of each lay on bars of its own" for name in _lying_differently(wanted, rolls)),
    )


def counted(marks: Iterable[tuple[str, int]]) -> str:
    """Marks with how many of each, in words."""
    return " and ".join(f"{count} {mark}" for mark, count in marks)


def what_fits_says(plan: Plan) -> str:
    """How many pieces of which marks are on the bars of a plan that leaves some out; "" where it leaves none."""
    if not plan.left_out:
        return ""
    placed = Counter(piece.mark for bar in plan.bars for piece in bar.pieces for _ in range(bar.count))
    fits = counted(sorted(placed.items()))
    return f"what fits is {fits}, planned with --anyway" if fits else "no piece goes on a bar"


def _lying_differently(items: Sequence[Item], rolls: Callable[[str], bool]) -> Iterator[str]:
    """Sections of which pieces of one grade lie in more than one way and share no bar: no roll leads between them."""

    def group(item: Item) -> tuple[str, str]:
        return item.piece.section.name, item.grade

    for (name, _), alike in groupby(sorted(items, key=group), key=group):
        found = frames(alike, rolls(name))
        if len({id(frame) for frame in found.values()}) > 1:
            yield name
