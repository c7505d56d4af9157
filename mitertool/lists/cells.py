"""A table of a file as rows of cells, numbered as a spreadsheet numbers them; knows CSV, and where a workbook is read.

Nothing in a cell is ever run: a formula is known as one, and only what the office program kept of its result is read.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, time
from itertools import islice
from pathlib import Path
from typing import Final

import attrs

from mitertool import lists
from mitertool.base.cells import of_cell
from mitertool.base.errors import BadInput
from mitertool.words import phrase

LARGEST: Final = 20_000_000
"""Bytes of a file: a list of ten thousand rows has less than a tenth of that, so more is another kind of file."""

MOST_ROWS: Final = 20_000
"""Rows that hold anything, and below, columns: far more than a job has marks, and a table of them fits the memory."""

MOST_COLUMNS: Final = 256

_DELIMITERS: Final = (";", "\t", ",", "|")
_LOOKED_AT: Final = 100
"""Rows by which the delimiter is found."""

PACKED: Final = b"PK\x03\x04"
"""How a workbook begins: it is a ZIP archive."""

_OF_OLD: Final = b"\xd0\xcf\x11\xe0"
"""How an older one begins, and one that is locked with a password."""

_CODINGS: Final = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16", b"\xef\xbb\xbf": "utf-8-sig"}
"""By the mark with which a text begins."""


@attrs.frozen
class FormulaCell:
    """A cell that holds a formula and no result of it."""

    text: str


Cell = str | int | float | bool | date | time | FormulaCell | None
"""What a cell holds; None and "" where it is empty."""


def is_empty(cell: object) -> bool:
    """Whether a cell holds nothing."""
    return cell is None or cell == ""


@attrs.frozen
class CellRow:
    """A row that holds anything, with its number as a spreadsheet counts."""

    number: int
    cells: tuple[Cell, ...]

    def at(self, column: int) -> Cell:
        """The cell of a column, counted from 0."""
        return self.cells[column] if column < len(self.cells) else None


def letter(column: int) -> str:
    """How a spreadsheet calls a column that is counted from 0.

    >>> from mitertool.lists.cells import letter
    >>> letter(0), letter(27)
    ('A', 'AB')
    """
    above, here = divmod(column, 26)
    return (letter(above - 1) if above else "") + chr(ord("A") + here)


def is_list(path: Path) -> bool:
    """Whether a file is a list of parts by its name."""
    return path.suffix.lower() in (".csv", ".tsv", ".txt", ".xlsx", ".xlsm")


def whole_file(path: Path) -> bytes:
    """What stands in a file that is not too large for a list. Raises `BadInput` otherwise."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
        size = max(len(content), path.stat().st_size)
    except OSError as error:
        raise BadInput("file", str(path), phrase("list.unreadable", why=error.strerror)) from error
    if size > LARGEST:
        raise BadInput("file", path.name, phrase("list.too-large", found=size // 10**6, most=LARGEST // 10**6))
    return content


def rows_of(path: Path, content: bytes, sheet: str = "", encoding: str = "") -> list[CellRow]:
    """The rows of a file that hold anything. Raises `BadInput` for what is no table, or too large a one."""
    if content.startswith((PACKED, _OF_OLD)):
        return _kept(lists.workbook.rows(content, sheet))
    if sheet:
        raise BadInput("sheet", sheet, phrase("list.no-sheets"))
    text = _text(content, encoding)
    if "\0" in text:
        raise BadInput("file", path.name, phrase("list.no-table"))
    return _kept(_split(text))


def _kept(rows: Iterable[Sequence[Cell]]) -> list[CellRow]:
    found: list[CellRow] = []
    for number, cells in enumerate(rows, 1):
        filled = [i for i, cell in enumerate(cells) if not is_empty(cell)]
        if filled:
            if len(found) == MOST_ROWS:
                raise BadInput("row", number, phrase("list.too-many-rows", most=MOST_ROWS))
            if filled[-1] >= MOST_COLUMNS:
                raise BadInput("cell", f"{letter(filled[-1])}{number}", phrase("list.too-wide", most=MOST_COLUMNS))
            found.append(CellRow(number, tuple(cells[: filled[-1] + 1])))
    return found


def _text(content: bytes, encoding: str) -> str:
    """The text of a file: as its first mark says, else UTF-8, else the letters of a western office program."""
    marked = next((coding for mark, coding in _CODINGS.items() if content.startswith(mark)), "")
    for coding in [encoding or marked] if encoding or marked else ["utf-8", "cp1252"]:
        try:
            return content.decode(coding)
        except LookupError:
            raise BadInput("encoding", coding, phrase("list.unknown-encoding")) from None
        except UnicodeError:
            continue
    raise BadInput("file", encoding or "text", phrase("list.other-letters"))


def _split(text: str) -> Iterator[Sequence[Cell]]:
    try:
        yield from ([_cell(one) for one in row] for row in _records(text, _delimiter(text)))
    except csv.Error as error:
        raise BadInput("file", str(error), phrase("list.no-table")) from None


def _records(text: str, delimiter: str) -> Iterator[list[str]]:
    return csv.reader(text.splitlines(keepends=True), delimiter=delimiter)


def _delimiter(text: str) -> str:
    """What parts the cells: that by which most rows have as many cells, and more than one."""

    def alike(delimiter: str) -> tuple[int, int]:
        counts = Counter(len(row) for row in islice(_records(text, delimiter), _LOOKED_AT) if len(row) > 1)
        return max(((rows, cells) for cells, rows in counts.items()), default=(0, 0))

    return max(_DELIMITERS, key=alike)


def _cell(text: str) -> Cell:
    """A cell of a text: what a spreadsheet would run is a formula; signs before a number are none."""
    own = text.strip()
    return FormulaCell(own) if own.startswith(("=", "@")) else of_cell(own)
