"""Rectangles by hand: lengths and miters from outside, inside and centerline sizes, root gaps, marks and rounding."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.frame import Assembly, Resolution, rectangle

R2 = math.sqrt(2)
TUBE = mt.rect_tube(50, 50, 3)
WIDE = mt.flat(80, 12)
NARROW = mt.flat(40, 12)
STEEP, SHALLOW = math.degrees(math.atan(2)), math.degrees(math.atan(0.5))


def sides(assembly: Assembly) -> list[tuple[float, float, float]]:
    """Left miter, outside length and right miter of the sides in walking order."""
    by_mark = {member.mark: member.piece for member in assembly.pieces}
    pieces = [by_mark[mark] for mark in assembly.order]
    return [(piece.left.miter, piece.edges.moving_bottom, piece.right.miter) for piece in pieces]


@pytest.mark.parametrize(("measured", "more"), [("outside", 0), ("centerline", 50), ("inside", 100)])
def test_one_section(measured: str, more: float) -> None:
    found = sides(rectangle(TUBE, 1000, 600, measured))
    expected = [(45, 1000 + more, 45), (45, 600 + more, 45)] * 2
    assert [pytest.approx(side) for side in expected] == found


@pytest.mark.parametrize(("measured", "share"), [("outside", 0), ("centerline", 0.5), ("inside", 1)])
def test_two_sections(measured: str, share: float) -> None:
    """Width sides 80 wide, height sides 40: the narrow one is cut at atan 2. What lies beyond the measured width are
    the height sides, and the other way round."""
    found = sides(rectangle([WIDE, NARROW], 1000, 600, measured))
    width, height = 1000 + share * 80, 600 + share * 160
    expected = [(SHALLOW, width, SHALLOW), (STEEP, height, STEEP)] * 2
    assert [pytest.approx(side) for side in expected] == found


def test_four_sections() -> None:
    """In walking order width, height, width, height: 80, 40, 40, 40."""
    found = sides(rectangle([WIDE, NARROW, NARROW, NARROW], 1000, 600, "outside"))
    expected = [(SHALLOW, 1000, SHALLOW), (STEEP, 600, 45), (45, 1000, 45), (45, 600, STEEP)]
    assert [pytest.approx(side) for side in expected] == found


def test_a_root_gap() -> None:
    """2 mm between the faces is 1 mm off each, square to it, sqrt 2 along the bar at 45 degrees."""
    assembly = rectangle(TUBE, 1000, 600, "outside", root_gap=2)
    expected = [(45, 1000 - 2 * R2, 45), (45, 600 - 2 * R2, 45)] * 2
    assert [pytest.approx(side) for side in expected] == sides(assembly)
    assert assembly.closure.gap == pytest.approx(0, abs=1e-6)
    assert assembly.closure.overlap == pytest.approx(0, abs=1e-6)


def test_marks_are_shared_by_equal_sides() -> None:
    square = rectangle(TUBE, 800, 800, "outside", mark="A")
    assert [(m.mark, m.quantity) for m in square.pieces] == [("A-1", 4)]
    assert square.order == ("A-1",) * 4
    oblong = rectangle(TUBE, 1000, 600, "outside", mark="B")
    assert [(m.mark, m.quantity) for m in oblong.pieces] == [("B-1", 2), ("B-2", 2)]
    assert oblong.order == ("B-1", "B-2", "B-1", "B-2")
    mixed = rectangle([WIDE, NARROW, NARROW, NARROW], 1000, 600, "outside")
    assert [m.quantity for m in mixed.pieces] == [1, 1, 1, 1]
    assert mixed.order == ("FRAME-1", "FRAME-2", "FRAME-3", "FRAME-4")


def test_what_rounding_leaves() -> None:
    """Opposite sides alike are rounded alike, and 45s are on every protractor; miters of 26.57 and 63.43 are not."""
    assert rectangle(TUBE, 1000, 600, "outside").closure.rounded_gap == pytest.approx(0, abs=1e-6)
    assert rectangle(TUBE, 1000.2, 600.3, "outside").closure.rounded_gap == pytest.approx(0, abs=1e-6)
    exact = Resolution(length=1e-9, angle=1e-9)
    assert rectangle([WIDE, NARROW], 1000, 600, "outside", resolution=exact).closure.rounded_gap < 1e-5
    coarse = rectangle([WIDE, NARROW], 1000, 600, "outside", resolution=Resolution(length=1, angle=1))
    assert 0.1 < coarse.closure.rounded_gap < 20


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ({"width": 0}, r"width: found 0; must be more than 0 mm"),
        ({"height": -600}, r"height: found -600; must be more than 0 mm"),
        ({"width": math.nan}, r"width: found nan"),
        ({"height": math.inf}, r"height: found inf"),
        ({"measured": "around"}, r"measured: found 'around'; .*outside, .*"),
        ({"root_gap": -1}, r"root_gap: found -1"),
        ({"root_gap": math.nan}, r"root_gap: found nan"),
        ({"section": [TUBE] * 3}, r"section: found '3 sections'; a rectangle takes 1, 2 \(width, height\) or 4"),
        ({"section": []}, r"section: found '0 sections'"),
        ({"width": 90}, r"cross inside the section"),
        ({"width": 101, "root_gap": 120}, r"too short|larger than|cross inside|no piece"),
    ],
)
def test_refused(words: dict[str, object], says: str) -> None:
    given: dict[str, object] = {"section": TUBE, "width": 1000, "height": 600, "measured": "outside"}
    with pytest.raises(mt.BadInput, match=says):
        rectangle(**(given | words))  # type: ignore[arg-type]


def test_the_smallest_frame_is_pointed() -> None:
    """Outside as wide as two members: nothing is left inside."""
    assembly = rectangle(TUBE, 100, 100, "outside")
    assert assembly.pieces[0].piece.edges.fixed_bottom == pytest.approx(0, abs=1e-9)
    assert assembly.closure.gap <= 1e-6
