"""A frame put together with every cut out alike: how far the outer corners of the last joint stand apart.

Worked with rotations of its own: rigid corners at the angle that two erring faces make, sides walked one after another.
"""

from __future__ import annotations

from cmath import exp
from math import atan, cos, degrees, hypot, pi, radians, sin, sqrt, tan

import pytest

import mitertool as mt
from mitertool.frame import Joint, planar, rectangle
from mitertool.frame.joints import FIRST_THROUGH
from mitertool.frame.last_corner import last_corner
from mitertool.frame.polygons import regular

TUBE = mt.rect_tube(40, 40, 3)
ERRORS = (1.0, 0.5, 0.1, -0.25, -1.0)


def rotated(vector: complex, by: float) -> complex:
    """A vector turned clockwise by degrees, by the four numbers of a rotation."""
    c, s = cos(radians(by)), sin(radians(by))
    return complex(vector.real * c + vector.imag * s, -vector.real * s + vector.imag * c)


@pytest.mark.parametrize("error", ERRORS)
def test_a_rectangle(error: float) -> None:
    """Outer sides of 1180 and 1840 at three corners of 90 - 2 errors: the fourth side ends beside the first's start.

    In closed form two sides and the next two cancel but for a turn of 4 errors: 2 sin(2 errors) times the diagonal of
    sides that stand at 90 + 2 errors to each other.
    """
    turn = radians(90 + 2 * error)
    side = hypot(1180 + 1840 * cos(turn), 1840 * sin(turn))
    by_hand = 2 * abs(sin(radians(2 * error))) * side
    assert last_corner(rectangle(TUBE, 1180, 1840, "outside"), error) == pytest.approx(by_hand)


@pytest.mark.parametrize("error", ERRORS)
@pytest.mark.parametrize("sides", [3, 5, 6, 12])
def test_a_ring(sides: int, error: float) -> None:
    """A walk of n sides that turns by 360/n + 2 errors is a chord of a circle: side sin(n t/2)/sin(t/2)."""
    ring = planar("polygon", regular(sides, "side", 500), [TUBE] * sides, "outside", [Joint()] * sides)
    half = radians(360 / sides + 2 * error) / 2
    assert last_corner(ring, error) == pytest.approx(abs(500 * sin(sides * half) / sin(half)))


@pytest.mark.parametrize("error", ERRORS)
def test_a_triangle_of_unequal_members(error: float) -> None:
    """Sides of 900, 1200 and 1500, walked clockwise; each corner is shut at its angle less 2 errors."""
    wide, narrow = mt.rect_tube(60, 40, 3), mt.rect_tube(40, 40, 3)
    lines = (0j, 900j, complex(1200, 900))
    frame = planar("polygon", lines, [wide, narrow, narrow], "outside", [Joint()] * 3)
    at, way = 0j, 1j
    for side, inside in ((900, 90.0), (1200, degrees(atan(900 / 1200))), (1500, 0.0)):
        at += side * way
        way = rotated(way, 180 - inside + 2 * error)
    assert last_corner(frame, error) == pytest.approx(abs(at), rel=1e-9)


@pytest.mark.parametrize("error", ERRORS)
def test_a_butted_rectangle(error: float) -> None:
    """Every side runs through at its right end, and the next one's square end is out: it turns about its outer corner
    by one error and stands where the through side has its inner one. Cut too little, the inner edge is the long point,
    and the outer one is W tan(error) shorter."""
    width, a, b = 40.0, 1000.0, 700.0
    corners = (complex(0, b), complex(a, b), complex(a, 0), 0j)
    frame = planar("rectangle", corners, [TUBE] * 4, "outside", [Joint(FIRST_THROUGH)] * 4)
    at, way = 0j, 1 + 0j
    for side in (a, b, a, b):
        outer = side - width + min(0.0, width * tan(radians(error)))
        at += outer * way + width * rotated(way, 90)
        way = rotated(way, 90 + error)
    assert last_corner(frame, error) == pytest.approx(abs(at))


@pytest.mark.parametrize("gap", [1.0, 3.0])
def test_root_gaps_stay_open(gap: float) -> None:
    """With no error the last corner is shut whatever gap is left in each; the gap adds to no corner that is not."""
    unequal = [mt.rect_tube(60, 40, 3), TUBE, TUBE]
    frame = planar("polygon", (0j, 900j, complex(1200, 900)), unequal, "outside", [Joint(gap=gap)] * 3)
    assert last_corner(frame, 0.0) == pytest.approx(0, abs=1e-9)
    shut = planar("polygon", (0j, 900j, complex(1200, 900)), unequal, "outside", [Joint()] * 3)
    assert last_corner(frame, 0.5) == pytest.approx(last_corner(shut, 0.5), rel=0.01)


def test_a_gate_and_a_ring() -> None:
    """A gate leaf of 1180 by 1840 cut 45.5 is out by 75.69 (turns of 91), a hexagon 980 across its inside cut 30.25 by
    31.80; with their root gaps of 1 the sides are 1.4 and 1.2 shorter, which takes less than a tenth off."""
    leaf = rectangle(TUBE, 1180, 1840, "outside", root_gap=1)
    assert last_corner(leaf, 0.5) == pytest.approx(75.69, abs=0.1)
    side = (980 + 80) / sqrt(3)
    walk = abs(sum(side * exp(-1j * pi / 180 * 60.5 * i) for i in range(6)))
    ring = planar("polygon", regular(6, "across_flats", 980), [TUBE] * 6, "inside", [Joint(gap=1)] * 6)
    assert last_corner(ring, 0.25) == pytest.approx(walk, abs=0.1)
    assert walk == pytest.approx(31.80, abs=0.005)
