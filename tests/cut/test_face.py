"""Faces by hand: parallelograms, ellipses, chords of circles."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.geometry import Line

R2, R3 = math.sqrt(2), math.sqrt(3)

BAR = mt.flat(80, 12)
SQUARE = mt.flat(40, 40)
BOX = mt.rect_tube(40, 30, 2, 0, 0)
TUBE = mt.rect_tube(50, 50, 3)
PIPE = mt.round_tube(60.3, 3.6)
ANGLE = mt.angle(60, 40, 6)
EVEN_ANGLE = mt.angle(50, 50, 6)
CHANNEL = mt.channel(40, 80, 5, 6)
BEAM = mt.i_section(55, 100, 4.1, 5.7, 7)


@pytest.mark.parametrize(
    ("section", "cut", "width", "height", "area", "perimeter"),
    [
        (BAR, mt.Cut(), 80, 12, 960, 184),
        (BAR, mt.Cut(45), 80 * R2, 12, 960 * R2, 160 * R2 + 24),
        (BAR, mt.Cut(-60), 160, 12, 1920, 320 + 24),
        (BAR, mt.Cut(0, 45), 80, 12 * R2, 960 * R2, 160 + 24 * R2),
        (SQUARE, mt.Cut(45, 45), 40 * R2 + 40, 40 * R2, 3200, 80 * R2 + 80 * R3),
        (SQUARE, mt.Cut(-45, 45), 40 * R2 + 40, 40 * R2, 3200, 80 * R2 + 80 * R3),
        (BOX, mt.Cut(60), 80, 30, (1200 - 36 * 26) * 2, 2 * (80 + 30) + 2 * (72 + 26)),
        (TUBE, mt.Cut(45), 50 * R2, 50, TUBE.area * R2, None),
        (PIPE, mt.Cut(60), 120.6, 60.3, math.pi * (30.15**2 - 26.55**2) * 2, None),
    ],
)
def test_size(
    section: mt.Section, cut: mt.Cut, width: float, height: float, area: float, perimeter: float | None
) -> None:
    """Face of a box: a parallelogram W/cos(miter) long along the blade, shifted by H tan(miter) tan(bevel) at the top,
    H/cos(bevel) up the face, whose upright sides are H sqrt(1 + q^2) long."""
    face = cut.face(section)
    assert (face.width, face.height, face.area) == pytest.approx((width, height, area))
    if perimeter is not None:
        assert face.perimeter == pytest.approx(perimeter)


@pytest.mark.parametrize(
    ("section", "z", "length"),
    [
        (BAR, 6, 80),
        (BOX, 15, 4),
        (BOX, 1, 40),
        (BOX, 2, 40),
        (TUBE, 25, 6),
        (TUBE, 1.5, 38 + 2 * math.sqrt(36 - 4.5**2)),
        (TUBE, 3, 38 + 2 * math.sqrt(36 - 9)),
        (TUBE, 4, 38 + 2 * math.sqrt(36 - 4) - 38 - 2 * math.sqrt(9 - 4)),
        (PIPE, 30.15, 7.2),
        (ANGLE, 3, 60),
        (ANGLE, 20, 6),
        (CHANNEL, 40, 5),
        (BEAM, 50, 4.1),
        (BEAM, 3, 55),
        (BEAM, 12.7, 4.1),
    ],
)
@pytest.mark.parametrize(("miter", "slant"), [(0, 1), (45, R2), (-60, 2)])
def test_contact(section: mt.Section, z: float, length: float, miter: float, slant: float) -> None:
    assert mt.Cut(miter).face(section).contact(z) == pytest.approx(length * slant)


@pytest.mark.parametrize(
    ("section", "length"),
    [
        (BAR, 80),
        (BAR.lay(90), 12),
        (BOX, 40),
        (TUBE, 38 + 2 * math.sqrt(27)),
        (PIPE, 2 * math.sqrt(60.3 * 3.6 - 3.6**2)),
        (mt.round_bar(50), 50),
        (ANGLE, 60),
        (EVEN_ANGLE.lay(45), 12 * R2),
        (CHANNEL, 40),
        (CHANNEL.lay(90), 80),
        (BEAM, 55),
        (BEAM.lay(90), 100),
        (mt.tee(60, 60, 7, 7), 60),
        (SQUARE.lay(45), 40 * R2),
    ],
)
@pytest.mark.parametrize(("miter", "slant"), [(0, 1), (45, R2)])
def test_largest_contact(section: mt.Section, length: float, miter: float, slant: float) -> None:
    """Where an inner face lies level the line is taken just inside the material: for a tube at the height of its inner
    bottom, across the outer arcs; for a pipe the tangent to the hole; for a V the width at its inner corner."""
    assert mt.Cut(miter).face(section).largest_contact == pytest.approx(length * slant)


@pytest.mark.parametrize("bevel", [-40, 0, 30])
def test_a_bevel_changes_no_contact(bevel: float) -> None:
    """The blade's line is level: a bevel tilts the face about it."""
    assert mt.Cut(45, bevel).face(TUBE).largest_contact == pytest.approx((38 + 2 * math.sqrt(27)) * R2)
    assert mt.Cut(45, bevel).face(TUBE).contact(25) == pytest.approx(6 * R2)


@pytest.mark.parametrize(
    ("section", "length"),
    [
        (BOX, 2),
        (TUBE, 3),
        (PIPE, 3.6),
        (ANGLE, 6),
        (CHANNEL, 5),
        (CHANNEL.lay(90), 6),
        (BEAM, 4.1),
        (BEAM.lay(90), 5.7),
        (mt.tee(60, 60, 7, 9), 7),
        (mt.tee(60, 60, 7, 9).lay(90), 9),
        (BAR, 80),
        (mt.round_bar(50), 50),
        (SQUARE.lay(45), 40 * R2),
        (mt.rect_tube(60, 40, 4, 8, 0), 4 - (8 - math.sqrt(8**2 - 4**2))),
    ],
)
@pytest.mark.parametrize(("miter", "slant"), [(0, 1), (-45, R2)])
def test_thinnest_wall(section: mt.Section, length: float, miter: float, slant: float) -> None:
    """Entries and exits at nothing are no wall; a solid that has only those has its largest contact.

    A wall of 4 mm whose outer corner is rounded by 8 mm about a sharp inner one is thinnest where it parts from the
    floor, 4 mm up: there the rounding has come within 8 - sqrt(8^2 - 4^2) of its side.
    """
    assert mt.Cut(miter).face(section).thinnest_wall == pytest.approx(length * slant)


def test_contact_above_and_below_the_bar_is_nothing() -> None:
    face = mt.Cut(30).face(TUBE)
    assert face.contact(-1) == 0
    assert face.contact(50.5) == 0


def test_outline_of_a_beveled_bar() -> None:
    """Corners in (along the blade, up the face), counter-clockwise from the fixed bottom."""
    (loop,) = mt.Cut(45, 45).face(SQUARE).outline
    corners = [number for segment in loop for number in (segment.start if isinstance(segment, Line) else ())]
    assert corners == pytest.approx([0, 0, 40 * R2, 0, 40 + 40 * R2, 40 * R2, 40, 40 * R2])
