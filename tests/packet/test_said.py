"""The figures of the cut sheet as they are read: texts by hand, for figures whose meaning the values state."""

from __future__ import annotations

import attrs
import pytest

from mitertool.packet.floor.readings import beside_a_line
from mitertool.packet.floor.values import CutRow, Proof, Reading, Tape, Turn
from mitertool.packet.pages import said
from mitertool.saw.feed.stops import Stop

SQUARE = Reading(0.0, 0.0, 0, "", "square", 0.0, 0.0)


def at(degrees: float, division: float) -> Reading:
    return Reading(degrees, *beside_a_line(degrees, division), "", "feed", degrees, 0.0)


# 123.69 lies 0.19 past 123.5, which is 0.38 of half a degree; 126.87 lies 0.13 short of 127, which is 0.26 of it.
@pytest.mark.parametrize(
    ("degrees", "division", "set_to", "exactly"),
    [
        (135.0, 0.5, "135°", ""),
        (123.69, 0.5, "123.5° +0.4", "123.69°"),
        (126.87, 0.5, "127° -0.3", "126.87°"),
        (123.0, 2.0, "124° -0.5", "123°"),
        (45.004, 1.0, "45°", ""),
    ],
)
def test_a_reading_is_the_nearest_line_and_tenths_of_a_division(
    degrees: float, division: float, set_to: str, exactly: str
) -> None:
    assert said.reading(at(degrees, division)) == set_to
    assert said.exactly(at(degrees, division)) == exactly


def test_what_cannot_be_cut_has_no_reading() -> None:
    refused = attrs.evolve(at(123.69, 0.5), ok=False, side="feed")
    assert (said.reading(refused), said.exactly(refused), said.scale_side(refused)) == ("cannot be cut", "", "")


def test_without_a_saw_file_an_end_is_told_from_square() -> None:
    plain = Reading(33.69, None, 0, "", "moving", 33.69, -10.0)
    told = (said.reading(plain), said.arm(plain), said.tilt(plain))
    assert told == ("33.69°", "long at the moving side", "bevel 10°, long at the bottom")
    assert said.arm(Reading(0.0, None, 0, "", "square", 0.0, 0.0)) == "square"


@pytest.mark.parametrize(
    ("turn", "says"),
    [
        (Turn(True, 180.0), "roll the bar half a turn"),
        (Turn(False, 90.0), "roll the bar: top 90° to the moving side"),
        (Turn(False, -45.0), "roll the bar: top 45° to the fixed side"),
        (Turn(False, 0.0), "roll the bar back as drawn"),
    ],
)
def test_a_roll_is_told_by_where_the_top_goes(turn: Turn, says: str) -> None:
    assert said.turn(turn) == says


def test_how_a_bar_is_brought_to_the_blade() -> None:
    trim = CutRow((1,), "trim", "", SQUARE, sets=True, raw_end=-49.2)
    scrap = CutRow((2,), "scrap", "", SQUARE, sets=False, moves=-120.65)
    assert said.brought(trim, "mm") == "raw end 49.2 before the pivot line"
    assert said.brought(attrs.evolve(trim, raw_end=12.7), "ft-in") == 'raw end 1/2" past the pivot line'
    assert said.brought(scrap, "ft-in") == 'pull the bar back 4 3/4"'
    assert said.brought(attrs.evolve(trim, key=35.9), "mm") == ""
    assert (said.makes(trim), said.makes(scrap)) == ("trim cut", "scrap")


def test_a_stop_that_does_not_hold_sends_to_the_tape(solution_of) -> None:  # type: ignore[no-untyped-def]
    reach = solution_of("hatch-frame").runs[0].cuts[0].reach
    holds = Stop("A", 1000.0, 0.0, 0.0, True, "", "", True, reach)
    row = CutRow((2,), "piece", "A", SQUARE, sets=False, stop=holds)
    assert (said.stop(row, "mm"), said.touches(row, "mm")) == ("1000", "whole end")
    none = attrs.evolve(row, stop=attrs.evolve(holds, holds=False))
    assert (said.stop(none, "mm"), said.touches(none, "mm")) == ("", "no stop holds: cut at the tape mark")


def test_a_proof_is_never_told_looser_than_it_is() -> None:
    assert said.proof(Proof(33.69, 0.258)) == "prove with a protractor: 33.69°, out by 0.25° at most"


def test_tape_marks_and_the_side_of_the_kerf() -> None:
    assert said.tape(Tape(1, 10.0, 60.04, False), "mm") == ("10", "60")
    assert (said.kerf(Tape(1, 0, 0, True)), said.kerf(Tape(1, 0, 0, False))) == (
        "cut past the marks",
        "cut before the marks",
    )
