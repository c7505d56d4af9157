"""How much check lengths may be out: held by rebuilding the frame from lengths that are out by so much."""

from __future__ import annotations

from cmath import phase, rect
from itertools import product
from math import acos, degrees, radians, sin, sqrt

import pytest

import mitertool as mt
from mitertool.frame import Assembly, rectangle
from mitertool.frame.limits import most_out
from mitertool.frame.polygons import regular
from mitertool.frame.setting_out import SettingOut, setting_out
from tests.frame.test_setting_out import polygon

TUBE = mt.rect_tube(40, 40, 3)
GABLE = [0j, 620j, 480 + 910j, 960 + 620j, 960 + 0j]
INWARD = [0j, 800j, 500 + 700j, 400 + 250j, 900 + 0j]


def set_out(frame: Assembly) -> SettingOut:
    out = setting_out(frame)
    assert out is not None
    return out


def all_of(out: SettingOut, angle: float) -> dict[int, float]:
    return {one.number: angle for one in out.corners}


def angles(out: SettingOut, lengths: dict[int, float]) -> list[float]:
    """The angle at each corner, degrees, of a frame laid out from its sides and from other lengths from corner 1."""
    at = [one.over - out.corners[0].over for one in out.corners]
    far = [lengths.get(i + 1, abs(place)) for i, place in enumerate(at)]
    ways = [phase(at[1])]
    for i in range(1, len(at) - 1):
        a, b, side = far[i], far[i + 1], abs(at[i + 1] - at[i])
        turn = acos((a * a + b * b - side * side) / (2 * a * b))
        ways.append(ways[-1] + (turn if phase(at[i + 1] / at[i]) > 0 else -turn))
    laid = [0j, *(rect(r, way) for r, way in zip(far[1:], ways, strict=True))]
    around = zip([laid[-1], *laid], laid, [*laid[1:], laid[0]], strict=False)
    return [degrees(phase((before - here) / (after - here))) % 360 for before, here, after in around]


@pytest.mark.parametrize(("width", "height", "angle"), [(1180, 1840, 1 / 3), (720, 540, 0.5)])
def test_diagonals_of_a_rectangle(width: float, height: float, angle: float) -> None:
    """Racked by an angle its diagonals are sqrt(w2 + h2 + 2 w h sin) and the same less: so much they may differ by."""
    out = set_out(rectangle(TUBE, width, height, "outside"))
    lean = sin(radians(angle))
    both = [sqrt(width**2 + height**2 + sign * 2 * width * height * lean) for sign in (1, -1)]
    assert most_out(out, all_of(out, angle)) == pytest.approx(both[0] - both[1], rel=1e-4)


def test_the_corner_that_may_be_out_least_counts() -> None:
    out = set_out(rectangle(TUBE, 1000, 800, "outside"))
    alike = most_out(out, all_of(out, 0.25))
    assert most_out(out, {**all_of(out, 0.5), 3: 0.25}) == pytest.approx(alike)


@pytest.mark.parametrize("points", [GABLE, INWARD])
def test_no_corner_is_out_by_more_however_the_lengths_are_out(points: list[complex]) -> None:
    """Laid out with every check length longer or shorter by as much, the worst corner is out by what it may be."""
    out = set_out(polygon(points))
    most = most_out(out, all_of(out, 0.2))
    assert most is not None
    fan = {one.second: one.length for one in out.measures if one.first == 1}
    true = angles(out, {})
    worst = 0.0
    for signs in product((1, -1), repeat=len(fan)):
        found = angles(out, {n: mm + sign * most for (n, mm), sign in zip(fan.items(), signs, strict=True)})
        worst = max(worst, *(abs(a - b) for a, b in zip(found, true, strict=True)))
    assert worst == pytest.approx(0.2, rel=2e-3)


def test_an_open_frame() -> None:
    """Two sides of 600 and 800 at a right angle: by the law of cosines 0.5 degrees more makes the third longer."""
    out = set_out(polygon([0j, 600j, 800 + 600j], closed=False))
    longer = sqrt(600**2 + 800**2 + 2 * 600 * 800 * sin(radians(0.5))) - 1000
    assert most_out(out, {2: 0.5}) == pytest.approx(longer, rel=3e-3)


def test_where_nothing_is_said() -> None:
    """No check lengths, a corner that no tolerance tells of, and lengths that cross a frame of many corners."""
    three = set_out(polygon([0j, 400 + 700j, 800 + 0j]))
    four = set_out(rectangle(TUBE, 1000, 800, "outside"))
    many = set_out(polygon(list(regular(12, "side", 300.0))))
    assert most_out(three, all_of(three, 0.5)) is None
    assert most_out(four, {1: 0.5}) is None
    assert most_out(many, all_of(many, 0.5)) is None
