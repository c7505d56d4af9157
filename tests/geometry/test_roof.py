"""Planes over a rectangle, the lowest of which counts: by hand."""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.geometry.roof import Roof, Slant

PLATE = mt.flat(60, 20).region


@pytest.mark.parametrize("lower_first", [True, False])
@pytest.mark.parametrize("under", [5.0, 1e-3])
def test_a_plane_that_lies_over_another_covers_nothing(lower_first: bool, under: float) -> None:
    """Both rise 1 in 10 across 60; the lower one is the roof: 6 high at its highest, 3 in the middle."""
    lower, upper = Slant(0.1, 0.0), Slant(0.1, 0.0, under)
    roof = Roof(PLATE, (lower, upper) if lower_first else (upper, lower))
    assert [facet.slant for facet in roof.facets] == [lower]
    assert (roof.highest, roof.lowest, roof.at(60, 7)) == pytest.approx((6, 0, 6))
    assert roof.volume(100) == pytest.approx(103 * 60 * 20)


def test_of_two_planes_alike_one_counts() -> None:
    roof = Roof(PLATE, (Slant(0.1, 0.2), Slant(0.1, 0.2)))
    assert len(roof.facets) == 1
    assert roof.volume(0) == pytest.approx((3 + 2) * 60 * 20)


def test_a_ridge_along_the_middle() -> None:
    """1 in 10 up to the middle of 60 and down again: 3 high there, 1.5 on the whole."""
    roof = Roof(PLATE, (Slant(0.1, 0.0), Slant(-0.1, 0.0, 6.0)))
    assert roof.ridges_at(7) == pytest.approx((30,))
    assert (roof.highest, roof.lowest) == pytest.approx((3, 0))
    assert roof.highest_point[0] == pytest.approx(30)
    assert roof.volume(0) == pytest.approx(1.5 * 60 * 20)


def test_a_plane_that_is_nowhere_the_lowest_has_no_ridge() -> None:
    """A third plane 2 over the ridge of the first two takes over nowhere."""
    roof = Roof(PLATE, (Slant(0.1, 0.0), Slant(-0.1, 0.0, 6.0), Slant(0.0, 0.0, 5.0)))
    assert roof.ridges_at(0) == pytest.approx((30,))
    assert len(roof.facets) == 2


def test_a_roof_that_leans_both_ways() -> None:
    """p*y + q*z with q over the height of 20, less where the other plane is lower: it begins at y + z = 60."""
    roof = Roof(PLATE, (Slant(0.1, 0.1), Slant(0.0, 0.0, 6.0)))
    assert roof.ridges_at(20) == pytest.approx((40,))
    assert roof.ridges_at(0) == pytest.approx((60,))
    assert roof.volume(0) == pytest.approx(0.1 * (30 + 10) * 1200 - 0.1 * 20**3 / 6)
