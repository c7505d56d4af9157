"""Mitered corners by hand, and what is no corner."""

from __future__ import annotations

import math

import pytest

import mitertool as mt

R2, R3 = math.sqrt(2), math.sqrt(3)


@pytest.mark.parametrize(
    ("width_a", "width_b", "angle", "miter_a", "miter_b", "seam"),
    [
        (50, 50, 90, 45, 45, 50 * R2),
        (50, 50, 60, 60, 60, 100),
        (50, 50, 120, 30, 30, 100 / R3),
        (50, 50, 135, 22.5, 22.5, 50 / math.cos(math.pi / 8)),
        (40, 80, 90, 63.434949, 26.565051, 40 * math.sqrt(5)),
        (80, 40, 90, 26.565051, 63.434949, 40 * math.sqrt(5)),
        (50, 100, 120, 60, 0, 100),
        (30, 90, 120, 70.893395, -10.893395, 30 * math.sqrt(28 / 3)),
    ],
)
def test_corner(width_a: float, width_b: float, angle: float, miter_a: float, miter_b: float, seam: float) -> None:
    """Equal members halve the turn. 40 and 80 at 90 degrees: the seam is the diagonal of 40 by 80. 50 and 100 at 120:
    the wide one is cut square. 30 and 90 at 120: its miter is negative."""
    joint = mt.corner(width_a, width_b, angle)
    assert (joint.miter_a, joint.miter_b) == pytest.approx((miter_a, miter_b), abs=1e-6)
    assert joint.seam == pytest.approx(seam)
    assert (joint.width_a, joint.width_b, joint.angle) == (width_a, width_b, angle)


@pytest.mark.parametrize("angle", [0, 180, -90, 0.4, 179.6, 360, math.nan, math.inf])
def test_no_corner(angle: float) -> None:
    with pytest.raises(mt.BadInput, match=r"corner angle: found .*; .*(between|from)"):
        mt.corner(50, 50, angle)


@pytest.mark.parametrize("angle", [0.5, 179.5])
def test_just_a_corner(angle: float) -> None:
    joint = mt.corner(50, 50, angle)
    assert joint.miter_a == pytest.approx(90 - angle / 2)


@pytest.mark.parametrize("width", [0, -50, math.nan, math.inf])
def test_no_width(width: float) -> None:
    with pytest.raises(mt.BadInput, match=r"width_a: found .*; a width must be more than 0 mm"):
        mt.corner(width, 50, 90)
    with pytest.raises(mt.BadInput, match=r"width_b: found .*; a width must be more than 0 mm"):
        mt.corner(50, width, 90)
