"""Outlines by direction beside the same segments one by one, and how far a region reaches beside every point of it."""

from __future__ import annotations

from math import cos, hypot, pi, sin, sqrt

import pytest

from mitertool.geometry import Arc, Line, Region
from mitertool.geometry.elliptic import oblique_arc, whole_ellipse
from mitertool.geometry.lengths import outline_lengths
from tests.specimens import SPECIMENS

SLOPES = [(0.0, 0.0), (1.0, 0.0), (0.0, -0.7), (0.31, 1.9), (-2.4, 0.02), (7.0, -5.0)]
"""To 83 degrees: the steepest is where a long ellipse asks most of both sums."""

LAYS = (0.0, 30.0, 137.5)


def test_lengths_in_an_oblique_plane() -> None:
    """A line in its own plane; a whole circle under 60 degrees is an ellipse of axes 2 and 1, perimeter 9.68844822 r
    (COMPUTED with mpmath: 4 x 2 x 1.21105602756846)."""
    line = outline_lengths([Line((0.0, 0.0), (3.0, 4.0))])
    assert line.length(1, 0) == pytest.approx(sqrt(9 + 16 + 9))
    circle = outline_lengths([Arc((7.0, 7.0), 1.0, 0.4, 2 * pi)])
    assert circle.length(sqrt(3), 0) == pytest.approx(8 * 1.21105602756846, rel=1e-13)
    assert circle.length(0, 0) == pytest.approx(2 * pi)


@pytest.mark.parametrize("w", [1.0, 1 + 1e-9, 1.4, 6.0, 1e3, 1e6])
def test_a_whole_ellipse_is_its_four_quarters(w: float) -> None:
    """By the second kind's Carlson forms; w up to that of a cut 0.0001 degrees from the bar."""
    assert whole_ellipse(w) == pytest.approx(4 * oblique_arc(sqrt(w * w - 1), 0.0, 0.0, pi / 2), rel=1e-13)


@pytest.mark.parametrize("name", SPECIMENS)
def test_a_perimeter_is_the_sum_of_its_segments(name: str) -> None:
    for lay in LAYS:
        region = SPECIMENS[name].lay(lay).region
        for p, q in SLOPES:
            parts = (
                s.radius * oblique_arc(p, q, s.begin, s.finish)
                if isinstance(s, Arc)
                else hypot(s.end[0] - s.start[0], s.end[1] - s.start[1], rise(s, p, q))
                for s in region.segments
            )
            assert region.oblique_perimeter(p, q) == pytest.approx(sum(parts), rel=1e-12), (lay, p, q)


def rise(line: Line, p: float, q: float) -> float:
    return p * (line.end[0] - line.start[0]) + q * (line.end[1] - line.start[1])


@pytest.mark.parametrize("name", SPECIMENS)
def test_a_region_reaches_as_far_as_its_furthest_point(name: str) -> None:
    """`support_point` asks every segment; the hull asks corners and discs."""
    for lay in LAYS:
        region = SPECIMENS[name].lay(lay).region
        size = hypot(*region.bounds[2:])
        for i in range(48):
            p, q = 1.7 * cos(i * pi / 24), 1.7 * sin(i * pi / 24)
            y, z = region.support_point(p, q)
            assert region.hull.furthest(p, q) == pytest.approx(p * y + q * z, abs=1e-12 * size)
            back = region.support_point(-p, -q)
            extent = p * (y - back[0]) + q * (z - back[1])
            assert region.hull.extent(p, q) == pytest.approx(extent, abs=2e-12 * size)


def test_many_arcs_reach_as_far_as_one_circle() -> None:
    """An outline of 720 arcs of one circle has more arcs than are compared in pairs; no arc reaches past it."""
    step = 2 * pi / 720
    region = Region((tuple(Arc((50.0, 50.0), 50.0, i * step, step) for i in range(720)),))
    assert region.hull.bows
    assert region.hull.furthest(0.6, 0.8) == pytest.approx(50 * 0.6 + 50 * 0.8 + 50, rel=1e-14)
