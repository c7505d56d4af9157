"""Rounded corners: where the arcs lie, and that they need room."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.geometry import Arc, Line, Region, rounded


def test_a_rounded_square() -> None:
    """Side 10, radius 2: the corners lose (4 - pi) r^2; the outline shortens by (8 - 2 pi) r."""
    region = Region((rounded([(0, 0, 2), (10, 0, 2), (10, 10, 2), (0, 10, 2)]),))
    assert region.area == pytest.approx(100 - (4 - math.pi) * 4)
    assert region.perimeter == pytest.approx(40 - (8 - 2 * math.pi) * 2)
    assert region.centroid == pytest.approx((5, 5))
    centers = {(round(s.center[0], 9), round(s.center[1], 9)) for s in region.segments if isinstance(s, Arc)}
    assert centers == {(2, 2), (8, 2), (8, 8), (2, 8)}


def test_the_arcs_run_into_the_sides_without_a_kink() -> None:
    loop = rounded([(0, 0, 3), (40, 0, 1), (30, 20, 4), (5, 15, 0)])
    for before, after in zip(loop, loop[1:] + loop[:1], strict=True):
        assert before.end == pytest.approx(after.start, abs=1e-9)
    lines = [s for s in loop if isinstance(s, Line)]
    arcs = [s for s in loop if isinstance(s, Arc)]
    assert (len(lines), len(arcs)) == (4, 3)
    for arc in arcs:
        for line in lines:
            for point in (line.start, line.end):
                if point in (arc.start, arc.end):
                    radius = complex(*point) - complex(*arc.center)
                    along = complex(*line.end) - complex(*line.start)
                    assert (radius * along.conjugate()).real == pytest.approx(0, abs=1e-9)


def test_an_inner_corner_is_filled() -> None:
    """A square with a quarter taken out: the fillet at the inner corner adds (1 - pi/4) r^2."""
    corners = [(0, 0, 0), (10, 0, 0), (10, 4, 0), (4, 4, 3), (4, 10, 0), (0, 10, 0)]
    assert Region((rounded(corners),)).area == pytest.approx(64 + (1 - math.pi / 4) * 9)


def test_roundings_may_touch_but_not_overlap() -> None:
    circle = Region((rounded([(0, 0, 5), (10, 0, 5), (10, 10, 5), (0, 10, 5)]),))
    assert circle.area == pytest.approx(math.pi * 25)
    assert all(isinstance(segment, Arc) for segment in circle.segments)
    with pytest.raises(mt.BadInput, match=r"corner radii: found '5 and 6'; the side between has only 10 mm for both"):
        rounded([(0, 0, 5), (10, 0, 6), (10, 30, 0), (0, 30, 0)])


def test_a_point_on_a_straight_side_needs_no_rounding() -> None:
    loop = rounded([(0, 0, 0), (5, 0, 3), (10, 0, 0), (10, 10, 0), (0, 10, 0)])
    assert Region((loop,)).area == pytest.approx(100)
    assert all(isinstance(segment, Line) for segment in loop)
