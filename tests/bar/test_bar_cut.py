"""Cuts as they lie on a bar, against planes that are moved point by point.

Expected planes come from three points of the piece's own plane, moved by a turn written out here and put through a
solver of three equations: x = x0 + p*y + q*z. By definition a right end is x = s + p*y + q*z and a left end
x = -p*y - q*z. 1e-9 for rounding.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.bar import SQUARE, Allowance, BarCut, BarPiece, kerfs_of, middle_as_rolled
from mitertool.bar.spacing import gap

TUBE, LEG = mt.rect_tube(40, 30, 3), mt.angle(60, 40, 5)
SECTIONS = pytest.mark.parametrize("section", [TUBE, LEG], ids=["tube", "angle"])
Place = tuple[float, float, float]
Slopes = tuple[float, float]

angles = st.floats(-60, 60)
cuts = st.builds(mt.Cut, angles, st.sampled_from([0.0, 0.0, 20.0, -35.0]))


def through(points: list[Place]) -> tuple[float, float, float]:
    """x0, p, q of the plane through three points."""
    rows = np.array([[1.0, y, z] for _, y, z in points])
    x0, p, q = np.linalg.solve(rows, np.array([x for x, _, _ in points]))
    return float(x0), float(p), float(q)


def face(cut: mt.Cut, end: str, long: float) -> list[Place]:
    """Three points of an end of a piece that is `long` on the line y = z = 0."""
    m, b = math.radians(cut.miter), math.radians(cut.bevel)
    p, q = math.tan(m), math.tan(b) / math.cos(m)
    at = [(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)]
    return [(long + p * y + q * z if end == "right" else -p * y - q * z, y, z) for y, z in at]


TURNS: dict[str, Callable[[Place], Place]] = {
    "as-drawn": lambda at: at,
    "end-for-end": lambda at: (-at[0], -at[1], at[2]),
    "rolled": lambda at: (at[0], -at[1], -at[2]),
    "end-for-end-rolled": lambda at: (-at[0], at[1], -at[2]),
}
"""Half turns about the vertical, about the bar's axis, about the cross axis."""


@pytest.mark.parametrize("pose", TURNS)
@pytest.mark.parametrize("leads", ["left", "right"])
@settings(deadline=None, derandomize=True, max_examples=40)
@given(left=cuts, right=cuts)
def test_slopes_on_the_bar_are_those_of_the_piece_as_it_lies(
    pose: str, leads: str, left: mt.Cut, right: mt.Cut
) -> None:
    """The piece turned by hand; where the right end leads, x of the bar runs against x of the piece."""
    piece = mt.Piece(TUBE, 500, left, right, at="centerline")
    laid = BarPiece.of("A", piece, pose, leads=leads)
    way = 1.0 if leads == "left" else -1.0
    ends = []
    for end, cut in (("left", left), ("right", right)):
        turned = [TURNS[pose](at) for at in face(cut, end, 500)]
        ends.append(through([(way * x, y, z) for x, y, z in turned]))
    lead, trail = sorted(ends, key=lambda found: found[0])
    assert (laid.lead.p, laid.lead.q) == pytest.approx(lead[1:], abs=1e-9)
    assert (laid.trail.p, laid.trail.q) == pytest.approx(trail[1:], abs=1e-9)
    assert laid.centerline == pytest.approx(500)


@given(cut=cuts)
@settings(deadline=None, derandomize=True)
def test_degrees_go_through_unchanged(cut: mt.Cut) -> None:
    """Both ends of a bar are told in the degrees that were typed, not in such as come back from slopes."""
    for trailing, way in ((True, 1.0), (False, -1.0)):
        plane = BarCut.of(cut, trailing).plane
        assert (plane.miter, plane.bevel) == (way * cut.miter, way * cut.bevel)


@pytest.mark.parametrize("quarters", range(4))
@pytest.mark.parametrize("turned", [False, True])
@settings(deadline=None, derandomize=True, max_examples=30)
@given(cut=cuts)
def test_a_cut_of_a_section_laid_otherwise_is_one_of_the_same_bar(quarters: int, turned: bool, cut: mt.Cut) -> None:
    """Points of the plane carried back from how the angle lies: quarter turns back, then end for end back."""
    laid = LEG.lay(90 * quarters, turned)
    points = face(cut, "right", 0.0)
    for _ in range(quarters):
        points = [(x, z, -y) for x, y, z in points]
    if turned:
        points = [TURNS["end-for-end"](at) for at in points]
    _, p, q = through(points)
    own = BarCut.of(cut, trailing=True).unlaid(laid)
    assert (own.p, own.q) == pytest.approx((p, q), abs=1e-9)
    assert own.half_reach(LEG) == pytest.approx(BarCut(cut).half_reach(laid), abs=1e-9)
    assert own.kerf_along(2) == pytest.approx(BarCut(cut).kerf_along(2), abs=1e-9)


@given(cut=cuts, roll=st.floats(-180, 180))
@settings(deadline=None, derandomize=True)
def test_a_rolled_bar_takes_its_cut_with_it(cut: mt.Cut, roll: float) -> None:
    """Its top goes to the moving jaw, from z toward y."""
    a = math.radians(roll)
    turned = [
        (x, y * math.cos(a) + z * math.sin(a), z * math.cos(a) - y * math.sin(a)) for x, y, z in face(cut, "right", 0.0)
    ]
    _, p, q = through(turned)
    stands = BarCut(cut).rolled(roll)
    assert (stands.p, stands.q) == pytest.approx((p, q), abs=1e-9)


def test_half_a_turn_changes_both_signs_exactly() -> None:
    cut = BarCut(mt.Cut(30, 20))
    assert cut.rolled(180) == cut.rolled(-180) == cut.over == BarCut(mt.Cut(-30, -20))
    assert cut.rolled(0) is cut


@SECTIONS
@settings(deadline=None, derandomize=True)
@given(a=cuts, b=cuts)
def test_the_wedge_is_the_least_that_keeps_two_planes_apart(section: mt.Section, a: mt.Cut, b: mt.Cut) -> None:
    """Two planes at the corners of the box: so far apart on the centerline that the second is nowhere before the first
    and touches it at a corner; besides that the kerfs, square to each."""
    one, two = BarCut.of(a, True), BarCut.of(b, False)
    w, h = section.width / 2, section.height / 2
    wedge = one.wedge(two, section)
    rooms = [wedge + (two.p - one.p) * y + (two.q - one.q) * z for y in (-w, w) for z in (-h, h)]
    assert min(rooms) == pytest.approx(0, abs=1e-9)
    assert max(rooms) == pytest.approx(2 * wedge, abs=1e-9)
    if not one.parallel(two):
        kerfs = 2 * math.sqrt(1 + one.p**2 + one.q**2) + 2 * math.sqrt(1 + two.p**2 + two.q**2)
        assert gap(one, two, section, Allowance(2)) == pytest.approx(wedge + kerfs, abs=1e-9)


@SECTIONS
@given(cut=cuts)
@settings(deadline=None, derandomize=True)
def test_where_a_cut_crosses_the_sides(section: mt.Section, cut: mt.Cut) -> None:
    """The plane through the middle of the box, at its bottom corners; no corner lies further out than the reach."""
    w, h = section.width / 2, section.height / 2
    on = BarCut(cut)
    assert on.sides(section) == pytest.approx((-on.p * w - on.q * h, on.p * w - on.q * h), abs=1e-9)
    corners = [on.p * y + on.q * z for y in (-w, w) for z in (-h, h)]
    assert on.half_reach(section) == pytest.approx(max(corners), abs=1e-9)


def test_square() -> None:
    assert SQUARE.is_square
    assert not BarCut(mt.Cut(0.001)).is_square
    assert SQUARE.half_reach(TUBE) == 0


# kerfs of a bar


def bar(*miters: tuple[float, float], gaps: tuple[float, ...] = ()) -> list[BarPiece]:
    """Pieces of 500, the first at 100, so far apart as said."""
    found, at = [], 100.0
    for (left, right), apart in zip(miters, (*gaps, 0.0), strict=True):
        found.append(BarPiece("A", TUBE, mt.Cut(left), mt.Cut(right), 500.0, at))
        at += 500 + apart
    return found


def test_neighbours_share_a_kerf_where_their_planes_are_one() -> None:
    """A right 45 beside a left -45 and one kerf of 2 sec 45 between them; then a left 45: two kerfs and 40 of wedge."""
    k = 2 * math.sqrt(2)
    first, shared, one, two, last = kerfs_of(bar((0, 45), (-45, 45), (45, 0), gaps=(k, 2 * k + 40)), 2)
    assert [kerf.shared for kerf in (first, shared, one, two, last)] == [False, True, False, False, False]
    assert [kerf.mark for kerf in (first, shared, one, two, last)] == ["", "A", "A", "", "A"]
    assert (first.begin, first.end, first.face, first.middle) == (98, 100, 100, 99)
    assert (shared.begin, shared.end, shared.face) == pytest.approx((600, 600 + k, 600))
    assert (one.begin, one.end) == pytest.approx((1100 + k, 1100 + 2 * k))
    assert (two.begin, two.end, two.face) == pytest.approx((1140 + 2 * k, 1140 + 3 * k, 1140 + 3 * k))
    assert (last.face, last.along) == pytest.approx((1640 + 3 * k, 2))


def test_a_kerf_that_takes_steel_before_the_bar_begins() -> None:
    """A piece that says no place stands at the end of the bar: its first kerf runs from 2 before it up to it."""
    piece = BarPiece("A", TUBE, mt.Cut(), mt.Cut(), 500.0)
    first, last = kerfs_of([piece], 2)
    assert (first.begin, first.end, first.along, piece.end, last.along) == (-2, 0, 2, 500, 2)
    first, _ = kerfs_of([attrs.evolve(piece, at=0.5)], 2)
    assert first.along == 2


def test_planes_alike_that_stand_apart_are_two_kerfs() -> None:
    assert len(kerfs_of(bar((0, 0), (0, 0), gaps=(2.0,)), 2)) == 3
    assert len(kerfs_of(bar((0, 0), (0, 0), gaps=(2.5,)), 2)) == 4
    assert kerfs_of([], 2) == ()


def test_the_middle_of_a_rolled_box() -> None:
    """The angle 60 x 40 a quarter over, its top to the moving jaw: a box of 40 x 60, so its middle at (20, 30)."""
    assert middle_as_rolled(LEG, 0) == (30, 20)
    assert middle_as_rolled(LEG, 90) == pytest.approx((20, 30))
    assert middle_as_rolled(LEG, 180) == pytest.approx((30, 20))
