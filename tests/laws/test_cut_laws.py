"""Laws of cuts and faces over all specimens and over random sections."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

import mitertool as mt
from tests.laws.checks import (
    check_contact,
    check_face_area,
    check_face_perimeter,
    check_face_size,
    check_plane,
    check_slopes_round_trip,
    same,
)
from tests.laws.strategies import LAW, cuts, sections
from tests.specimens import SPECIMENS, heights, lays_of, levels

every_specimen = pytest.mark.parametrize("name", SPECIMENS)

CUTS = [mt.Cut(), mt.Cut(45), mt.Cut(-30, 20), mt.Cut(0, -45), mt.Cut(60, 50)]


@LAW
@given(cuts)
def test_the_plane_is_swung_by_the_miter_and_tilted_by_the_bevel(cut: mt.Cut) -> None:
    check_plane(cut)


@LAW
@given(cuts)
def test_slopes_give_the_angles_back(cut: mt.Cut) -> None:
    check_slopes_round_trip(cut)


@LAW
@given(st.floats(-50, 50), st.floats(-50, 50))
def test_angles_give_the_slopes_back(p: float, q: float) -> None:
    cut = mt.Cut.from_slopes(p, q)
    same(cut.p, p, 1 + p * p)
    same(cut.q, q, (1 + p * p) * (1 + q * q))


@LAW
@given(cuts, st.floats(0, 10))
def test_the_kerf_along_the_bar_is_its_width_over_the_cosine_to_the_axis(cut: mt.Cut, kerf: float) -> None:
    """The cosine between bar and blade normal: cos(miter) cos(bevel) of a plane swung and then tilted."""
    m, b = math.radians(cut.miter), math.radians(cut.bevel)
    same(cut.kerf_along(kerf), kerf / (math.cos(m) * math.cos(b)), 1e-6)


@LAW
@given(cuts)
def test_the_other_side_of_the_plane(cut: mt.Cut) -> None:
    other = cut.reversed
    assert (other.p, other.q) == (-cut.p, -cut.q)
    assert other.reversed == cut


@every_specimen
def test_contact_integrated_over_the_face_is_its_area(name: str) -> None:
    for section in lays_of(name):
        for cut in CUTS[:3]:
            check_face_area(cut.face(section))


@LAW
@given(sections, cuts)
def test_contact_integrated_over_any_face_is_its_area(section: mt.Section, cut: mt.Cut) -> None:
    """Levels are kept apart here: see the check for lines near a level side."""
    assume(min(b - a for a, b in itertools.pairwise(levels(section))) > 1e-3)
    check_face_area(cut.face(section))


@every_specimen
def test_the_perimeter_is_walked_in_the_plane(name: str) -> None:
    for section in lays_of(name):
        for cut in CUTS:
            check_face_perimeter(cut.face(section))


@LAW
@given(sections, cuts)
def test_the_perimeter_of_any_face_is_walked_in_the_plane(section: mt.Section, cut: mt.Cut) -> None:
    check_face_perimeter(cut.face(section))


@every_specimen
def test_the_size_of_the_face_is_the_extent_of_its_points(name: str) -> None:
    for section in lays_of(name):
        for cut in CUTS:
            check_face_size(cut.face(section))


@LAW
@given(sections, cuts)
def test_the_size_of_any_face_is_the_extent_of_its_points(section: mt.Section, cut: mt.Cut) -> None:
    check_face_size(cut.face(section))


@every_specimen
def test_no_contact_is_larger_than_the_largest(name: str) -> None:
    for section in lays_of(name):
        for cut in CUTS[:2]:
            check_contact(cut.face(section), heights(section, 12))


@LAW
@given(sections, cuts)
def test_no_contact_of_any_face_is_larger_than_the_largest(section: mt.Section, cut: mt.Cut) -> None:
    check_contact(cut.face(section), heights(section, 20))


@every_specimen
def test_the_largest_contact_is_met(name: str) -> None:
    """Some line comes near it: within 5 per cent among 80 to a band, crowded where lengths turn fast."""
    for section in lays_of(name):
        face = mt.Cut(30).face(section)
        met = max(face.contact(z) for z in [*heights(section, 80), 1e-9, section.height - 1e-9])
        assert 0.95 * face.largest_contact <= met <= face.largest_contact * (1 + 1e-9)


@every_specimen
def test_no_wall_is_thicker_than_the_largest_contact(name: str) -> None:
    for section in lays_of(name):
        for cut in CUTS:
            face = cut.face(section)
            assert 0 < face.thinnest_wall <= face.largest_contact * (1 + 1e-12)


@LAW
@given(sections, cuts, st.floats(-180, 180))
def test_a_face_keeps_its_size_when_bar_and_plane_roll_together(section: mt.Section, cut: mt.Cut, roll: float) -> None:
    """Rolling the bar by an angle turns the slopes of the plane by that angle."""
    t = math.radians(roll)
    turned = mt.Cut.from_slopes(cut.p * math.cos(t) - cut.q * math.sin(t), cut.p * math.sin(t) + cut.q * math.cos(t))
    before, after = cut.face(section), turned.face(section.lay(roll))
    assert after.area == pytest.approx(before.area, rel=1e-9)
    assert after.perimeter == pytest.approx(before.perimeter, rel=1e-9)


@LAW
@given(sections, cuts)
def test_the_outline_of_the_face_bounds_its_area_and_length(section: mt.Section, cut: mt.Cut) -> None:
    """Walked point by point from lines and arcs of ellipses, in (along the blade, up the face)."""
    face = cut.face(section)
    area = length = 0.0
    for loop in face.outline:
        points = [p for part in loop for p in _face_points(part)]
        for (y0, z0), (y1, z1) in zip(points, points[1:] + points[:1], strict=True):
            area += (y0 * z1 - y1 * z0) / 2
            length += math.hypot(y1 - y0, z1 - z0)
    assert area == pytest.approx(face.area, rel=2e-3)
    assert length == pytest.approx(face.perimeter, rel=2e-3)


def _face_points(part: object) -> list[tuple[float, float]]:
    """Start to just before the end; 200 chords to an arc, whose error is below (pi/100)^2 / 6."""
    from mitertool.geometry import EllipseArc, Line

    if isinstance(part, Line):
        return [part.start]
    assert isinstance(part, EllipseArc)
    (cy, cz), (ay, az) = part.center, part.major
    by, bz = -az * part.ratio, ay * part.ratio
    angles = [math.radians(part.start + part.sweep * i / 200) for i in range(200)]
    return [(cy + ay * math.cos(t) + by * math.sin(t), cz + az * math.cos(t) + bz * math.sin(t)) for t in angles]
