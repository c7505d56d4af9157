"""The edge of a hinged arm, worked out from a triangle of 3, 4 and 5 and from the slope of its height."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.cut.blade.arms import HingedArm
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from tests.specimens import SPECIMENS, outline_points

UP = math.degrees(math.atan2(3, 4))


@pytest.mark.parametrize("side", [1, -1])
def test_the_edge_of_an_arm_that_is_up_by_3_in_4(side: int) -> None:
    """Hinge 400 beside the axis and 75 up, the edge 80 square below it. Up by an angle of sine 0.6 and cosine 0.8 the
    foot of the square lies 48 further out and 64 down, and every 5 along the edge go 4 out and 3 up."""
    arm = HingedArm(-400.0 * side, 75.0, 5.0)
    edge = arm.edge(UP)
    for w in (0.0, 350.0, 500.0):
        u, v = side * (-400 + 48 + 0.8 * w), 75 - 64 + 0.6 * w
        assert edge.nu * u + edge.nv * v == pytest.approx(edge.c, abs=1e-9)
        assert edge.wu * u + edge.wv * v - edge.w0 == pytest.approx(w, abs=1e-9)
        assert arm.position(u, v) == pytest.approx(UP, abs=1e-9)
        assert arm.height(UP, u) == pytest.approx(v, abs=1e-9)


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("position", [-5.0, 0.0, 12.0, 40.0])
def test_the_edge_comes_down_as_fast_as_its_height_changes(side: int, position: float) -> None:
    """A difference over 2e-4 degrees is out by the third derivative times 1e-8 / 6 degrees squared."""
    arm, step = HingedArm(-400.0 * side, 75.0, 5.0), 1e-4
    slope = (arm.height(position + step, 0.0) - arm.height(position - step, 0.0)) / (2 * step)
    assert arm.lowering(position) == pytest.approx(slope, rel=1e-7)


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize(("swing", "tilt"), [(0, 0), (40, 0), (-40, 0), (35, 20), (-35, -20)])
def test_the_room_at_the_hinge_is_that_of_the_nearest_point(side: int, swing: float, tilt: float) -> None:
    """u of a point is (y - axis) / cos(swing) + tan(swing) tan(tilt) z; points of the outline, 1e-5 apart from it."""
    section, arm = SPECIMENS["tapered channel"], HingedArm(-400.0 * side, 75.0, 5.0)
    m, b = math.radians(swing), math.radians(tilt)
    points = [point for loop in outline_points(section, 1e-5) for point in loop]
    nearest = min(abs(-400 * side - (y - 60) / math.cos(m) - math.tan(m) * math.tan(b) * z) for y, z in points)
    found, allowed = arm.room(section.region, BladePlane.of(swing, tilt, 60.0, 0.0), 3.0)
    assert (found, allowed) == (pytest.approx(nearest, abs=1e-4), 83.0)


def test_time_under_a_hinge_where_the_binding_rate_changes() -> None:
    """A square of 40 under an arm whose edge passes through its hinge, 100 beside its near side and level with its
    bottom: at an angle a the edge lies in it from 100 / cos a to 140 / cos a, or to 40 / sin a where that is less. The
    slower of both rates at each angle, added up at the middles of 4,000 steps, which is out by the square of a step."""
    arm = HingedArm(-100.0, 0.0, 0.0)
    way = Passage(mt.flat(40, 40).region, BladePlane.of(0, 0, 0.0, 0.0), arm)
    area_rate, descent = 2400.0, 60.0

    def rate(a: float) -> float:
        far = min(140 / math.cos(a), 40 / math.sin(a)) if a else 140.0
        near = 100 / math.cos(a)
        return max((far**2 - near**2) / 2 / area_rate, 100 / math.cos(a) ** 2 / descent)

    step = math.atan2(40, 100) / 4000
    total = step * sum(rate((i + 0.5) * step) for i in range(4000))
    assert way.minutes(area_rate, descent) == pytest.approx(total, rel=1e-6)
