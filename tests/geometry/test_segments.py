"""Lines and arcs against school geometry: sectors, half circles, tangents."""

from __future__ import annotations

import math

import pytest

from mitertool.geometry import Arc, Line
from mitertool.geometry.segments import turn

HALF = Arc((10.0, 0.0), 5.0, 0.0, math.pi)
BASE = Line((5.0, 0.0), (15.0, 0.0))
"""A half disc above the y axis, its center at y = 10, radius 5."""


def test_half_disc_area_and_centroid() -> None:
    """pi r^2 / 2, centroid 4 r / (3 pi) above its base."""
    area = HALF.area_term() + BASE.area_term()
    my, mz = (a + b for a, b in zip(HALF.moment_terms(), BASE.moment_terms(), strict=True))
    assert area == pytest.approx(math.pi * 25 / 2)
    assert (my / area, mz / area) == pytest.approx((10.0, 4 * 5 / (3 * math.pi)))


def test_triangle_area_and_centroid() -> None:
    corners = [(0.0, 0.0), (9.0, 0.0), (3.0, 6.0)]
    sides = [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    area = sum(side.area_term() for side in sides)
    moments = [sum(side.moment_terms()[i] for side in sides) for i in (0, 1)]
    assert area == pytest.approx(27.0)
    assert [m / area for m in moments] == pytest.approx([4.0, 2.0])


def test_ends_and_length_of_an_arc() -> None:
    quarter = Arc((0.0, 0.0), 2.0, math.pi / 2, -math.pi / 2)
    assert quarter.start == pytest.approx((0.0, 2.0))
    assert quarter.end == pytest.approx((2.0, 0.0))
    assert quarter.length == pytest.approx(math.pi)
    assert quarter.reversed().start == pytest.approx(quarter.end)
    assert quarter.reversed().area_term() == pytest.approx(-quarter.area_term())


@pytest.mark.parametrize(
    ("p", "q", "point"),
    [
        (0.0, 1.0, (10.0, 5.0)),
        (1.0, 0.0, (15.0, 0.0)),
        (1.0, 1.0, (10 + 5 / math.sqrt(2), 5 / math.sqrt(2))),
        (-3.0, 4.0, (7.0, 4.0)),
        (0.2, -1.0, (15.0, 0.0)),
    ],
)
def test_furthest_point_of_a_half_circle(p: float, q: float, point: tuple[float, float]) -> None:
    """Where the radius points along (p, q), else an end."""
    assert HALF.support_point(p, q) == pytest.approx(point)


def test_furthest_point_for_hardly_any_slope() -> None:
    """Slopes too small to be squared still have a furthest point on the arc."""
    y, z = HALF.support_point(0.0, 5e-324)
    assert (y, z) == pytest.approx((10.0, 5.0))
    on_arc = HALF.support_point(0.0, 0.0)
    assert math.hypot(on_arc[0] - 10, on_arc[1]) == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("begin", "sweep", "angle", "on_it"),
    [
        (0.0, math.pi, 1.0, True),
        (0.0, math.pi, -1.0, False),
        (0.0, -math.pi, -1.0, True),
        (3.0, 1.0, -2.5, True),
        (3.0, 1.0, 2.9, False),
        (-7.0, 2 * math.pi, 123.0, True),
        (1.0, 1.0, 1.0, True),
        (1.0, 1.0, 2.0, True),
    ],
)
def test_angles_that_an_arc_has(begin: float, sweep: float, angle: float, on_it: bool) -> None:
    assert Arc((0.0, 0.0), 1.0, begin, sweep).faces(angle) == on_it


@pytest.mark.parametrize(("quarters", "point"), [(0, (3, 4)), (1, (-4, 3)), (2, (-3, -4)), (3, (4, -3)), (-1, (4, -3))])
def test_quarter_turns_are_exact(quarters: int, point: tuple[float, float]) -> None:
    assert turn((3.0, 4.0), quarters * math.pi / 2) == point


def test_mirror_and_shift() -> None:
    assert HALF.mirrored().start == pytest.approx((-15.0, 0.0))
    assert HALF.mirrored().end == pytest.approx((-5.0, 0.0))
    assert HALF.mirrored().support_point(0, 1) == pytest.approx((-10.0, 5.0))
    assert HALF.moved(1, 2).support_point(0, 1) == pytest.approx((11.0, 7.0))
    assert BASE.mirrored() == Line((-5.0, 0.0), (-15.0, 0.0))
    assert BASE.moved(1, 2) == Line((6.0, 2.0), (16.0, 2.0))
