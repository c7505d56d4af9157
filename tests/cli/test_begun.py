"""A bar of which only the first pieces are cut: what is done, what is left of it, and what the rack is told.

A bar of 6000, a kerf of 2, a trim of 10 with its kerf in it, two square pieces of 1000: behind the first of them
6000 - 10 - 1000 - 2 = 4988 are left, behind the second 3986.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.rack import RackBook
from mitertool.rack.values import RackBar
from tests.cli.conftest import Said

Call = Callable[..., Said]
JOB = """
[job]
name = "Gate"
revision = "A"
[[stock]]
section = "RHS 80x40x3"
length = 6000
[[piece]]
mark = "A"
section = "RHS 80x40x3"
length = 1000
quantity = 2
[nest]
kerf = 2
trim = 10
rack = "rack.sqlite"
keep = 300
"""


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "job.toml").write_text(JOB)
    with RackBook.opened(tmp_path / "rack.sqlite"):
        return tmp_path


def lying(shop: Path) -> list[RackBar]:
    with RackBook.opened(shop / "rack.sqlite") as book:
        return list(book.lying())


def booked_and_begun(call: Call) -> Said:
    assert call("packet", "job.toml", "--book").code == 0
    said = call("done", "job.toml", "--begun", "1=1")
    assert said.code == 0
    return said


def test_what_is_left_of_it_is_cut_from_in_the_rest(shop: Path, call: Call) -> None:
    said = booked_and_begun(call)
    assert "--begun 1.1" in said.out
    assert "length left,RHS 80x40x3,4988 mm,1" in (shop / "done.csv").read_text()
    assert call("rack", "free", "Gate", "--revision", "A", "--begun", "1", "--rack", "rack.sqlite").code == 0
    assert lying(shop) == []
    told = call("packet", "job.toml", "--done", "done.csv", "--json").json["rest"]
    assert not any("begun" in line for line in told)
    plan = (shop / "Gate-A-rest" / "plan.json").read_text()
    assert '"stock_length_mm": 4988' in plan


def test_a_left_over_that_is_begun_is_used_up(shop: Path, call: Call) -> None:
    """Of 2600 one piece: neither the 2600 nor the 586 that it was to leave lie there; taken back both are as before."""
    with RackBook.opened(shop / "rack.sqlite") as book, book.changing():
        book.add([RackBar("RHS 80x40x3", 2600, 2600)])
    booked_and_begun(call)
    assert "bar used" not in (shop / "done.csv").read_text()
    before = lying(shop)
    free = ("rack", "free", "Gate", "--revision", "A", "--rack", "rack.sqlite")
    assert "cut in part: bars 1" in call(*free, "--begun", "1").out
    assert lying(shop) == []
    assert call(*free, "--undo").code == 0
    assert lying(shop) == before


def test_a_bar_begun_here_and_cut_to_the_rack_is_told(shop: Path, call: Call) -> None:
    """Else the 4988 of done.csv and the 3986 that the rack takes for left of it would be one bar twice."""
    booked_and_begun(call)
    assert call("rack", "free", "Gate", "--revision", "A", "--cut", "1", "--rack", "rack.sqlite").code == 0
    assert [bar.length for bar in lying(shop)] == [3986]
    said = call("packet", "job.toml", "--done", "done.csv", "--out", "rest").out
    assert "bar 1 of Gate A is told as begun here and as cut to the rack, where number 1 would be what it left" in said
    assert call("rack", "remove", "1", "--rack", "rack.sqlite").code == 0
    assert "is told as begun" not in call("packet", "job.toml", "--done", "done.csv", "--out", "rest").out


@pytest.mark.parametrize("given", ["1=2", "1=0", "1=x", "7=1", "1"])
def test_no_more_than_some_of_its_pieces_can_be_told(shop: Path, call: Call, given: str) -> None:
    assert call("packet", "job.toml").code == 0
    said = call("done", "job.toml", "--begun", given)
    assert (said.code, said.err.count("\n")) == (2, 1)
    assert not (shop / "done.csv").exists()


def test_a_spoiled_piece_of_a_bar_that_is_not_told_is_asked_for(shop: Path, call: Call) -> None:
    """Bar 1 gives two of A; a third that went wrong is of another bar. Where no bars are told nobody asks."""
    assert call("packet", "job.toml").code == 0
    asks = "tell the bar of a spoiled one too"
    assert asks not in call("done", "job.toml", "--spoiled", "A=1", "--file", "typed.csv").out
    assert asks not in call("done", "job.toml", "--cut", "1", "--spoiled", "A=1").out
    assert asks in call("done", "job.toml", "--spoiled", "A=2").out
