"""Parting a bar: kept, kerf and drop by hand, and cuts that run out over an end."""

from __future__ import annotations

import math

import pytest

import mitertool as mt

R2 = math.sqrt(2)
BAR = mt.flat(80, 12)


@pytest.mark.parametrize(
    ("side", "kept", "drop"),
    [("drop", 400, 600 - 2 * R2), ("keep", 400 - 2 * R2, 600), ("shared", 400 - R2, 600 - R2)],
)
def test_where_the_kerf_falls(side: str, kept: float, drop: float) -> None:
    """A kerf of 2 mm takes 2 sqrt 2 along the bar at 45 degrees."""
    parts = mt.split(BAR, 1000, mt.Cut(45), 400, 2, side)
    assert parts.kept.centerline == pytest.approx(kept)
    assert parts.drop.centerline == pytest.approx(drop)
    assert parts.kept.long_point == pytest.approx(kept + 40)
    assert parts.drop.long_point == pytest.approx(drop + 40)
    assert parts.kerf is not None
    assert parts.kerf.volume == pytest.approx(960 * 2 * R2)
    assert parts.kerf.overall == pytest.approx(80 + 2 * R2)


def test_ends_of_the_parts() -> None:
    parts = mt.split(BAR, 1000, mt.Cut(30, 10), 400, 2)
    assert (parts.kept.left, parts.kept.right) == (mt.Cut(), mt.Cut(30, 10))
    assert (parts.drop.left, parts.drop.right) == (mt.Cut(-30, -10), mt.Cut())


def test_no_kerf() -> None:
    parts = mt.split(BAR, 1000, mt.Cut(45), 400, 0)
    assert parts.kerf is None
    assert parts.kept.volume + parts.drop.volume == pytest.approx(960 * 1000)


def test_the_kerf_falls_on_the_drop_where_nobody_says() -> None:
    assert mt.split(BAR, 1000, mt.Cut(), 400, 2).kept.centerline == 400


@pytest.mark.parametrize("position", [39.9, 0, -5, 960.1, 1200, math.nan])
def test_a_cut_that_runs_out(position: float) -> None:
    """At 45 degrees the cut reaches 40 mm to either side of its middle in a bar 80 mm wide."""
    with pytest.raises(mt.BadInput, match=r"position: found '.* mm'; the cut runs out over an end of the 1000 mm bar"):
        mt.split(BAR, 1000, mt.Cut(45), position, 0)


@pytest.mark.parametrize("position", [40, 960])
def test_a_cut_through_a_corner_of_the_bar(position: float) -> None:
    parts = mt.split(BAR, 1000, mt.Cut(45), position, 0)
    assert min(parts.kept.short_point, parts.drop.short_point) == pytest.approx(0, abs=1e-9)


def test_a_kerf_that_runs_out() -> None:
    with pytest.raises(mt.BadInput, match=r"runs out over an end"):
        mt.split(BAR, 1000, mt.Cut(45), 959, 2, "drop")
    assert mt.split(BAR, 1000, mt.Cut(45), 959, 2, "keep").drop.short_point == pytest.approx(1)


@pytest.mark.parametrize("kerf", [-0.1, math.nan, math.inf])
def test_no_kerf_of_that_size(kerf: float) -> None:
    with pytest.raises(mt.BadInput, match=r"kerf: found .*; a kerf must be 0 or more"):
        mt.split(BAR, 1000, mt.Cut(), 400, kerf)


@pytest.mark.parametrize("side", ["left", "both", ""])
def test_no_such_side(side: str) -> None:
    with pytest.raises(mt.BadInput, match=r"side: found .*; allowed: keep, drop, shared"):
        mt.split(BAR, 1000, mt.Cut(), 400, 2, side)
