"""Images of lines and arcs under a linear map, point by point."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mitertool.geometry import Arc, EllipseArc, Line, image_of
from tests.laws.strategies import LAW

numbers = st.floats(-3, 3)


def mapped(linear: tuple[float, float, float, float], point: tuple[float, float]) -> tuple[float, float]:
    a, b, c, d = linear
    return a * point[0] + b * point[1], c * point[0] + d * point[1]


def on(ellipse: EllipseArc, share: float) -> tuple[float, float]:
    """The point at a share of the sweep, by the ellipse's own angles."""
    t = math.radians(ellipse.start + share * ellipse.sweep)
    (cy, cz), (ay, az), k = ellipse.center, ellipse.major, ellipse.ratio
    return cy + ay * math.cos(t) - az * k * math.sin(t), cz + az * math.cos(t) + ay * k * math.sin(t)


def test_a_line_stays_a_line() -> None:
    assert image_of(Line((1.0, 2.0), (3.0, 5.0)), (2, 0, 1, 3)) == Line((2.0, 7.0), (6.0, 18.0))


def test_a_circle_stretched_along_y() -> None:
    ellipse = image_of(Arc((5.0, 5.0), 5.0, 0.0, 2 * math.pi), (2, 0, 0, 1))
    assert isinstance(ellipse, EllipseArc)
    assert ellipse.center == (10, 5)
    assert math.hypot(*ellipse.major) == pytest.approx(10)
    assert ellipse.major[1] == pytest.approx(0, abs=1e-12)
    assert (ellipse.ratio, ellipse.sweep) == pytest.approx((0.5, 360))


@LAW
@given(st.tuples(numbers, numbers, numbers, numbers), numbers, numbers, st.floats(-7, 7), st.floats(-6.28, 6.28))
def test_every_point_of_an_arc_maps_onto_its_image(
    linear: tuple[float, float, float, float], cy: float, cz: float, begin: float, sweep: float
) -> None:
    assume(abs(linear[0] * linear[3] - linear[1] * linear[2]) > 0.01)
    arc = Arc((cy, cz), 2.0, begin, sweep)
    image = image_of(arc, linear)
    assert isinstance(image, EllipseArc)
    assert 0 < image.ratio <= 1
    for share in (0.0, 0.25, 0.6, 1.0):
        assert on(image, share) == pytest.approx(mapped(linear, arc.at(begin + share * sweep)), abs=1e-9)
