"""A job that cannot be made as asked: refused whole, or written with every page saying which marks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from mitertool.cli.main import run
from tests.packet.jobs import write_job

WRONG = {
    "not to be made": ("HOPELESS", "HOPELESS-OH", "TOO LONG, BY FAR: 9"),
    "many not to be made": tuple(f"HOPELESS-{n}" for n in range(1, 13)),
}
"""The marks that cannot be made: the one-way saw swings 60 degrees one way, the longest bar is 6 m."""


@pytest.mark.parametrize("name", WRONG)
def test_it_is_refused_and_nothing_written(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job, out = write_job(name, tmp_path / "job"), tmp_path / "out"
    before = sorted(tmp_path.rglob("*"))
    assert run(["packet", str(job), "--out", str(out / "packet")]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    first, *lines = said.err.splitlines()
    assert first == f"mitertool: {len(WRONG[name])} marks cannot be made as asked"
    assert all(any(mark in line for line in lines) for mark in WRONG[name])
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("name", WRONG)
def test_an_older_packet_stays_as_it_was(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = str(tmp_path / "packet")
    assert run(["packet", str(write_job("no saw", tmp_path / "fine")), "--out", out]) == 0
    before = {path: path.read_bytes() for path in (tmp_path / "packet").rglob("*") if path.is_file()}
    assert run(["packet", str(write_job(name, tmp_path / "job")), "--out", out]) == 1
    assert {path: path.read_bytes() for path in (tmp_path / "packet").rglob("*") if path.is_file()} == before
    assert capsys.readouterr().err


@pytest.mark.parametrize("name", WRONG)
def test_every_page_says_which_marks_where_it_is_written_anyway(name: str, tmp_path: Path) -> None:
    job = write_job(name, tmp_path / "job")
    assert run(["packet", str(job), "--out", str(tmp_path / "packet"), "--anyway"]) == 0
    pages = PdfReader(tmp_path / "packet" / "cut-sheet.pdf").pages
    for number, page in enumerate(pages, 1):
        _, found, says = " ".join(page.extract_text().split()).partition("CANNOT BE MADE AS ASKED: ")
        assert found, f"page {number}"
        assert [mark for mark in WRONG[name] if mark not in says] == [], f"page {number}"


def test_a_job_that_can_be_made_says_nothing_of_the_kind(tmp_path: Path) -> None:
    assert run(["packet", str(write_job("no saw", tmp_path / "job")), "--out", str(tmp_path / "packet")]) == 0
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "packet" / "cut-sheet.pdf").pages)
    assert "CANNOT BE MADE" not in text
    assert "Long point" in text


def sheet_of(name: str, folder: Path) -> str:
    assert run(["packet", str(write_job(name, folder / "job")), "--out", str(folder / "packet"), "--anyway"]) == 0
    pages = PdfReader(folder / "packet" / "cut-sheet.pdf").pages
    return "\n".join(page.extract_text() for page in pages)


def test_nothing_to_set_is_printed_of_an_end_that_cannot_be_cut(tmp_path: Path) -> None:
    """The one-way saw reads square at -0.13 and goes 60 degrees to the discharge side: 70 would read 69.87 there and
    -70.13 on the other side. No table or row has either; 12 marks each have a left end of 70 from square."""
    text = sheet_of("many not to be made", tmp_path)
    assert "69.87" not in text
    assert "70.13" not in text
    assert len(re.findall(r"cannot\s+be cut", text)) == 12
    assert "12 marks" in text
    assert "needs a swing of 70.00 degrees" in " ".join(text.split())


def test_marks_that_are_refused_alike_are_one_row_of_page_one(tmp_path: Path) -> None:
    """Forty marks for one reason at either end: two rows, and no page of settings that nobody is to set."""
    out = ["--out", str(tmp_path / "packet"), "--anyway"]
    assert run(["packet", str(write_job("a page full of reasons", tmp_path / "job")), *out]) == 0
    pages = PdfReader(tmp_path / "packet" / "cut-sheet.pdf").pages
    first = " ".join(pages[0].extract_text().split())
    assert "40 marks" in first
    assert first.count("needs a swing of 70.00 degrees") <= 2
    assert len(pages) <= 5


def test_a_setting_that_cannot_be_made_says_so_first_and_has_no_steps(tmp_path: Path) -> None:
    """58 degrees on an arm that swings 57: the block of the setting has its reason, the other its steps."""
    source = Path(__file__).parents[2] / "gallery" / "saws" / "hinged.toml"
    (tmp_path / "saw.toml").write_bytes(source.read_bytes())
    job = '[job]\nname = "J"\nsaw = "saw.toml"\n[[piece]]\nmark = "A"\nsection = "FLAT 40x10"\nlength = 500\n'
    (tmp_path / "job.toml").write_text(job + "right = 58\n", encoding="utf-8")
    assert run(["packet", str(tmp_path / "job.toml"), "--out", str(tmp_path / "packet"), "--anyway", "--detail"]) == 0
    text = "\n".join(page.extract_text() for page in PdfReader(tmp_path / "packet" / "cut-sheet.pdf").pages)
    assert text.count("motor off, locked out") == text.count("lock the pivot") == 1
    _, _, block = text.partition(": cannot be cut, FLAT 40x10")
    assert block.splitlines()[1].startswith("CANNOT BE CUT: needs a swing of 58")


def test_a_cut_that_cannot_be_made_says_so_first(capsys: pytest.CaptureFixture[str]) -> None:
    saw = str(Path(__file__).parents[2] / "gallery" / "saws" / "hinged.toml")
    assert run(["cut", "RHS 80x40x3", "--miter", "60", "--saw", saw]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("cannot be cut  ")
    assert not any("scale reads" in line or "swing to the" in line or "lay the bar" in line for line in lines)
    assert run(["cut", "RHS 80x40x3", "--miter", "45", "--saw", saw]) == 0
    assert "cannot" not in capsys.readouterr().out
