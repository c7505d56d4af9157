"""The ways to set a cut, told back as the plane that they make.

A saw set to swing m and tilt b cuts the plane whose slopes in the vise are p = tan m, q = tan b / cos m; that plane
turned back by the roll must be the cut on the bar. Written out here from the definition; 1e-9 for rounding.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.bar import Angles, BarCut, Changes, short_way, ways

cuts = st.builds(mt.Cut, st.floats(-60, 60), st.sampled_from([0.0, 20.0, -35.0, 45.0]))


def plane_of(set_as: Angles) -> tuple[float, float]:
    """The slopes on the bar of what a saw so set cuts: those in the vise, the bar rolled back, top to the fixed jaw."""
    m, b, a = (math.radians(angle) for angle in (set_as.swing, set_as.tilt, set_as.roll))
    p, q = math.tan(m), math.tan(b) / math.cos(m)
    return p * math.cos(a) - q * math.sin(a), p * math.sin(a) + q * math.cos(a)


@pytest.mark.parametrize("tilts", [True, False])
@settings(deadline=None, derandomize=True)
@given(cut=cuts)
def test_both_ways_make_the_cut(tilts: bool, cut: mt.Cut) -> None:
    on_bar = BarCut(cut)
    first, other = ways(on_bar, tilts)
    for way in (first, other):
        assert plane_of(way) == pytest.approx((on_bar.p, on_bar.q), abs=1e-9)
        assert tilts or not cut.bevel or way.tilt == 0
        assert -180 < way.roll <= 180
    assert other.swing == -first.swing
    assert abs(short_way(other.roll - first.roll)) == pytest.approx(180)


def test_as_the_bar_lies_comes_first_in_the_degrees_that_were_given() -> None:
    assert ways(BarCut(mt.Cut(30, 20)), tilts=True) == (Angles(30, 20), Angles(-30, -20, 180))
    assert ways(BarCut(mt.Cut(22.5)), tilts=False) == (Angles(22.5), Angles(-22.5, 0, 180))


def test_a_bevel_of_a_blade_that_does_not_tilt_is_a_roll() -> None:
    """Slopes 3/5 and 4/5 make 1: a swing of 45, the bar rolled by atan2(4, 3) = 53.1301023541560 degrees."""
    first, other = ways(BarCut.from_slopes(0.6, 0.8), tilts=False)
    assert (first.swing, first.tilt, first.roll) == pytest.approx((45, 0, 53.1301023541560))
    assert (other.swing, other.tilt, other.roll) == pytest.approx((-45, 0, 53.1301023541560 - 180))


def test_no_way_holds_a_zero_below_zero() -> None:
    """A square leading cut is its own reverse; no sign of a zero may reach a page."""
    for way in ways(BarCut.of(mt.Cut(), trailing=False), tilts=True):
        assert [math.copysign(1, angle) for angle in (way.swing, way.tilt, way.roll)] == [1, 1, 1]


@pytest.mark.parametrize(("roll", "short"), [(0, 0), (180, 180), (-180, 180), (270, -90), (210, -150), (-190, 170)])
def test_the_short_way_round(roll: float, short: float) -> None:
    assert short_way(roll) == short


def test_what_is_set_anew() -> None:
    """One tolerance for all: 1e-7 degrees. A roll of 360 is none."""
    stood = Angles(45, 0, 180)
    assert stood.changes(Angles(45 + 5e-8, 0, -180)) == Changes()
    assert stood.changes(Angles(-45, 10, 0)) == Changes(1, 1, 1)
    assert stood.changes(Angles(45, 0, -90)) == Changes(rolls=1)
    assert Changes(1, 0, 2).plus(Changes(0, 3, 1)) == Changes(1, 3, 3)
