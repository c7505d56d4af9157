"""Points along an outline stand so close that no chord leaves it further than the tolerance says."""

from __future__ import annotations

import math

import pytest

from mitertool.base.tolerances import CHORD_ERROR
from mitertool.geometry import Arc
from mitertool.geometry.nesting import polyline


@pytest.mark.parametrize("radius", [0.5, 6.0, 50.0, 800.0])
def test_a_chord_of_an_arc_stands_off_by_the_tolerance_at_the_most(radius: float) -> None:
    """A chord over an angle of 2a stands off by r (1 - cos a); one angle more than is needed would do for all."""
    points = polyline((Arc((0, 0), radius, 0.3, 2 * math.pi),))
    half = math.pi / len(points)
    assert radius * (1 - math.cos(half)) <= CHORD_ERROR * (1 + 1e-9)
    assert len(points) == 4 or radius * (1 - math.cos(math.pi / (len(points) - 1))) > CHORD_ERROR
    assert all(math.hypot(*point) == pytest.approx(radius) for point in points)
