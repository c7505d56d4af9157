"""Laying a section: where its parts come to lie, and whether it stays there."""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.sections import lies_safely

ANGLE = mt.angle(60, 40, 6)
CHANNEL = mt.channel(40, 80, 5, 6)

AREA = 564.0
C_Y, C_Z = (360 * 30 + 204 * 3) / AREA, (360 * 3 + 204 * 23) / AREA
"""Centroid of the angle by hand; the heel is the corner that it is nearest to."""


@pytest.mark.parametrize(
    ("rotation", "turned", "size", "centroid"),
    [
        (0, False, (60, 40), (C_Y, C_Z)),
        (90, False, (40, 60), (40 - C_Z, C_Y)),
        (180, False, (60, 40), (60 - C_Y, 40 - C_Z)),
        (270, False, (40, 60), (C_Z, 60 - C_Y)),
        (-90, False, (40, 60), (C_Z, 60 - C_Y)),
        (0, True, (60, 40), (60 - C_Y, C_Z)),
        (180, True, (60, 40), (C_Y, 40 - C_Z)),
        (270, True, (40, 60), (C_Z, C_Y)),
        (90, True, (40, 60), (40 - C_Z, 60 - C_Y)),
    ],
)
def test_an_angle_laid(rotation: float, turned: bool, size: tuple[float, float], centroid: tuple[float, float]) -> None:
    """Counter-clockwise seen against x (y to the right, z up); turned end for end first, which shows it mirrored."""
    laid = ANGLE.lay(rotation, turned)
    assert (laid.width, laid.height) == pytest.approx(size)
    assert laid.centroid == pytest.approx(centroid)
    assert (laid.rotation, laid.turned) == (rotation % 360, turned)
    assert laid.name == ANGLE.name


def test_a_diagonal_box() -> None:
    """A sharp square of 40 on its corner is 40 sqrt 2 wide; on its corner all radii count: 2 (r + (20 - r) sqrt 2)."""
    assert mt.flat(40, 40).lay(45).width == pytest.approx(40 * 2**0.5)
    rounded = mt.rect_tube(40, 40, 3, 6, 3).lay(45)
    assert (rounded.width, rounded.height) == pytest.approx((2 * (6 + 14 * 2**0.5),) * 2)


def test_laid_twice() -> None:
    """Turned after a roll: the roll is then seen from the other side."""
    twice = ANGLE.lay(90).lay(0, turned=True)
    assert (twice.rotation, twice.turned) == (270, True)
    assert twice.centroid == pytest.approx(ANGLE.lay(270, turned=True).centroid)


@pytest.mark.parametrize(
    ("section", "safe"),
    [
        (mt.rect_tube(50, 50, 3), True),
        (mt.rect_tube(50, 50, 3).lay(45), False),
        (mt.rect_tube(50, 50, 3).lay(2), False),
        (mt.round_tube(60.3, 3.6), True),
        (mt.round_bar(50).lay(33), True),
        (mt.flat(80, 12), True),
        (ANGLE, True),
        (ANGLE.lay(180), False),
        (ANGLE.lay(45), False),
        (CHANNEL, True),
        (CHANNEL.lay(90), True),
        (CHANNEL.lay(270), True),
        (CHANNEL.lay(30), False),
        (mt.i_section(55, 100, 4.1, 5.7, 7), True),
        (mt.i_section(55, 100, 4.1, 5.7, 7).lay(90), True),
        (mt.tee(60, 60, 7, 7, 8), True),
        (mt.tee(60, 60, 7, 7, 8).lay(90), False),
    ],
    ids=lambda value: f"{value.name} at {value.rotation:g}" if isinstance(value, mt.Section) else str(value),
)
def test_lies_safely(section: mt.Section, safe: bool) -> None:
    """By where the weight stands over what touches the bed."""
    assert lies_safely(section) == safe


def test_turns_of_any_number_are_one() -> None:
    """A rotation of 1e300 degrees is a whole number of them, so its rest by 360 is exact in integers."""
    laid, rest = ANGLE.lay(1e300), ANGLE.lay(int(1e300) % 360)
    assert (laid.width, laid.height, laid.rotation) == pytest.approx((rest.width, rest.height, rest.rotation))
