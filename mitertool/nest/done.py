"""What is already cut, taken out of what is asked and of the bars in stock; knows plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs

from mitertool.base.errors import BadInput
from mitertool.nest.plan import Item, Stock
from mitertool.words import phrase


@attrs.frozen
class Done:
    """Effort that is not planned again.

    `good` counts the good pieces by mark; `used` are bars gone, with how many (`quantity`, None: one); `left` are
    lengths left of them that may still be cut, at no cost unless one is given.
    """

    good: Mapping[str, int] = attrs.field(factory=dict, hash=False)
    used: tuple[Stock, ...] = ()
    left: tuple[Stock, ...] = ()


def remaining(items: Sequence[Item], stock: Sequence[Stock], done: Done) -> tuple[list[Item], list[Stock]]:
    """The pieces still to cut, and the bars to cut them from.

    Raises `BadInput` for a mark that the job does not have, more good pieces than asked for, or bars that were
    not there.
    """
    return _items(items, done), [*_stock(stock, done), *map(_left, done.left)]


def _items(items: Sequence[Item], done: Done) -> list[Item]:
    asked = {item.mark: item.quantity for item in items}
    for mark, count in done.good.items():
        if mark not in asked:
            raise BadInput(phrase("what.done", what="mark"), mark, phrase("refuse.marks", marks=", ".join(asked)))
        if not 0 <= count <= asked[mark]:
            raise BadInput(phrase("what.done", what=mark), count, phrase("refuse.good-pieces", most=asked[mark]))
    return [attrs.evolve(item, quantity=item.quantity - done.good.get(item.mark, 0)) for item in items]


def _stock(stock: Sequence[Stock], done: Done) -> list[Stock]:
    left = list(stock)
    for bar in done.used:
        count = 1 if bar.quantity is None else bar.quantity
        for number, one in enumerate(left):
            if one.same_bar(bar) and count:
                taken = count if one.quantity is None else min(count, one.quantity)
                quantity = None if one.quantity is None else one.quantity - taken
                left[number] = attrs.evolve(one, quantity=quantity)
                count -= taken
        if count:
            found = phrase("found.bars-used", count=count, section=bar.section, length=bar.length)
            raise BadInput(phrase("what.bars-used"), found, phrase("refuse.bars-used"))
    return left


def _left(bar: Stock) -> Stock:
    quantity = 1 if bar.quantity is None else bar.quantity
    return attrs.evolve(bar, quantity=quantity, cost=0.0 if bar.cost is None else bar.cost)
