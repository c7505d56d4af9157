"""Marks that print alike are one mark or refused; words that cannot be printed are refused with their place."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.job import load, solve
from mitertool.job.done import read_work
from mitertool.job.model import Job
from mitertool.packet.records.pieces_csv import pieces_csv


def job(folder: Path, *marks: str, head: str = 'name = "Job"', more: str = "") -> Job:
    pieces = "".join(
        f'[[piece]]\nmark = "{mark}"\nsection = "L 50x50x5"\nlength = 900\nleft = -30\nopposite = 1\n{more}\n'
        for mark in marks
    )
    (folder / "job.toml").write_text(f"[job]\n{head}\n{pieces}", encoding="utf-8")
    return load(folder / "job.toml")


COMPOSED, TAKEN_APART = "STÜTZE", "STU\N{COMBINING DIAERESIS}TZE"


@pytest.mark.parametrize("mark", [COMPOSED, TAKEN_APART, f"  {TAKEN_APART}\N{NO-BREAK SPACE}"])
def test_a_mark_is_one_however_its_accents_were_typed(tmp_path: Path, mark: str) -> None:
    assert [piece.mark for piece in solve(job(tmp_path, mark)).pieces] == [COMPOSED, f"{COMPOSED}-OH"]


def test_a_space_that_does_not_break_is_a_space(tmp_path: Path) -> None:
    assert job(tmp_path, "A\N{NO-BREAK SPACE}1").pieces[0].mark == "A 1"


@pytest.mark.parametrize(
    "marks",
    [
        (COMPOSED, TAKEN_APART),
        ("A", "\N{CYRILLIC CAPITAL LETTER A}"),
        ("A", "\N{FULLWIDTH LATIN CAPITAL LETTER A}"),
        ("A-OH", "\N{GREEK CAPITAL LETTER ALPHA}"),
        ("A2", "A\N{SUPERSCRIPT TWO}"),
    ],
)
def test_marks_that_look_alike_are_refused(tmp_path: Path, marks: tuple[str, ...]) -> None:
    with pytest.raises(BadInput, match="mark"):
        job(tmp_path, *marks)


@pytest.mark.parametrize(
    ("head", "more", "words"),
    [
        ('name = "Job"', 'out = "the \u200bseam"', ("[[piece]] A", "out", "U+200B")),
        ('name = "Job"', 'grade = "S\u00ad235"', ("[[piece]] A", "grade", "U+00AD")),
        ('name = "\u0e1b\u0e23\u0e30"', "", ("[job]", "name", "U+0E1B", "no shape")),
        ('name = "\u05e9\u05e2\u05e8"', "", ("[job]", "name", "U+05E9", "right to left")),
        ('name = "Job"\ncustomer = "\\u0007"', "", ("[job]", "customer", "U+0007")),
    ],
)
def test_words_that_cannot_be_printed_are_refused_with_their_place(
    tmp_path: Path, head: str, more: str, words: tuple[str, ...]
) -> None:
    with pytest.raises(BadInput) as refusal:
        job(tmp_path, "A", head=head, more=more)
    assert [word for word in words if word not in str(refusal.value)] == []


@pytest.mark.parametrize("mark", ["A\u200b", "\u3164", "A\\u001b[31m", "เสา"])
def test_a_mark_with_what_cannot_be_printed_is_refused(tmp_path: Path, mark: str) -> None:
    with pytest.raises(BadInput, match=r"mark.*U\+"):
        job(tmp_path, mark)


def test_cells_of_the_table_of_pieces_are_no_formulas_and_read_back_the_same(tmp_path: Path) -> None:
    marks = ("=1+1", "@A", "-12", "+A", "'=A", "A")
    solution = solve(job(tmp_path, *marks, more='grade = "=S"'))
    rows = list(csv.DictReader(io.StringIO(pieces_csv(solution).decode())))
    assert [row["mark"] for row in rows[::2]] == ["'=1+1", "'@A", "'-12", "'+A", "''=A", "A"]
    assert {row["grade"] for row in rows} == {"'=S"}
    assert {float(row["left_miter_deg"]) for row in rows} == {-30, 0}
    (tmp_path / "done.csv").write_text(
        "what,name,quantity\n" + "".join(f'piece,"{row["mark"]}",1\n' for row in rows), encoding="utf-8"
    )
    assert list(read_work(tmp_path / "done.csv", solution.job).done.good) == [piece.mark for piece in solution.pieces]
