"""A list of parts as [[piece]] tables, every bad row told with its cell; the way through the room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from operator import itemgetter
from pathlib import Path
from typing import Any, TypeVar

import attrs

from mitertool.base.errors import BadInput, BadRows
from mitertool.lists.cells import CellRow, is_empty, rows_of, whole_file
from mitertool.lists.columns import Columns, columns_of
from mitertool.lists.numbers import decimal_of
from mitertool.lists.rows import AskedOnce, ListReading
from mitertool.quantity.tables import Table
from mitertool.quantity.units import Units
from mitertool.words import phrase

T = TypeVar("T")


@attrs.frozen
class ListRow:
    """A row that was read: its number, what stands in its cells by what they hold, and the mark that it became."""

    number: int
    written: tuple[tuple[str, str], ...]
    mark: str


@attrs.frozen
class PartsList:
    """A list that was read: its file, what its columns hold, what is not read of it, and its rows."""

    file: str
    columns: Columns
    rows: tuple[ListRow, ...]


def read_list(
    path: Path, said: Mapping[str, Any], units: Units, made: Callable[[Table], T]
) -> tuple[PartsList, list[T]]:
    """The rows of a list, each `made` of a [[piece]] table; `said` are the keys of its [[list]] as they were read.

    Bare lengths are in `units` where neither list nor heading says. Raises `BadRows` that tells every bad row, or
    `BadInput` where it is no list.
    """
    try:
        columns, rows = _found(path, said)
        reading = ListReading(columns, said, units)
        numerals = (one for row in rows for one in reading.numerals(row))
        reading = attrs.evolve(reading, decimal=decimal_of(numerals, said.get("decimal", "")))
    except BadInput as error:
        raise error.at(path.name) from error.__cause__
    told, orders = _all_of(path.name, rows, reading, made)
    return PartsList(path.name, columns, tuple(told)), orders


def as_written(path: Path, said: Mapping[str, Any]) -> PartsList:
    """The rows as they stand there, of no mark yet; raises as `read_list` does where it is no list."""
    columns, rows = _found(path, said)
    return PartsList(path.name, columns, tuple(ListRow(row.number, tuple(_written(row, columns)), "") for row in rows))


def _found(path: Path, said: Mapping[str, Any]) -> tuple[Columns, list[CellRow]]:
    """What the columns of a list hold, and the rows below its headings."""
    cells = rows_of(path, whole_file(path), said.get("sheet", ""), said.get("encoding", ""))
    columns = columns_of(cells, said)
    rows = [row for row in cells if row.number > columns.header]
    if not rows:
        raise BadInput("rows", phrase("found.nothing"), phrase("list.no-rows"))
    return columns, rows


def _all_of(
    file: str, rows: Sequence[CellRow], reading: ListReading, made: Callable[[Table], T]
) -> tuple[list[ListRow], list[T]]:
    told: list[ListRow] = []
    orders: list[T] = []
    against: list[tuple[int, BadInput]] = []
    tables = _tables(file, rows, reading, against)
    for row, table in tables:
        try:
            orders.append(made(table))
            told.append(ListRow(row.number, tuple(_written(row, reading.columns)), str(table.raw("mark"))))
        except BadInput as error:
            against.append((row.number, _placed(error, reading.columns, row.number)))
    if against:
        raise BadRows([error for _, error in sorted(against, key=itemgetter(0))], len(rows))
    return told, orders


def _tables(
    file: str, rows: Sequence[CellRow], reading: ListReading, against: list[tuple[int, BadInput]]
) -> Iterator[tuple[CellRow, Table]]:
    """Each row as a table; a row of the other hand of a mark before it joins that one's table."""
    found: dict[str, tuple[CellRow, dict[str, Any]]] = {}
    for row in rows:
        where = (file, phrase("list.row", number=row.number))
        try:
            keys = reading.piece(row)
            mark = str(keys.get("mark", ""))
            if mark and mark in found:
                _join(found[mark], keys)
            else:
                found[mark or f"\0{row.number}"] = (row, keys)
        except AskedOnce as error:
            raise error.at(*where) from None
        except BadInput as error:
            told = error if error.where else _placed(error, reading.columns, row.number)
            against.append((row.number, told.at(*where)))
    for row, keys in found.values():
        yield row, Table(keys, (file, phrase("list.row", number=row.number)), reading.units)


def _join(first: tuple[CellRow, dict[str, Any]], keys: Mapping[str, Any]) -> None:
    """The other hand of a mark. Raises `BadInput` where both rows are of one hand, or differ in more."""
    row, before = first
    counts = ("quantity", "opposite")
    same = {k: v for k, v in before.items() if k not in counts} == {k: v for k, v in keys.items() if k not in counts}
    hands = [bool(one.get("opposite")) for one in (before, keys)]
    if not same or hands[0] == hands[1]:
        raise BadInput("mark", str(keys["mark"]), phrase("list.mark-twice", row=row.number))
    drawn, other = (keys, before) if hands[0] else (before, keys)
    before["quantity"], before["opposite"] = drawn.get("quantity", 1), other["opposite"]


def _placed(error: BadInput, columns: Columns, row: int) -> BadInput:
    """The refusal with the cell of what it is about, where that is a column."""
    key = error.what.split(" ")[0].split(",")[0]
    column = columns.read.get(key)
    if column is None:
        return error
    return BadInput(error.what, error.found, error.allowed, (*error.where, column.cell(row)))


def _written(row: CellRow, columns: Columns) -> Iterator[tuple[str, str]]:
    """What stands in the cells that were read, by what they hold."""
    for key, column in columns.read.items():
        cell = row.at(column.number)
        if not is_empty(cell):
            yield key, str(cell)
