"""A row of a list as the keys of a [[piece]]: lengths with their unit, angles from square; knows cells and columns."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date, time
from functools import partial
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.lists.cells import Cell, CellRow, FormulaCell, is_empty
from mitertool.lists.columns import Columns, ListColumn
from mitertool.lists.keys import ANGLES, LIST_UNITS
from mitertool.lists.numbers import Numeral, with_point
from mitertool.piece import AT
from mitertool.quantity import angle
from mitertool.quantity.units import WITH_FEET, Units
from mitertool.words import phrase

NUMBERS: Final = ("length", "left", "right", "left_bevel", "right_bevel")
"""Columns in which a comma may part whole and fraction."""

ENDS: Final = ("left", "right")

_PLACES: Final[Mapping[str, str]] = {
    **{word: word for word in AT},
    **{word.replace("-", " "): word for word in AT},
    "lp": "long-point",
    "sp": "short-point",
    "cl": "centerline",
    "centreline": "centerline",
    "tip to tip": "overall",
    "oal": "overall",
    "long": "long-point",
    "short": "short-point",
}
_MEANT: Final[Mapping[str, str]] = {
    **{word: word for word in ANGLES},
    "square": "from square",
    "bar": "from bar",
    "axis": "from bar",
    "from axis": "from bar",
    "corner": "included",
}
_HANDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("as drawn", "drawn", ""), "as drawn"),
    **dict.fromkeys(("opposite", "opposite hand", "opp", "oh", "mirrored"), "opposite"),
}
_UNITS: Final[Mapping[str, str]] = {**{word: word for word in LIST_UNITS}, "inch": "in", '"': "in", "feet": "ft"}
_SUFFIX: Final[Mapping[str, str]] = {"ft-in": "in"}
"""How a bare number in some unit is written so that it reads alone."""

_BARE: Final = re.compile(r"[+-]?[\d.]+(?:[ -]\d+/\d+|/\d+)?|[+-]?\d+[½¼¾⅛⅜⅝⅞]")
_FROM_BAR_MOST: Final = 180


class AskedOnce(BadInput):
    """What a list as a whole must say; the row is only the first that makes it a question."""


@attrs.frozen
class ListReading:
    """How the rows of one list are read: its columns, what the list says of all rows, and its decimal sign."""

    columns: Columns
    said: Mapping[str, Any]
    units: Units
    decimal: str = "."

    def numerals(self, row: CellRow) -> Iterator[Numeral]:
        """What is written as text where numbers stand."""
        for key in NUMBERS:
            column = self.columns.read.get(key)
            cell = row.at(column.number) if column else None
            if column and isinstance(cell, str):
                unit = self._unit(row)
                yield Numeral(cell, column.cell(row.number), key != "length" or unit in ("in", "ft", "ft-in"))

    def piece(self, row: CellRow) -> dict[str, Any]:
        """The row as the keys of a [[piece]]. Raises `BadInput` that names the cell."""
        found: dict[str, Any] = {key: self.said[key] for key in ("section", "grade") if key in self.said}
        for key, made in self._made(row).items():
            column = self.columns.read.get(key)
            cell = row.at(column.number) if column else None
            value = _in_place(column, row.number, partial(_made_of, made, cell))
            if value is not None:
                found[key] = value
        found |= dict(self._ends(row))
        if "at" not in found and any(found.get(end) for end in ENDS):
            raise AskedOnce("at", phrase("found.nothing"), phrase("list.which-at", words=", ".join(AT[:4])))
        return self._handed(found, row)

    def _made(self, row: CellRow) -> dict[str, Callable[[Cell], Any]]:
        """How the cell of each key is read."""
        return {
            **dict.fromkeys(("mark", "section", "grade", "lay", "out"), _text),
            "length": lambda cell: self._length(cell, row),
            "quantity": _count,
            "opposite": _count,
            "at": lambda cell: self._at(cell),
        }

    def _at(self, cell: Cell) -> str | None:
        own = _word(cell, _PLACES, "at")
        return own or self.columns.read["length"].at or self.said.get("at")

    def _unit(self, row: CellRow) -> str:
        """The unit of a bare length: of the row, of the heading, of the list, of the job."""
        column = self.columns.read.get("units")
        own = _word(_plain(row.at(column.number)), _UNITS, "units") if column else None
        of_heading = self.columns.read["length"].unit
        usual = "ft-in" if self.units in WITH_FEET else "mm" if self.units == "mm" else "in"
        return own or of_heading or self.said.get("units") or usual

    def _length(self, cell: Cell, row: CellRow) -> str | None:
        text = self._number(cell)
        if text is None:
            return None
        unit = self._unit(row)
        return f"{text} {_SUFFIX.get(unit, unit)}" if _BARE.fullmatch(text) else text

    def _number(self, cell: Cell) -> str | None:
        if is_empty(cell):
            return None
        if isinstance(cell, bool):
            raise BadInput("number", cell, phrase("list.no-number"))
        return with_point(cell, self.decimal) if isinstance(cell, str) else repr(cell)

    def _ends(self, row: CellRow) -> Iterator[tuple[str, Any]]:
        meant = self.columns.read.get("angles")
        own = meant and _in_place(meant, row.number, lambda: _word(_plain(row.at(meant.number)), _MEANT, "angles"))
        for end in ENDS:
            column, bevel = (self.columns.read.get(key) for key in (end, f"{end}_bevel"))
            text = self._at_end(column, row)
            miter = _in_place(column, row.number, partial(_miter, text, own or self._meant(), end))
            tilt = self._at_end(bevel, row)
            if tilt is not None:
                degrees = _in_place(bevel, row.number, partial(angle, tilt, "bevel"))
                yield end, {**_as_table(miter), "bevel": degrees}
            elif miter is not None:
                yield end, miter

    def _at_end(self, column: ListColumn | None, row: CellRow) -> str | None:
        cell = row.at(column.number) if column else None
        found: str | None = _in_place(column, row.number, lambda: self._number(_plain(cell)))
        return found

    def _meant(self) -> str:
        return str(self.said.get("angles", ""))

    def _handed(self, found: dict[str, Any], row: CellRow) -> dict[str, Any]:
        """The row with its count where the hand says."""
        column = self.columns.read.get("hand")
        if column is None:
            return found
        hand = _in_place(column, row.number, lambda: _word(_plain(row.at(column.number)), _HANDS, "hand"))
        if hand != "opposite":
            return found
        return {**found, "quantity": 0, "opposite": found.get("quantity", 1)}


def _in_place(column: ListColumn | None, row: int, made: Callable[[], Any]) -> Any:
    """What is made of a cell; a refusal names it."""
    try:
        return made()
    except BadInput as error:
        raise (error.at(column.cell(row)) if column else error) from None


def _plain(cell: Cell) -> Cell:
    """A cell that is no formula and no day that an office program made of a number."""
    if isinstance(cell, FormulaCell):
        raise BadInput("cell", cell.text, phrase("list.formula"))
    if isinstance(cell, date | time):
        raise BadInput("cell", str(cell), phrase("list.a-day"))
    return cell


def _made_of(made: Callable[[Cell], Any], cell: Cell) -> Any:
    return made(_plain(cell))


def _text(cell: Cell) -> str | None:
    if is_empty(cell):
        return None
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)


def _count(cell: Cell) -> int | str | None:
    if is_empty(cell):
        return None
    if isinstance(cell, float) and cell.is_integer():
        return int(cell)
    return cell if isinstance(cell, int | str) else str(cell)


def _word(cell: Cell, words: Mapping[str, str], what: str) -> str | None:
    """One of the words, in whatever case and with whatever between its parts."""
    text = " ".join(str("" if cell is None else cell).casefold().split()).rstrip(".")
    if not text:
        return None
    if text not in words:
        raise BadInput(what, str(cell), phrase("list.word", words=", ".join(dict.fromkeys(words.values()))))
    return words[text]


def _miter(text: str | None, meant: str, end: str) -> Any:
    """The cut of a cell: in its own words, or a bare angle as it is meant."""
    if text is None:
        return None
    if re.search(r"[:a-z]", re.sub(r"(?i)deg(rees?)?\.?", "", text).casefold()):
        return text
    degrees = angle(text, end)
    if not meant:
        if degrees:
            raise AskedOnce(end, text, phrase("list.which-angles", words=", ".join(ANGLES)))
        return 0
    if meant == "from square":
        return degrees
    if meant == "included":
        return {"corner": degrees}
    if not 0 < abs(degrees) < _FROM_BAR_MOST:
        raise BadInput(end, text, phrase("list.from-bar", most=_FROM_BAR_MOST))
    return 90 - degrees if degrees > 0 else -90 - degrees


def _as_table(miter: Any) -> dict[str, Any]:
    if miter is None or isinstance(miter, dict):
        return dict(miter or {})
    return {"miter": miter}
