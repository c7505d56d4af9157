"""Corners where slope and direction change at once: figures by vectors here, and by hand."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.frame import landing
from mitertool.frame.rails import rail
from tests.frame.runs import command

RAIL = mt.rect_tube(60, 40, 3)
TUBE = mt.round_tube(42.4, 2.6)


def along(slope: float, heading: float) -> tuple[float, float, float]:
    a, h = math.radians(slope), math.radians(heading)
    return math.cos(a) * math.cos(h), math.cos(a) * math.sin(h), math.sin(a)


@pytest.mark.parametrize(("slopes", "angle"), [((32, 0), 90), ((32, -20), 140), ((-15, 40), 60)])
def test_the_angle_in_space(slopes: tuple[float, float], angle: float) -> None:
    """By the scalar product of both ways; each cut takes half of the turn."""
    found = landing(RAIL, slopes, angle)
    one, other = along(slopes[0], 0), along(slopes[1], 180 - angle)
    turn = math.degrees(math.acos(sum(a * b for a, b in zip(one, other, strict=True))))
    assert found.between == pytest.approx(180 - turn, abs=1e-9)
    for cut in (found.before, found.after):
        assert math.degrees(math.atan(math.hypot(cut.p, cut.q))) == pytest.approx(turn / 2, abs=1e-9)


def test_a_corner_of_a_level_rail_by_hand() -> None:
    """To the left the moving side is the inner one, so its long points are at the fixed jaw."""
    found = landing(RAIL, (0, 0), 90)
    assert (found.before.miter, found.before.bevel) == pytest.approx((-45, 0), abs=1e-12)
    assert (found.after.miter, found.after.bevel) == pytest.approx((-45, 0), abs=1e-12)
    assert found.twist == 0


def test_straight_on_over_the_edge_of_a_landing_by_hand() -> None:
    """3-4-5 up, then level: it turns down by atan 3/4, half each, the long points on top."""
    found = landing(RAIL, (math.degrees(math.atan2(3, 4)), 0), 180)
    half = math.degrees(math.atan2(3, 4)) / 2
    assert (found.before.miter, found.before.bevel) == pytest.approx((0, half), abs=1e-12)
    assert found.fixtures[0] == pytest.approx((90, half), abs=1e-12)


def test_the_two_hands() -> None:
    """To the right it is the mirror image of the left: the miters change sides, the bevels stay."""
    left, right = (landing(RAIL, (32, 10), 100, to) for to in ("left", "right"))
    for a, b in ((left.before, right.before), (left.after, right.after)):
        assert (a.miter, a.bevel) == pytest.approx((-b.miter, b.bevel), abs=1e-9)
    assert left.twist == pytest.approx(-right.twist, abs=1e-9)


def test_up_and_round_at_once_twists_by_the_slope() -> None:
    """Up by 3-4-5 and square round on the level: twisted by atan 3/4 as in `test_rails.py`; carried on, by 0."""
    slope = math.degrees(math.atan2(3, 4))
    assert landing(RAIL, (slope, 0), 90).twist == pytest.approx(slope, abs=1e-9)
    assert landing(RAIL, (slope, 0), 90, tops="carried").twist == pytest.approx(0, abs=1e-9)
    assert landing(TUBE, (slope, 0), 90).twist == 0


def test_it_is_the_corner_of_a_rail() -> None:
    """The rail's own way through nodes is held against reassembly in `tests/laws`."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (800.0, 900.0, 300.0)]
    before, after = (member.piece for member in rail(nodes, RAIL).pieces)
    found = landing(RAIL, (math.degrees(math.atan2(600, 800)), math.degrees(math.atan2(-300, 900))), 90)
    assert (found.before.p, found.before.q) == pytest.approx((before.right.p, before.right.q), abs=1e-12)
    assert (found.after.p, found.after.q) == pytest.approx((after.left.p, after.left.q), abs=1e-12)


def test_one_command_says_it() -> None:
    code, out, _ = command("corner", "RHS 60x40x3", "--slopes", "3:4 0", "--angle", "90", "--to", "right")
    assert code == 0
    assert "twisted by 36.87°" in out
    assert "between them in space         90°" in out
    assert "rolled 36.87°, its top to the moving jaw, then from square 45°, long point at moving jaw" in out


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--slopes", "32"], "--slopes: found '32'; two slopes"),
        (["--slopes", "90 0"], "slopes: found 90.0; a slope is at most 89 degrees"),
        (["--slopes", "32 32", "--angle", "180"], "a turn of 0.00 degrees'; the rail must turn by 0.5 to 170"),
        (["--slopes", "0 0", "--angle", "5"], "angle: found 5.0; the angle in plan is 10 to 180 degrees"),
        (["--to", "left"], "--to: found 'left'; for a corner in space: give --slopes too"),
        (["SHS 50x50x3", "--slopes", "32 0"], "NAME: found 'SHS 50x50x3'; both members"),
    ],
)
def test_what_is_no_landing(more: list[str], says: str) -> None:
    code, _, err = command("corner", "RHS 60x40x3", *more)
    assert code == 2
    assert says in err
