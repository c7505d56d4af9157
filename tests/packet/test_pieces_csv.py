"""pieces.csv has the columns that are documented, each with its sentence, and no others."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

import pytest

from mitertool.job import Solution
from mitertool.packet.records.pieces_csv import COLUMNS, pieces_csv
from mitertool.words import phrase
from tests.packet.jobs import GALLERY, ROOT

SAYS = {column: phrase(code) for column, code in COLUMNS.items()}


def test_every_column_is_documented() -> None:
    assert [column for column, says in SAYS.items() if not says.endswith(".") or len(says) < 15] == []


@pytest.mark.parametrize("name", GALLERY)
def test_the_heading_row_is_the_documented_one(name: str) -> None:
    text = (ROOT / "gallery" / name / "packet" / "pieces.csv").read_text(encoding="utf-8")
    table = list(csv.reader(io.StringIO(text)))
    assert table[0] == list(COLUMNS)
    assert {len(row) for row in table} == {len(COLUMNS)}


def test_scale_and_roll_are_empty_without_a_saw(solution_of: Callable[[str], Solution]) -> None:
    (row, *_) = csv.DictReader(io.StringIO(pieces_csv(solution_of("no saw")).decode("utf-8")))
    empty = {column for column, cell in row.items() if cell == ""}
    unknown = {column for column, says in SAYS.items() if "empty without a saw file" in says}
    assert unknown
    assert unknown <= empty
