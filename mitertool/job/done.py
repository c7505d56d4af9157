"""done.csv: what of a job is already cut, so that the rest can be planned; knows the file and nest."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.nest import Done, Stock
from mitertool.quantity import Units, count, positive_length

COLUMNS: Final = ("what", "name", "length", "quantity", "grade")
_WHAT: Final = ("piece", "bar used", "length left")


def read_done(path: Path, units: Units) -> Done:
    """Read a CSV with a heading row: what, name, length, quantity, grade.

    "piece" counts good pieces of a mark; "bar used" names a section and the length of whole bars gone; "length left"
    a section and a length of one of them that may still be cut. Raises `BadInput` naming file and line.
    """
    try:
        rows = list(csv.DictReader(path.read_text(encoding="utf-8-sig").splitlines()))
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput("file", str(path), f"cannot be read: {error}") from error
    good: dict[str, int] = {}
    bars: dict[str, list[Stock]] = {"bar used": [], "length left": []}
    for line, row in enumerate(rows, 2):
        try:
            _read_row(row, units, good, bars)
        except BadInput as error:
            raise error.at(path.name, f"line {line}") from None
    return Done(good, tuple(bars["bar used"]), tuple(bars["length left"]))


def _read_row(row: dict[str, str], units: Units, good: dict[str, int], bars: dict[str, list[Stock]]) -> None:
    if not {"what", "name", "quantity"} <= set(row):
        raise BadInput("columns", ", ".join(map(str, row)), f"needed are {', '.join(COLUMNS)}")
    what, name = (row["what"] or "").strip(), (row["name"] or "").strip()
    if what not in _WHAT:
        raise BadInput("what", what, f"allowed: {', '.join(_WHAT)}")
    quantity = count(row.get("quantity") or "1", "quantity", least=0)
    if what == "piece":
        good[name] = good.get(name, 0) + quantity
        return
    length = positive_length(row.get("length") or "", units, "length")
    bars[what].append(
        Stock(name, length, (row.get("grade") or "").strip(), quantity, 0.0 if what == "length left" else None)
    )
