"""Bars in the corners of hoppers: figures by hand, and where they stand against planes worked out here."""

from __future__ import annotations

import math

import numpy as np
import pytest

import mitertool as mt
from mitertool.frame import SpaceAssembly
from mitertool.frame.corner_bars import corner_bars
from mitertool.frame.hoppers import Sizes

ANGLE = mt.angle(50, 50, 5)
SQUARE = Sizes(300.0, 800.0, 400.0)
"""Out 250 over 400 up along X and along Y."""
OBLONG = Sizes((300.0, 200.0), (800.0, 500.0), 400.0)
HEEL = (0.0, 0.0)
TOES = ((50.0, 0.0), (50.0, 5.0), (5.0, 50.0), (0.0, 50.0))


def planes(sizes: Sizes) -> list[tuple[np.ndarray, np.ndarray]]:
    """A place and the outward direction of each side, the first along X, counter-clockwise from above."""
    (bx, by), (tx, ty) = (s if isinstance(s, tuple) else (s, s) for s in (sizes.bottom, sizes.top))
    out_x, out_y, up = (tx - bx) / 2, (ty - by) / 2, sizes.height
    wanted = [((0, -by / 2, 0), (0, -up, -out_y)), ((bx / 2, 0, 0), (up, 0, -out_x))]
    wanted += [((0, by / 2, 0), (0, up, -out_y)), ((-bx / 2, 0, 0), (-up, 0, -out_x))]
    return [(np.array(at, float), np.array(way) / np.linalg.norm(way)) for at, way in wanted]


def lines(made: SpaceAssembly, places: tuple[tuple[float, float], ...]) -> list[list[tuple[np.ndarray, np.ndarray]]]:
    """Both ends of lines of each bar, at places of its section, by its own angles and length, as it stands."""
    found = []
    for mark, stand in zip(made.order, made.stands, strict=True):
        piece = next(member.piece for member in made.pieces if member.mark == mark)
        ways = np.array([stand.along, stand.across, stand.up]).T
        ends = []
        for y, z in places:
            a, b = y - piece.section.width / 2, z - piece.section.height / 2
            reach = {}
            for end in ("left", "right"):
                cut = getattr(piece, end)
                p = math.tan(math.radians(cut.miter))
                q = math.tan(math.radians(cut.bevel)) / math.cos(math.radians(cut.miter))
                reach[end] = p * a + q * b
            left, right = (x for x in (-reach["left"], piece.centerline + reach["right"]))
            ends.append(tuple(np.array(stand.at) + ways @ np.array([x, a, b]) for x in (left, right)))
        found.append(ends)
    return found


def off(at: np.ndarray, plane: tuple[np.ndarray, np.ndarray]) -> float:
    """How far outward of a plane a place lies, mm."""
    return float((at - plane[0]) @ plane[1])


def test_a_bar_alike_to_both_sides_by_hand() -> None:
    """Level ends of a bar that leans 250 out over 400 up to either side: both slopes are 250/400."""
    (member,) = corner_bars(ANGLE, 4, SQUARE, "outside").pieces
    p = member.piece.left.p, member.piece.left.q, member.piece.right.p, member.piece.right.q
    assert p == pytest.approx((0.625, 0.625, -0.625, -0.625), abs=1e-12)
    assert member.quantity == 4
    assert member.piece.centerline == pytest.approx(math.sqrt(250**2 + 250**2 + 400**2), abs=1e-9)


def test_how_a_corner_leans_by_hand() -> None:
    """The corner rises 400 over 250 root 2; the sides' outward ways (0, -400, -250) and (-400, 0, -250) have the scalar
    product 62500 and the square 222500; a bar rolled by 45 leaves its whole lean to the swing."""
    (one,) = corner_bars(ANGLE, 4, SQUARE, "outside").leaning
    slope = math.degrees(math.atan2(400, 250 * math.sqrt(2)))
    assert one.slope == pytest.approx(slope, abs=1e-9)
    assert one.dihedral == pytest.approx(180 - math.degrees(math.acos(62500 / 222500)), abs=1e-9)
    assert one.fixture == pytest.approx((45, slope - 90), abs=1e-9)
    assert (one.on_edge.p, one.on_edge.q) == pytest.approx((-0.625, 0.625), abs=1e-12)


@pytest.mark.parametrize("against", ["both", "before", "after"])
def test_an_angle_stands_within_the_sides_and_touches_both(against: str) -> None:
    made = corner_bars(ANGLE, 4, OBLONG, "outside", against)
    sides = planes(OBLONG)
    for i, bar in enumerate(lines(made, (HEEL, *TOES))):
        for plane in (sides[i - 1], sides[i]):
            assert max(off(at, plane) for line in bar for at in line) == pytest.approx(0, abs=1e-9)
        assert [line[0][2] for line in bar] == pytest.approx([0] * 5, abs=1e-9)
        assert [line[1][2] for line in bar] == pytest.approx([400] * 5, abs=1e-9)


@pytest.mark.parametrize(("against", "which", "toe"), [("before", -1, 3), ("after", 0, 0)])
def test_a_leg_lies_flat_on_the_side_that_was_named(against: str, which: int, toe: int) -> None:
    """The heel and the toe of one leg lie in the plane of that side."""
    made = corner_bars(ANGLE, 4, OBLONG, "outside", against)
    sides = planes(OBLONG)
    for i, bar in enumerate(lines(made, (HEEL, TOES[toe]))):
        assert [off(at, sides[i + which]) for line in bar for at in line] == pytest.approx([0] * 4, abs=1e-9)


def test_bars_beyond_the_sides_and_on_the_corners() -> None:
    sides = planes(SQUARE)
    bar_40 = mt.flat(40, 40)
    beyond = corner_bars(bar_40, 4, SQUARE, "inside", "before")
    for i, bar in enumerate(lines(beyond, ((0, 0), (40, 0), (40, 40), (0, 40)))):
        least = [min(off(at, plane) for line in bar for at in line) for plane in (sides[i - 1], sides[i])]
        assert least == pytest.approx([0, 0], abs=1e-9)
    for i, bar in enumerate(lines(corner_bars(bar_40, 4, SQUARE, "centerline"), ((20, 20),))):
        assert [off(at, sides[j]) for at in bar[0] for j in (i - 1, i)] == pytest.approx([0] * 4, abs=1e-9)


def test_corners_of_both_hands() -> None:
    """In an oblong hopper neighbours are mirrored: an angle of equal legs has its slopes changed about."""
    one, other = (member.piece.right for member in corner_bars(ANGLE, 4, OBLONG, "outside").pieces)
    assert (one.p, one.q) == pytest.approx((other.q, other.p), abs=1e-12)
    assert abs(one.p - one.q) > 0.1


def test_it_closes_and_opens_where_rounded() -> None:
    made = corner_bars(ANGLE, 6, Sizes(300.0, 500.0, 250.0), "outside")
    assert made.closure.gap < 1e-6
    assert made.closure.rounded_gap > 1e-3


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"sizes": Sizes(300.0, 800.0)}, "height: found 'none'.*needs its height"),
        ({"sizes": Sizes(300.0, 200.0, 400.0)}, "top: found '200 mm'.*300 mm or more"),
        ({"sizes": Sizes(100.0, 100.0, 400.0), "section": mt.flat(51, 51)}, "bottom: found '100 mm'.*need 10[23]"),
        ({"measured": "toes"}, "measured: found 'toes'"),
        ({"against": "left"}, "against: found 'left'.*both, before, after"),
        ({"sides": 2}, "sides: found 2"),
    ],
)
def test_what_is_no_corner_bar(given: dict[str, object], says: str) -> None:
    whole = {"section": ANGLE, "sides": 4, "sizes": SQUARE, "measured": "outside", **given}
    with pytest.raises(mt.BadInput, match=says):
        corner_bars(**whole)  # type: ignore[arg-type]


def test_bars_of_a_box_may_touch() -> None:
    """Upright, against a side each, two legs of 50 fill a side of 100."""
    assert corner_bars(ANGLE, 4, Sizes(100.0, 100.0, 400.0), "outside", "before").pieces[0].quantity == 4


@pytest.mark.parametrize("sides", [3, 5, 6, 8])
def test_the_bars_of_a_regular_hopper_are_one_mark(sides: int) -> None:
    made = corner_bars(ANGLE, sides, Sizes(600.0, 800.0, 400.0), "outside", "before")
    assert [member.quantity for member in made.pieces] == [sides]
