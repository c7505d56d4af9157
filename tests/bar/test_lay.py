"""How far a bar is rolled from one lay to another, told by where the heavy corner of an angle goes."""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.bar import roll_to

LEG = mt.angle(60, 40, 6)
Y, Z = 60 * 6 * 30 + 34 * 6 * 3, 60 * 6 * 3 + 34 * 6 * 23
AREA = 60 * 6 + 34 * 6
"""The middle of the angle of two strips, 60 x 6 lying and 34 x 6 standing on it, is (Y, Z) / AREA."""


@pytest.mark.parametrize(
    ("roll", "middle"),
    [
        (0.0, (Y / AREA, Z / AREA)),
        (90.0, (Z / AREA, 60 - Y / AREA)),
        (180.0, (60 - Y / AREA, 40 - Z / AREA)),
        (-90.0, (40 - Z / AREA, Y / AREA)),
    ],
)
def test_a_roll_takes_the_top_to_the_moving_jaw(roll: float, middle: tuple[float, float]) -> None:
    """A quarter over, what was up lies at +y and what was at +y lies down, in a box of 40 x 60."""
    (lies,) = (lay for lay in (LEG.lay(quarter * 90) for quarter in range(4)) if lay.centroid == pytest.approx(middle))
    assert roll_to(LEG, lies) == roll


def test_no_roll_makes_another_hand_or_another_box() -> None:
    assert roll_to(LEG, LEG.lay(0, True)) is None
    assert roll_to(LEG, LEG.lay(45)) is None
    assert roll_to(LEG, LEG.lay(-91)) is None
