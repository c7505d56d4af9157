"""What bars, steel and tape marks are called on paper and page: texts by hand."""

from __future__ import annotations

import pytest

from mitertool.packet.floor.values import Fetch, LeftOver, SetBack, Tape
from mitertool.packet.pages import said
from mitertool.sections import section


def test_tape_marks_and_the_side_of_the_kerf() -> None:
    assert said.tape(Tape(1, 10.0, 60.04, False), "mm") == ("10", "60")
    assert said.kerf(Tape(1, 0, 0, True)) == "beyond"
    assert said.kerf(Tape(1, 0, 0, False)) == "before"


@pytest.mark.parametrize(
    ("miter", "bevel", "end"),
    [
        (0.0, 0.0, "square end"),
        (-36.87, 0.0, "end 36.87° from square, long at: fixed side"),
        (0.0, 15.0, "end with a bevel of 15° from square, long at: top"),
        (20.0, -15.0, "end 20° from square, long at: moving side, bevel 15°, long at: bottom"),
    ],
)
def test_a_left_over_tells_how_its_end_stands(miter: float, bevel: float, end: str) -> None:
    rest = LeftOver(3, section("SHS 50x50x3"), "S235", 1, 1718.04, miter, bevel)
    assert said.left_over(rest, "mm") == ("1718", end)


def test_a_set_back_is_never_told_shorter_than_it_is() -> None:
    assert said.set_back(SetBack("moving jaw", "feed", "moving-jaw", 103.51), "mm") == "103.6"
    assert said.set_back(SetBack("moving jaw", "feed", "moving-jaw", None), "mm") == ""


def test_steel_is_named_with_its_grade() -> None:
    assert said.material("RHS 80x40x3", "S235JRH") == "RHS 80x40x3, S235JRH"
    assert said.material("RHS 80x40x3", "") == "RHS 80x40x3"
    assert said.fetch(Fetch("RHS 80x40x3", "", 6000.0, 2, 31.14), "mm") == ("2", "6000", "31.1 kg")
