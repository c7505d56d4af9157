"""Bars of stock as rows of several that are cut at once; knows nest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

import attrs

from mitertool.base.errors import BadInput
from mitertool.sections import Section
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.nest import Item, Stock


def stock_in_rows(items: Sequence[Item], stock: Sequence[Stock]) -> Iterator[Stock]:
    """For every row of bars that the items ask for the stock that it is made of, at the price of all its bars.

    Raises `BadInput` where limited bars are wanted for rows and for others too: nobody says how many go where.
    """
    sections = {item.piece.section.name: item.piece.section for item in items if item.quantity}
    for section in sections.values():
        bars = [bar for bar in stock if bar.section == section.one_bar.name] if section.bars > 1 else []
        for bar in bars:
            _refuse_shared(bar, section, sections.values())
            yield _row_of(bar, section)


def _row_of(bar: Stock, section: Section) -> Stock:
    quantity = None if bar.quantity is None else bar.quantity // section.bars
    return attrs.evolve(bar, section=section.name, quantity=quantity, bars=section.bars)


def _refuse_shared(bar: Stock, row: Section, sections: Iterable[Section]) -> None:
    others = [one.name for one in sections if one.one_bar.name == bar.section and one.name != row.name]
    if bar.quantity is not None and others:
        raise BadInput(
            phrase("what.stock-quantity"),
            phrase("found.shared", count=bar.quantity, section=bar.section, row=row.name, others=", ".join(others)),
            phrase("refuse.shared"),
        )
