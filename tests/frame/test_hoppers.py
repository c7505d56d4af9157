"""Hoppers by hand, and pyramids worked out by vectors here; printed angles in `tests/published`."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

import mitertool as mt
from mitertool.frame import SpaceAssembly, hopper
from mitertool.frame.assembly import Resolution
from mitertool.frame.hoppers import Sizes
from mitertool.frame.in_space import Named
from mitertool.frame.leaning import in_a_fixture


def test_an_upright_box_and_the_flat() -> None:
    assert (mt.hopper_cut(4, 90).miter, mt.hopper_cut(4, 90).bevel) == pytest.approx((0, 45), abs=1e-12)


def test_in_a_fixture_one_swing_makes_the_cut() -> None:
    """A plane that leans p across and q up leans hypot(p, q) toward atan2(q, p); tan 26.565051 is 1/2."""
    leans, swing = in_a_fixture(mt.hopper_cut(4, 60))
    p, q = 0.5, math.tan(math.radians(37.761244)) / math.cos(math.radians(26.565051))
    assert leans == pytest.approx(math.degrees(math.atan2(q, p)), abs=1e-5)
    assert swing == pytest.approx(math.degrees(math.atan(math.hypot(p, q))), abs=1e-5)


def plate_corners(made: SpaceAssembly, outside: bool) -> list[list[np.ndarray]]:
    """The corners of the outside or inside of every plate, by its own lengths and angles, placed by its stand."""
    found = []
    for mark, stand in zip(made.order, made.stands, strict=True):
        piece = next(member.piece for member in made.pieces if member.mark == mark)
        wide, thick = piece.section.width, piece.section.height
        ways = np.array([stand.along, stand.across, stand.up]).T
        z = thick / 2 if outside else -thick / 2
        corners = []
        for end, y in (("left", -wide / 2), ("right", -wide / 2), ("right", wide / 2), ("left", wide / 2)):
            cut = getattr(piece, end)
            p, q = math.tan(math.radians(cut.miter)), 0.0
            q = math.tan(math.radians(cut.bevel)) / math.cos(math.radians(cut.miter))
            x = piece.centerline + p * y + q * z if end == "right" else -p * y - q * z
            corners.append(np.array(stand.at) + ways @ np.array([x, y, z]))
        found.append(corners)
    return found


@pytest.mark.parametrize("measured", ["outside", "inside"])
def test_a_rectangular_hopper_stands_on_its_corners(measured: str) -> None:
    """Bottom 300 x 200, top 800 x 500, 400 high: its sides along X lean out 150 over 400, those along Y 250."""
    flats = [mt.flat(math.hypot(400, 150), 6), mt.flat(math.hypot(400, 250), 6)]
    made = hopper(flats, 4, Sizes((300.0, 200.0), (800.0, 500.0), 400.0), measured)
    corners = plate_corners(made, measured == "outside")
    for plate, after in pairwise([*corners, corners[0]]):
        assert np.allclose(plate[1], after[0], atol=1e-9)
        assert np.allclose(plate[2], after[3], atol=1e-9)
    assert np.allclose(corners[0][0], (-150, -100, 0), atol=1e-9)
    assert np.allclose(corners[0][2], (400, -250, 400), atol=1e-9)
    assert max(made.closure.gap, made.closure.overlap) < 1e-6
    assert [member.quantity for member in made.pieces] == [2, 2]


def test_both_faces_of_a_corner_meet() -> None:
    """With equal slopes the other face of the plates meets as well."""
    made = hopper(mt.flat(math.hypot(300, 200), 8), 6, Sizes(400.0, 800.0, 300.0), "outside")
    for outside in (True, False):
        corners = plate_corners(made, outside)
        for plate, after in pairwise([*corners, corners[0]]):
            assert np.allclose(plate[1], after[0], atol=1e-9)


def test_the_height_follows_from_the_width_of_the_flat() -> None:
    """3-4-5: out 300, slant 500, so 400 high and 53.13 degrees steep."""
    made = hopper(mt.flat(500, 5), 4, Sizes(200.0, 800.0), "outside")
    cut, wanted = made.pieces[0].piece.left, mt.hopper_cut(4, math.degrees(math.atan2(4, 3)))
    assert (cut.miter, cut.bevel) == pytest.approx((wanted.miter, wanted.bevel), abs=1e-9)
    assert made.pieces[0].piece.edges.fixed_top == pytest.approx(200, abs=1e-9)
    assert made.pieces[0].piece.edges.moving_top == pytest.approx(800, abs=1e-9)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"top": 150.0}, "top: found '150 mm'.*200 mm or more"),
        ({"made_of": mt.flat(90, 5)}, "do not reach from bottom to top"),
        ({"made_of": mt.flat(90, 5), "height": 400.0}, "side 1 is 500 mm wide along its slope"),
        ({"made_of": mt.rect_tube(60, 40, 3)}, "made of flat bar or plate"),
        ({"sides": 5, "top": (800.0, 500.0)}, "two sizes for 5 sides"),
        ({"measured": "middle"}, "measured: found 'middle'"),
        ({"top": (800.0, 900.0), "bottom": (200.0, 200.0)}, "sides of unequal slope"),
    ],
)
def test_what_is_no_hopper(given: dict[str, object], says: str) -> None:
    sizes = {"bottom": 200.0, "top": 800.0, "height": None}
    other = {"made_of": mt.flat(500, 5), "sides": 4, "measured": "outside"}
    sizes.update((key, given[key]) for key in sizes if key in given)  # type: ignore[misc]
    other.update((key, given[key]) for key in other if key in given)
    with pytest.raises(mt.BadInput, match=says):
        hopper(sizes=Sizes(**sizes), **other)  # type: ignore[arg-type]


def test_plates_of_a_thickness_are_cut_as_wide_as_they_need_be() -> None:
    """Out 300 over 400 up: 500 along the slope."""
    made = hopper(5.0, 4, Sizes(200.0, 800.0, 400.0), "inside")
    assert [round(member.piece.section.width, 9) for member in made.pieces] == [500]
    with pytest.raises(mt.BadInput, match="height: found 'none'"):
        hopper(5.0, 4, Sizes(200.0, 800.0), "inside")


def test_the_pattern_of_a_plate() -> None:
    """Out 300 over 400 up: 500 along the slope. The inside stands 5 off along (0, 0.8, 0.6), so 4 further in, and the
    corners go off at 45 in plan: each end is 4 shorter there."""
    (one,) = hopper(5.0, 4, Sizes(200.0, 800.0, 400.0), "outside").leaning
    assert one.outside == pytest.approx((200, 800), abs=1e-9)
    assert one.inside == pytest.approx((192, 792), abs=1e-9)
    assert one.slant == pytest.approx(500, abs=1e-9)
    assert one.slope == pytest.approx(math.degrees(math.atan2(4, 3)), abs=1e-9)
    assert one.face_up == "outside"


@pytest.mark.parametrize("sides", [3, 5, 6, 7, 8, 12])
def test_the_plates_of_a_regular_hopper_are_one_mark(sides: int) -> None:
    made = hopper(5.0, sides, Sizes(1000.0, 1200.0, 100.0), "outside")
    assert [member.quantity for member in made.pieces] == [sides]


def test_a_saw_that_rolls_the_bar_rounds_the_swing_alone() -> None:
    """With square corners in plan the swing in a fixture is 45, a whole reading, and lengths are whole: nothing opens.
    Lying flat the miter is atan 0.6, 30.96, which reads 31."""
    sizes = Sizes(200.0, 800.0, 400.0)
    rolled, flat = (hopper(5.0, 4, sizes, "outside", Named("H", Resolution(rolls=one))) for one in (True, False))
    assert rolled.closure.rounded_gap < 1e-6
    assert flat.closure.rounded_gap > 0.1
