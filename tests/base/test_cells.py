"""Cells of a CSV: no spreadsheet runs a text, numbers stay numbers, and every text reads back the same.

What begins a formula: the equals sign, plus, minus and the at sign, and the tab and line ends that are passed over
before them; also in their wide forms (OWASP, CSV Injection).
"""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as some

from mitertool.base.cells import as_cell, of_cell

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "＝1", "-", '=cmd|" /C calc"!A0', "-OH", "+A"]


@pytest.mark.parametrize("text", FORMULAS)
def test_what_would_be_run_is_a_text(text: str) -> None:
    assert as_cell(text) == f"'{text}"
    assert of_cell(as_cell(text)) == text
    assert of_cell(as_cell(as_cell(text))) == as_cell(text)


@pytest.mark.parametrize("text", ["A", "A=1", "", "'", "'A'", "1-2", "SHS 40x40x3", "A-OH", " =1"])
def test_any_other_text_is_itself(text: str) -> None:
    assert as_cell(text) == of_cell(text) == text


@given(some.text(alphabet=some.sampled_from("'=+-@\tA1,\"; \n"), max_size=6))
def test_every_text_reads_back_the_same(text: str) -> None:
    table = io.StringIO(newline="")
    csv.writer(table, lineterminator="\n").writerow([as_cell(text), "end"])
    ((cell, _),) = csv.reader(io.StringIO(table.getvalue(), newline=""))
    assert of_cell(cell) == text
    assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r")
