"""Regular polygons of 3 to 12 sides: side, width across flats and across corners against a handbook table.

Source: the table "regular polygons" of engineering and mathematical handbooks (Machinery's Handbook, Bronshtein and
Semendjajew), ratios of the side to the radius of the circle through the corners and of the circle in the flats, to four
decimals: MEMORY. They agree with side = 2 R sin(180/n) = 2 r tan(180/n), which the same tables give. Across flats is
twice the inner radius, also where the number of sides is odd and no two flats are parallel. The radicals are exact and
older than any handbook (Euclid, Elements IV for 3, 4, 5, 6 and 15 sides; halving for 8 and 12).

Tolerance: half a unit of the last printed decimal; the radicals to 1e-12 relative.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

import mitertool as mt
from mitertool.frame import Joint, planar
from mitertool.frame.polygons import regular

_OUTER = [1.7321, 1.4142, 1.1756, 1.0000, 0.8678, 0.7654, 0.6840, 0.6180, 0.5635, 0.5176]
_INNER = [3.4641, 2.0000, 1.4531, 1.1547, 0.9631, 0.8284, 0.7279, 0.6498, 0.5873, 0.5359]
SIDE_OVER_OUTER_RADIUS = dict(enumerate(_OUTER, 3))
SIDE_OVER_INNER_RADIUS = dict(enumerate(_INNER, 3))
SIDE_OVER_OUTER_RADIUS_EXACT = {
    3: math.sqrt(3),
    4: math.sqrt(2),
    5: math.sqrt((5 - math.sqrt(5)) / 2),
    6: 1.0,
    8: math.sqrt(2 - math.sqrt(2)),
    10: (math.sqrt(5) - 1) / 2,
    12: (math.sqrt(6) - math.sqrt(2)) / 2,
}
INSIDE_ANGLE = {3: 60, 4: 90, 5: 108, 6: 120, 8: 135, 9: 140, 10: 144, 12: 150}
"""Degrees, in the same tables."""

every_number = pytest.mark.parametrize("sides", range(3, 13))


def side_of(corners: Sequence[complex]) -> float:
    """The side, after all sides were found equal."""
    sides = [abs(b - a) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    assert sides == pytest.approx([sides[0]] * len(sides), rel=1e-12)
    return sides[0]


@every_number
def test_across_corners(sides: int) -> None:
    assert side_of(regular(sides, "across_corners", 2)) == pytest.approx(SIDE_OVER_OUTER_RADIUS[sides], abs=5.01e-5)


@every_number
def test_across_flats(sides: int) -> None:
    assert side_of(regular(sides, "across_flats", 2)) == pytest.approx(SIDE_OVER_INNER_RADIUS[sides], abs=5.01e-5)


@every_number
def test_one_polygon_by_each_of_its_sizes(sides: int) -> None:
    """The ratio of both radii to the side, put together: flats over corners is the quotient of the two columns."""
    for given, size in (("side", 1000.0), ("across_flats", 1000.0), ("across_corners", 1000.0)):
        corners = regular(sides, given, size)
        outer = 2 * abs(corners[0])
        inner = 2 * abs((corners[0] + corners[1]) / 2)
        assert {"side": side_of(corners), "across_flats": inner, "across_corners": outer}[given] == pytest.approx(size)
        ratio = SIDE_OVER_OUTER_RADIUS[sides] / SIDE_OVER_INNER_RADIUS[sides]
        assert inner / outer == pytest.approx(ratio, abs=1.5e-4)


@pytest.mark.parametrize("sides", SIDE_OVER_OUTER_RADIUS_EXACT)
def test_radicals(sides: int) -> None:
    assert side_of(regular(sides, "across_corners", 2)) == pytest.approx(SIDE_OVER_OUTER_RADIUS_EXACT[sides], rel=1e-12)


@every_number
def test_the_pieces_have_these_sides(sides: int) -> None:
    """A frame measured across its flats outside: long points are the tabled side."""
    tube = mt.rect_tube(40, 40, 2, 0, 0)
    corners = regular(sides, "across_flats", 2000)
    frame = planar("polygon", corners, [tube] * sides, "outside", [Joint()] * sides)
    (member,) = frame.pieces
    assert member.quantity == sides
    assert member.piece.long_point == pytest.approx(1000 * SIDE_OVER_INNER_RADIUS[sides], abs=0.051)


@pytest.mark.parametrize("sides", INSIDE_ANGLE)
def test_the_miter_is_half_the_outside_angle(sides: int) -> None:
    """A miter from square is 90 less half the tabled angle inside."""
    tube = mt.rect_tube(40, 40, 2, 0, 0)
    frame = planar("polygon", regular(sides, "side", 900), [tube] * sides, "outside", [Joint()] * sides)
    piece = frame.pieces[0].piece
    assert (piece.left.miter, piece.right.miter) == pytest.approx((90 - INSIDE_ANGLE[sides] / 2,) * 2)
