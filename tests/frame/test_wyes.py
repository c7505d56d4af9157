"""Three tubes in one point, against the planes that halve their angles, worked out by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

import mitertool as mt
from mitertool.frame.wyes import wye

TUBE = mt.round_tube(114.3, 5)


def test_a_wye_of_equal_angles() -> None:
    """At 120 degrees to each other all ends are alike: two cuts of 30 degrees from square, a pointed end."""
    made = wye(TUBE, 120, 500, (400, 400))
    for member in made.pieces:
        assert sorted(cut.miter for cut in member.piece.cuts("left")) == pytest.approx([-30, 30], abs=1e-9)
        assert [cut.bevel for cut in member.piece.cuts("left")] == pytest.approx([0, 0], abs=1e-9)
    assert [member.quantity for member in made.pieces] == [1, 2]


def test_a_wye_with_a_right_angle_between_its_arms() -> None:
    """Trunk and arm make 135 degrees inside, so both are cut 90 - 67.5 from square there; the arms 45 to each other."""
    trunk, arm = (member.piece for member in wye(TUBE, 90, 500, (400, 400)).pieces)
    assert sorted(abs(cut.miter) for cut in trunk.cuts("left")) == pytest.approx([22.5, 22.5], abs=1e-9)
    assert sorted(abs(cut.miter) for cut in arm.cuts("left")) == pytest.approx([22.5, 45], abs=1e-9)
    assert (trunk.centerline, arm.centerline) == (500, 400)


@pytest.mark.parametrize("between", [40, 90, 120, 150])
def test_the_three_ends_fill_the_middle_without_overlap(between: float) -> None:
    """Of lots of places near the point inside all three tubes' widths each belongs to one tube alone: the one along
    which it lies furthest out. Told by the slopes of the cuts alone."""
    made = wye(TUBE, between, 500, (400, 300))
    piece = {member.mark: member.piece for member in made.pieces}
    lot = np.random.default_rng(1).uniform(-50, 50, (400, 3))
    for place in lot:
        inside = 0
        for mark, stand in zip(made.order, made.stands, strict=True):
            x, y, z = (float(np.dot(place, way)) for way in (stand.along, stand.across, stand.up))
            cuts = piece[mark].cuts("left")
            slopes = [(math.tan(math.radians(c.miter)), math.tan(math.radians(c.bevel))) for c in cuts]
            inside += all(x >= -p * y - q * z for p, q in slopes)
        assert inside == 1


def test_two_arms_of_one_length_share_a_mark_only_where_they_are_alike() -> None:
    assert [member.quantity for member in wye(TUBE, 90, 500, (400, 300)).pieces] == [1, 1, 1]


@pytest.mark.parametrize(("between", "trunk", "says"), [(0.1, 500, "between"), (180, 500, "between"), (90, 0, "trunk")])
def test_what_is_no_wye(between: float, trunk: float, says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        wye(TUBE, between, trunk, (400, 400))
