"""Infill by hand and against a search over every number of uprights: how many, how far apart, how long, cut how."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.frame.infills import infill
from mitertool.quantity import length
from tests.frame.runs import checked, command, frame, refusal, tube
from tests.often import times

TUBE = tube("T", 20, 30)
BAR = mt.flat(20, 20)


def running(note: str) -> list[float]:
    """The places of a note in mm, which count up from 1."""
    found = re.findall(r"(\d+) at ([\d.]+) mm", note)
    assert [int(number) for number, _ in found] == list(range(1, len(found) + 1))
    return [float(at) for _, at in found]


def gaps(found: list[complex], count: int, width: float, opening: float) -> list[float]:
    """Clear gaps from post to post at the lower rail, by the lower corners of uprights in their order."""
    lefts = sorted(point.real for point in found)
    assert len(lefts) == 2 * count
    walls = [0.0, *lefts, opening]
    assert all(walls[i + 1] - walls[i] == pytest.approx(width, abs=1e-6) for i in range(1, 2 * count, 2))
    return [walls[i + 1] - walls[i] for i in range(0, 2 * count + 1, 2)]


def fewest(opening: float, width: float, clear_most: float) -> int:
    """The first number of uprights, counted up from 1, whose equal gaps are not too wide by more than a thousandth."""
    count = 1
    while (opening - count * width) / (count + 1) > clear_most + 1e-3:
        count += 1
    return count


@settings(deadline=None, max_examples=times(25), derandomize=True)
@given(st.floats(200, 6000), st.floats(8, 60), st.floats(61, 190), st.floats(-50, 50))
def test_uprights_against_a_search(opening: float, width: float, clear_most: float, rake: float) -> None:
    """In place, from post to post: gaps are equal and not over the greatest; with one upright less they would be."""
    assembly = infill(mt.flat(width, 10), opening, 900, clear_most, rake)
    count = fewest(opening, width, clear_most)
    (member,) = assembly.pieces
    assert (member.quantity, len(assembly.order)) == (count, count)
    feet = [point for outline in assembly.outlines for point in outline[:2]]
    clear = (opening - count * width) / (count + 1)
    assert gaps(feet, count, width, opening) == pytest.approx([clear] * (count + 1), abs=1e-6)
    assert clear <= clear_most + 1e-3
    slope = math.tan(math.radians(rake))
    assert all(point.imag - slope * point.real == pytest.approx(0, abs=1e-6) for point in feet)


@pytest.mark.parametrize("uprights", [1, 2, 7, 30])
@pytest.mark.parametrize("inch", [1, 25.4, 0.3])
def test_an_opening_that_comes_out_even(uprights: int, inch: float) -> None:
    """Gaps of exactly the greatest are not too wide, in any unit."""
    width, clear = 0.75 * inch * 20, 4 * inch * 20
    assembly = infill(mt.flat(width, 10), clear + uprights * (width + clear), 900, clear)
    assert len(assembly.order) == uprights


def test_level(tmp_path: Path) -> None:
    """1000 with gaps of at most 100 and bars of 20: (1000 - 100) / 120 = 7.5, so 8 bars and gaps of 840 / 9."""
    record = checked(tmp_path, TUBE, frame("infill", opening=1000, height=900, clear_most=100))
    (piece,) = record["pieces"]
    assert (piece["mark"], piece["quantity"]) == ("F-1", 8)
    assert (piece["left"]["miter_deg"], piece["right"]["miter_deg"], piece["long_point_mm"]) == (0, 0, 900)
    (assembly,) = record["assemblies"]
    assert assembly["order"] == ["F-1"] * 8
    assert assembly["notes"][0] == "every clear gap 93.3333 mm, measured level"
    assert running(assembly["notes"][1]) == pytest.approx([(280 + 340 * i) / 3 for i in range(8)], rel=1e-5)
    assert assembly["notes"][1].startswith("mark out level, all from the first post to the near side of each upright: ")
    assert assembly["closure"]["gap_mm"] <= 1e-6


def test_raked(tmp_path: Path) -> None:
    """Both ends are mitered 30 and every line of an upright is 900. The rail falls to the left, the moving side of an
    upright that stands on its left end. Along the rail every measure is the level one over cos 30."""
    record = checked(tmp_path, TUBE, frame("infill", opening=1000, height=900, clear_most=100, rake=30))
    (piece,) = record["pieces"]
    assert (piece["left"]["miter_deg"], piece["right"]["miter_deg"]) == (30, -30)
    assert (piece["long_point_mm"], piece["short_point_mm"]) == pytest.approx((900, 900))
    assert piece["overall_mm"] == pytest.approx(900 + 20 * math.tan(math.pi / 6))
    along = record["assemblies"][0]["notes"][1]
    level = [(280 + 340 * i) / 3 for i in range(8)]
    assert running(along) == pytest.approx([at / math.cos(math.pi / 6) for at in level], rel=1e-5)
    assert along.startswith("mark out along the rail, ")


PICKETS = ("--section", "FLAT 1-1/2x1/4", "--opening", "66.25 in", "--height", "36 in", "--clear-most", "5.5 in")
"""66 1/4 between posts and gaps of at most 5 1/2: nine of 1 1/2 leave ten gaps of 5.275, one every 6.775."""

INCHES = {"in": 1000, "ft-in": 16, "in/16": 16, "in/32": 32, "ft-in/32": 32}
"""Steps of an inch that each unit prints."""


@pytest.mark.parametrize("units", INCHES)
@pytest.mark.parametrize("rake", [0.0, 20.0])
def test_every_printed_place_is_rounded_by_itself(units: str, rake: float) -> None:
    """No place is off by more than half of the last printed step, the ninth as little as the first."""
    code, out, err = command("frame", "infill", *PICKETS, "--rake", str(rake), "--units", units)
    assert (code, err) == (0, "")
    (line,) = [line for line in out.splitlines() if line.startswith("mark out ")]
    places = re.findall(r"\d+ at (.*?\")", line)
    exact = [(5.275 + 6.775 * i) / math.cos(math.radians(rake)) for i in range(9)]
    printed = [length(text, "in", "place") / 25.4 for text in places]
    assert printed == pytest.approx(exact, abs=0.5 / INCHES[units] + 1e-9)


def test_no_spacing_is_printed_to_be_stepped_off() -> None:
    """6.775 stepped off as 6 3/4 nine times ends 0.225 short."""
    _, out, _ = command("frame", "infill", *PICKETS, "--units", "ft-in")
    assert '6 3/4"' not in out
    assert "9 at 4'-11 1/2\"" in out


@pytest.mark.parametrize("rake", [0.0, 35.0])
def test_the_claim_is_that_of_the_printed_places(tmp_path: Path, rake: float) -> None:
    """Places read on a tape of half millimetres, from post to post: how far the gaps are off, worked out from them."""
    record = checked(tmp_path, TUBE, frame("infill", opening=1803, height=900, clear_most=100, rake=rake))
    (assembly,) = record["assemblies"]
    lean = math.cos(math.radians(rake))
    read = [2 * at for at in running(assembly["notes"][1])]
    level = [math.floor(at + 0.5) / 2 * lean for at in read]
    clear = (1803 - len(level) * 20) / (len(level) + 1)
    gaps_left = [level[0], *(b - a - 20 for a, b in itertools.pairwise(level)), 1803 - level[-1] - 20]
    off = max(abs(gap - clear) for gap in gaps_left)
    assert assembly["closure"]["rounded_gap_mm"] == pytest.approx(off, abs=1e-9)
    assert off > 0.1


def test_what_rounding_leaves(tmp_path: Path) -> None:
    """Marked out from one post: 93.333 is read 93.5, 206.667 is 206.5, 320 and so on, and a gap is a third off."""
    record = checked(tmp_path, TUBE, frame("infill", opening=1000, height=900, clear_most=100))
    assert record["assemblies"][0]["closure"]["rounded_gap_mm"] == pytest.approx(1 / 3)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        (
            {"opening": 100},
            "opening: found '100 mm'; no upright is needed: the greatest clear gap is 100 mm",
        ),
        (
            {"opening": 15, "clear_most": 10},
            "opening: found '15 mm'; the uprights do not fit: the greatest clear gap is 10",
        ),
        ({"opening": 0}, "opening: found 0; it must be more than 0; "),
        ({"height": -900}, "height: found -900; it must be more than 0; "),
        ({"clear_most": 0}, "clear_most: found 0; it must be more than 0; "),
        ({"rake": 85}, "rake: found 85.0; must be less than 85 degrees"),
        ({"rake": -90}, "rake: found -90.0; must be less than 85 degrees"),
        ({"measured": "outside"}, "key, unknown key: found 'measured'; "),
    ],
    ids=str,
)
def test_no_infill(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    given = {"opening": 1000, "height": 900, "clear_most": 100, **keys}
    assert refusal(tmp_path, TUBE, frame("infill", **given)).startswith(f"[[frame]] F: {says}")


def test_the_solver_refuses_what_is_no_number() -> None:
    with pytest.raises(mt.BadInput, match=r"opening: found nan; must be more than 0 mm"):
        infill(BAR, math.nan, 900, 100)
    with pytest.raises(mt.BadInput, match=r"clear_most: found inf; must be more than 0 mm"):
        infill(BAR, 1000, 900, math.inf)
