"""Infill by hand and against a search over every number of uprights: how many, how far apart, how long, cut how."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.frame.infills import infill
from tests.frame.runs import checked, frame, refusal, tube

TUBE = tube("T", 20, 30)
BAR = mt.flat(20, 20)


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


@settings(deadline=None, max_examples=100, derandomize=True)
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
    assert "clear gap 93.3333 mm" in assembly["notes"][0]
    assert "113.333 mm" in assembly["notes"][0]
    assert assembly["closure"]["gap_mm"] <= 1e-6


def test_raked(tmp_path: Path) -> None:
    """Both ends are mitered 30 and every line of an upright is 900. The rail falls to the left, the moving side of an
    upright that stands on its left end. Along the rail spacing is 113.33 over cos 30, and each stands 113.33 tan 30
    higher."""
    record = checked(tmp_path, TUBE, frame("infill", opening=1000, height=900, clear_most=100, rake=30))
    (piece,) = record["pieces"]
    assert (piece["left"]["miter_deg"], piece["right"]["miter_deg"]) == (30, -30)
    assert (piece["long_point_mm"], piece["short_point_mm"]) == pytest.approx((900, 900))
    assert piece["overall_mm"] == pytest.approx(900 + 20 * math.tan(math.pi / 6))
    along = record["assemblies"][0]["notes"][1]
    assert "130.866 mm" in along
    assert "65.433 mm higher" in along


def test_what_rounding_leaves(tmp_path: Path) -> None:
    """Laid out from one post every 113.333: the tape says 113.5, 226.5, 340 and so on, and a gap is a third off."""
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
