"""A region on one side of a line: by hand, both sides against the whole, and against polygons of a general library."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import mitertool as mt
from mitertool.geometry import Region
from mitertool.geometry.clip import part_of
from tests.laws.checks import same
from tests.laws.strategies import LAW, sections
from tests.specimens import SPECIMENS, lays_of, outline_points

every_specimen = pytest.mark.parametrize("name", SPECIMENS)

LINES = [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (-0.3, 2.0), (1e-3, -1.0)]
SHARES = [0.003, 0.25, 0.5, 0.61, 0.98]


def sides(section: mt.Section, p: float, q: float, share: float) -> tuple[Region, Region, float]:
    """Both parts at a line that lies `share` of the way over the section, and where it lies."""
    low, high = -section.support(-p, -q), section.support(p, q)
    most = low + share * (high - low)
    return part_of(section.region, p, q, most), part_of(section.region, -p, -q, -most), most


def check_parts(section: mt.Section, p: float, q: float, share: float) -> None:
    """No part reaches over the line, and areas and first moments of both make up the whole's, 1e-9 of its size."""
    below, above, most = sides(section, p, q, share)
    size = 1e-6 * math.hypot(p, q)
    assert all(p * y + q * z <= most + size for s in below.segments for y, z in (s.start, s.end))
    assert all(p * y + q * z >= most - size for s in above.segments for y, z in (s.start, s.end))
    same(below.area + above.area, section.area)
    for axis in (0, 1):
        moments = sum(part.area * part.centroid[axis] for part in (below, above) if part.loops)
        same(moments, section.area * section.centroid[axis], section.area * max(section.width, section.height))


def check_against_polygons(section: mt.Section, p: float, q: float, share: float) -> None:
    """The area of the outline as a polygon with chords within 1e-3 of its arcs, cut by a general library."""
    below, _, most = sides(section, p, q, share)
    outer, *holes = (shapely.Polygon(loop) for loop in outline_points(section, 1e-3))
    far, size = 1e5, math.hypot(p, q)
    n, t = complex(p, q) / size, 1j * complex(p, q) / size
    at = n * most / size
    half = shapely.Polygon(
        [(c.real, c.imag) for c in (at + far * t, at - far * t, at - far * t - far * n, at + far * t - far * n)]
    )
    polygon = outer
    for hole in holes:
        polygon = polygon.difference(hole)
    assert below.area == pytest.approx(polygon.intersection(half).area, abs=1e-3 * section.perimeter + 1e-6)


@every_specimen
def test_both_sides_are_the_whole(name: str) -> None:
    for section in lays_of(name):
        for (p, q), share in zip(LINES, SHARES, strict=True):
            check_parts(section, p, q, share)
            check_against_polygons(section, p, q, share)


@LAW
@given(sections, st.floats(-4, 4), st.floats(0.1, 4), st.floats(0, 1))
def test_any_section_at_any_line(section: mt.Section, p: float, q: float, share: float) -> None:
    check_parts(section, p, q, share)


def test_a_line_along_an_inner_face() -> None:
    """A tube 40 x 30 x 2, sharp: at y = 2 the line runs along the inner face of the wall, 30 x 2 below it."""
    tube = mt.rect_tube(40, 30, 2, 0, 0)
    assert part_of(tube.region, 1, 0, 2).area == pytest.approx(60)
    assert part_of(tube.region, -1, 0, -2).area == pytest.approx(38 * 30 - 36 * 26)
    assert part_of(tube.region, 1, 0, 20).area == pytest.approx((40 * 30 - 36 * 26) / 2)


def test_a_ring_cut_in_halves_and_beside_its_hole() -> None:
    """A quarter of the way over a disc of radius R the segment is R^2 (pi/3 - sqrt 3/4)."""
    disc, ring = mt.round_bar(50), mt.round_tube(60, 4)
    assert part_of(disc.region, 1, 0, 12.5).area == pytest.approx(625 * (math.pi / 3 - math.sqrt(3) / 4))
    assert part_of(ring.region, 1, 1, 60).area == pytest.approx(math.pi * (900 - 676) / 2)
    low = 900 * math.acos(28 / 30) - 28 * math.sqrt(900 - 28 * 28)
    assert part_of(ring.region, 0, 1, 2).area == pytest.approx(low)


def test_nothing_and_all() -> None:
    region = mt.flat(80, 12).region
    assert part_of(region, 1, 0, 80) == region
    assert part_of(region, 1, 0, 0) == Region(())
