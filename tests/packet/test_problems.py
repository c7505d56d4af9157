"""A job that cannot be made as asked: refused whole, or written with every page saying which marks."""

from __future__ import annotations

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
    assert len(said.err.splitlines()) == 1
    assert all(mark in said.err for mark in WRONG[name])
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
    assert "LONG POINT" in text
