"""The rows of a workbook (XLSX), read one after another by openpyxl, the only module that knows it.

A reader that builds the whole grid first is brought down by a sheet with two cells far apart; this one never has more
than a row at hand. Formulas are not run: what the office program kept as their result is read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, time
from io import BytesIO
from itertools import zip_longest
from typing import Any, Final
from warnings import catch_warnings
from zipfile import ZipFile

from openpyxl import load_workbook

from mitertool.base.errors import BadInput
from mitertool.lists.cells import PACKED, Cell, FormulaCell, is_empty
from mitertool.words import phrase

_LARGEST_UNPACKED: Final = 300_000_000
"""Bytes: a list that may be read has less, and a file that unpacks to more is made to fill a memory."""


def rows(content: bytes, sheet: str) -> Iterator[Sequence[Cell]]:
    """Every row of a sheet from the first, empty ones too. Raises `BadInput` for another file, sheet or a choice."""
    if not content.startswith(PACKED):
        raise BadInput("file", phrase("found.workbook"), phrase("list.locked-workbook"))
    try:
        _check_size(content)
        yield from _read(content, sheet)
    except BadInput:
        raise
    except Exception as error:  # what a damaged workbook raises is nowhere listed
        raise BadInput("file", type(error).__name__, phrase("list.damaged-workbook")) from error


def _check_size(content: bytes) -> None:
    with ZipFile(BytesIO(content)) as packed:
        unpacked = sum(one.file_size for one in packed.infolist())
    if unpacked > _LARGEST_UNPACKED:
        raise BadInput("file", phrase("found.unpacked", size=unpacked // 10**6), phrase("list.unpacks-to-more"))


def _read(content: bytes, sheet: str) -> Iterator[Sequence[Cell]]:
    with catch_warnings(action="ignore"):  # of styles, which nobody asks for
        results, formulas = (
            load_workbook(BytesIO(content), read_only=True, data_only=kept, keep_links=False) for kept in (True, False)
        )
    name = _chosen([one.title for one in results.worksheets if one.sheet_state == "visible"], results, sheet)
    for kept, written in zip(_rows(results[name]), _rows(formulas[name]), strict=True):
        yield [_cell(*one) for one in zip_longest(kept, written)]


def _chosen(visible: Sequence[str], book: Any, sheet: str) -> str:
    """The sheet of a name, or the only one that holds anything."""
    if sheet:
        if sheet not in book.sheetnames or sheet not in [one.title for one in book.worksheets]:
            raise BadInput("sheet", sheet, phrase("list.other-sheets", sheets=", ".join(visible)))
        return sheet
    filled = [name for name in visible if any(map(_filled, _rows(book[name])))]
    if len(filled) != 1:
        raise BadInput(
            "sheet", phrase("found.nothing"), phrase("list.which-sheet", sheets=", ".join(filled or visible))
        )
    return filled[0]


def _rows(sheet: Any) -> Iterator[Sequence[Any]]:
    """The rows of a sheet, each as long as it is: what the sheet says of its size may be anything."""
    sheet.reset_dimensions()
    found: Iterator[Sequence[Any]] = sheet.iter_rows(values_only=True)
    return found


def _filled(row: Sequence[object]) -> bool:
    return not all(map(is_empty, row))


def _cell(kept: Any, written: Any) -> Cell:
    if kept is None:
        return FormulaCell(str(written)) if written is not None else None
    if isinstance(kept, str):
        return kept.strip()
    return kept if isinstance(kept, bool | int | float | date | time) else str(kept)
