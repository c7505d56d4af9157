"""The virtual saw's own steel by hand arithmetic: volumes, edges, and that a mirror image fits nowhere."""

from __future__ import annotations

from math import inf, pi, sqrt

import pytest

from tests.virtual_saw import steel
from tests.virtual_saw.figures import length
from tests.virtual_saw.steel import Solid, error

SQUARE = (0.0, 0.0, 0.0)


def test_a_trapezoid_of_flat() -> None:
    """50 x 10, 300 long at one side and 200 at the other: 250 on the mean, 125000 mm3."""
    piece = Solid(steel.flat(50, 10), ((0.0, 1.0, 0.0),), ((300.0, -1.0, 0.0),))
    assert piece.volume == pytest.approx(125000)
    assert [piece.length(place) for place in ((0, 0), (50, 0), (25, 10))] == [300, 200, 250]


def test_planes_that_cross_inside_leave_a_wedge() -> None:
    """A wedge 0 to 20 long over a section of 20 x 10 is half a block; a second plane takes a quarter of the rest."""
    wedge = Solid(steel.flat(20, 10), (SQUARE,), ((0.0, 1.0, 0.0),))
    assert wedge.volume == pytest.approx(20 * 20 * 10 / 2)
    assert Solid(wedge.section, wedge.low, (*wedge.high, (20.0, -1.0, 0.0))).volume == pytest.approx(20 * 10 * 10 / 2)


def test_a_rounded_corner_reaches_as_far_as_its_circle() -> None:
    """Of a 60 x 40 tube with corners of 6 along a line at 45 degrees: 54 + 34 + 6 * sqrt(2)."""
    assert steel.rect_tube(60, 40, 3, 6).reach(1, 1) == pytest.approx(54 + 34 + 6 * sqrt(2))
    assert steel.round_section(40).reach(3, 4) == pytest.approx(3 * 20 + 4 * 20 + 5 * 20)


def test_the_figure_of_a_circle_lies_inside_it() -> None:
    """24 sides: the share 24/(2 pi) * sin(2 pi/24) of the circle's area is 0.9886."""
    assert steel.round_section(40).area / (pi * 400) == pytest.approx(0.98862, abs=1e-5)


def test_a_mirror_image_of_an_angle_fits_nowhere() -> None:
    """One end at 45: its image has the long side at the other leg; worst corner half of 50 off however it is moved."""
    piece = Solid(steel.angle(50, 50, 5), (SQUARE,), ((1000.0, 1.0, 0.0),))
    assert error(piece, piece) == 0
    assert error(piece.moved(piece.section.turn(90)).moved(piece.section.turn(-90)), piece) < 1e-9
    assert error(piece.mirrored(), piece) == pytest.approx(25)


def test_a_mirror_image_of_a_tube_is_the_tube_turned() -> None:
    piece = Solid(steel.rect_tube(60, 40, 3, 6), (SQUARE,), ((1000.0, 1.0, 0.0),))
    assert error(piece.mirrored(), piece) < 1e-9


def test_another_section_fits_nowhere() -> None:
    one, two = (Solid(steel.flat(width, 10), (SQUARE,), ((100.0, 0.0, 0.0),)) for width in (40, 50))
    assert error(one, two) == inf


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ('1 15/16"', 49.2125),
        ("6'-2 1/2\"", 1892.3),
        ("20'-0\"", 6096),
        ('3/4"', 19.05),
        ("101'-0\"", 30784.8),
        ("5' 8\"", 1727.2),
        ("4' 6-1/2\"", 1384.3),
        ("6 m", 6000),
        ("1178.6", 1178.6),
        ('0"', 0),
        ("-2.5", -2.5),
    ],
)
def test_lengths_as_they_are_written(text: str, mm: float) -> None:
    assert length(text) == pytest.approx(mm)
