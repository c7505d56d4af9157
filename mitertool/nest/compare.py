"""Other ways to cut the same job beside the chosen one: their steel, cuts and set-ups; knows solver."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.bar import Allowance, Angles, BarPiece
from mitertool.bar.spacing import blank_length
from mitertool.base.errors import CannotMake
from mitertool.nest import setups
from mitertool.nest.done import Done, remaining
from mitertool.nest.lots import on_bar
from mitertool.nest.plan import ANY_ARM, Item, Makes, Plan, Rates, Stock
from mitertool.nest.solver import Progress, Terms, planned
from mitertool.nest.work import Goal
from mitertool.piece import Piece


@attrs.frozen
class Alternative:
    """One way to cut the job: its plan, and what the whole of the work takes.

    `name` is "chosen", "least steel", "fewest set-ups" or "same angle together". In the last one blanks are cut first,
    with parallel ends, and then `recuts` of them get their other end; they are counted in `cuts` and in the set-ups.
    `steel` is the length bought, mm; `minutes` (of set-ups) and `money` (steel and set-ups) are None without rates.
    A tilt of the blade is a set-up of its own.
    """

    name: str
    plan: Plan
    cuts: int
    recuts: int
    swings: int
    rolls: int
    steel: float
    cost: float
    minutes: float | None
    money: float | None
    tilts: int = 0


def compare(
    items: Sequence[Item],
    stock: Sequence[Stock],
    allowance: Allowance,
    *,
    arm: Makes = ANY_ARM,
    rates: Rates | None = None,
    done: Done | None = None,
    effort: float = 1.0,
    time_limit: float | None = None,
    progress: Progress | None = None,
    chosen: Plan | None = None,
) -> tuple[Alternative, ...]:
    """The chosen plan and three others, each looked for with the same effort; arguments and errors as `solve`.

    `chosen` is a plan of just these pieces that is there already. A way in which stock runs out is left out.
    """
    if done is not None:
        items, stock = remaining(items, stock, done)
    terms = Terms(arm, rates, effort, time_limit, progress)
    dear = Goal(wedge=10 * max((one.price for one in stock), default=0.0), pull=200.0)
    first = _alternative("chosen", chosen or planned(items, stock, allowance, terms), [], rates)
    others = [Goal(), dear] if rates else [dear]
    found = [one for goal in others for one in _other(items, stock, allowance, attrs.evolve(terms, goal=goal))]
    return (*_best_of_each([first, *found]), *_same_angle(items, stock, allowance, terms))


def _other(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, terms: Terms) -> list[Alternative]:
    try:
        return [_alternative("", planned(items, stock, allowance, terms), [], terms.rates)]
    except CannotMake:
        return []


def _best_of_each(found: Sequence[Alternative]) -> list[Alternative]:
    """Each name with the plan that is best by it; a search may find by chance what another one looks for."""
    chosen, *_ = found
    least = min(found, key=lambda one: (one.cost, one.plan.setups))
    fewest = min(found, key=lambda one: (one.plan.setups, one.cost))
    return [chosen, attrs.evolve(least, name="least steel"), attrs.evolve(fewest, name="fewest set-ups")]


def _alternative(name: str, plan: Plan, recuts: Sequence[Angles], rates: Rates | None) -> Alternative:
    """Recuts come after the bars, those alike together; each angle is set once, the bar is free to be laid anew."""
    angles: list[Angles] = []
    for one in recuts:
        if not any(not any(one.changes(other)[:2]) for other in angles):
            angles.append(one)
    anew = setups.count(angles)
    swings, tilts = plan.swings + bool(angles) + anew.swings, plan.tilts + anew.tilts
    return Alternative(
        *(name, plan, plan.cuts + len(recuts), len(recuts), swings, plan.rolls, plan.steel.bought, plan.cost),
        None if rates is None else rates.minutes(swings, plan.rolls, tilts),
        None if rates is None else plan.cost + rates.money(swings, plan.rolls, tilts),
        tilts,
    )


def _same_angle(items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, terms: Terms) -> list[Alternative]:
    blanks = [blank(item, allowance) for item in items]
    dear = max((one.price for one in stock), default=0.0)
    try:
        plan = planned(blanks, stock, allowance, attrs.evolve(terms, goal=Goal(wedge=dear, pull=200.0)))
    except CannotMake:
        return []
    recuts = [
        setups.settings(laid.trail, laid.section, terms.arm, False)[0]
        for item in items
        for laid in (on_bar(item, "as-drawn", allowance),)
        if not laid.parallel
        for _ in range(item.quantity)
    ]
    return [_alternative("same angle together", plan, recuts, terms.rates)]


def blank(item: Item, allowance: Allowance) -> Item:
    """The piece with both ends parallel to its left cut, long enough for its right end to be cut from it."""
    piece, laid = item.piece, BarPiece.of(item.mark, item.piece)
    if laid.parallel:
        return item
    length = blank_length(laid, allowance.kerf)
    return attrs.evolve(item, piece=Piece(piece.section, length, piece.left, laid.lead.plane, at="centerline"))
