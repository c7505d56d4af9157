"""Texts in the cells of a CSV table, so that a spreadsheet shows them and runs none."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from typing import Final

_RUNS: Final = re.compile("'*[=+\\-@\t\r\n＝＋－＠]")
"""How a cell begins that a spreadsheet takes for a formula, also in the wide forms that some read alike; apostrophes
before it are put there by `as_cell`."""


def as_cell(text: str) -> str:
    """The text as a cell: with an apostrophe before what a spreadsheet would run, as such programs write it themselves.

    `of_cell` reads it back the same.
    """
    return f"'{text}" if _RUNS.match(text) else text


def of_cell(cell: str) -> str:
    """The text of a cell that `as_cell` wrote; any other cell as it is."""
    return cell[1:] if cell.startswith("'") and _RUNS.match(cell) else cell


def table(rows: Iterable[Iterable[object]]) -> bytes:
    """Rows as UTF-8 text with commas, a line each."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    return text.getvalue().encode()
