"""Pieces with more than one plane at an end: by hand on bars with volumes in closed form, and by sampled outlines."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

import mitertool as mt
from mitertool.piece import AT
from tests.laws.checks import CHORD_ERROR, reaches, same, sampled_outline
from tests.laws.strategies import LAW, cuts, sections
from tests.specimens import SPECIMENS, lays_of

FLAT = mt.flat(80, 12)
TUBE = mt.rect_tube(50, 50, 3, 0, 0)
POINT = (mt.Cut(45), mt.Cut(-45))


def test_a_flat_with_a_right_angled_point() -> None:
    """Tip on the centerline, 40 in front of both corners: a triangle of 80 by 40 less two of 40 by 40 is cut off."""
    piece = mt.Piece(FLAT, 1000, right=POINT)
    assert (piece.long_point, piece.short_point, piece.centerline, piece.overall) == pytest.approx(
        (1000, 960, 1000, 1000)
    )
    edges = piece.edges
    assert (edges.fixed_bottom, edges.moving_bottom, edges.fixed_top, edges.moving_top) == pytest.approx((960,) * 4)
    assert piece.volume == pytest.approx(12 * (80 * 1000 - 80 * 80 / 4))
    assert piece.mass == pytest.approx(12 * (80 * 1000 - 1600) * 7850e-9)
    assert (piece.length_at(20, 3), piece.length_at(70, 9)) == pytest.approx((980, 970))


def test_a_sharp_tube_with_a_point_at_both_ends() -> None:
    """A point takes a quarter of the square of the width in plan: 50 over a solid bar 50 high, 44 over its hole."""
    piece = mt.Piece(TUBE, 800, POINT, POINT)
    solid = 50 * (50 * 800 - 2 * 50 * 50 / 4)
    hole = 44 * (44 * 800 - 2 * 44 * 44 / 4)
    assert piece.volume == pytest.approx(solid - hole)
    assert piece.short_point == pytest.approx(750)


def test_a_round_bar_with_a_point() -> None:
    """Over a disc of radius R the integral of |y - R| is 4/3 R^3; its short point is R behind its tip."""
    piece = mt.Piece(mt.round_bar(50), 1000, right=POINT)
    assert piece.volume == pytest.approx(math.pi * 625 * 1000 - 4 / 3 * 25**3)
    assert (piece.long_point, piece.short_point) == pytest.approx((1000, 975))


def test_a_round_tube_with_a_point_over_its_height() -> None:
    """Bevels cross level, so two figures say where; the middle where nothing is said."""
    bevels = (mt.Cut(0, 45), mt.Cut(0, -45))
    piece = mt.Piece(mt.round_tube(60, 5), 500, left=bevels)
    assert piece.volume == pytest.approx(math.pi * (900 - 625) * 500 - 4 / 3 * (30**3 - 25**3))
    given = mt.Piece(mt.round_tube(60, 5), 500, left=(bevels[0], mt.Further(bevels[1], (7.0, 30.0))))
    assert given.volume == pytest.approx(piece.volume)


def test_where_the_planes_meet() -> None:
    """Slopes 1 and -1/2 that meet 20 from the fixed side: the tip stands 20 over that edge and 30 over the other."""
    half = mt.Cut(math.degrees(math.atan(-0.5)))
    piece = mt.Piece(FLAT, 1000, right=(mt.Cut(45), mt.Further(half, 20)), at="overall")
    edges = piece.edges
    assert (edges.fixed_bottom, edges.moving_bottom) == pytest.approx((980, 970))
    assert piece.volume == pytest.approx(12 * (80 * 1000 - 20 * 20 / 2 - 60 * 30 / 2))
    assert piece.centerline == pytest.approx(990)


def test_the_long_point_between_two_pointed_ends() -> None:
    """Slopes 1, -1 that meet at 20 and at 60: the lengths over y are 1000 less 0 to 40 of each, level between them."""
    piece = mt.Piece(
        FLAT, 1000, (mt.Cut(45), mt.Further(mt.Cut(-45), 20)), (mt.Cut(45), mt.Further(mt.Cut(-45), 60)), "overall"
    )
    assert (piece.long_point, piece.short_point) == pytest.approx((960, 920))
    assert piece.volume == pytest.approx(12 * (80 * 960 - 2 * 20 * 40 / 2 * 1))
    assert piece.length_at(40, 0) == pytest.approx(960)


def test_four_planes_make_a_pyramid() -> None:
    """On a bar 40 square: four slopes of 1 to the middle take a third of the cuboid under the point."""
    four = (mt.Cut(45), mt.Cut(-45), mt.Cut(0, 45), mt.Cut(0, -45))
    piece = mt.Piece(mt.flat(40, 40), 100, right=four)
    assert piece.volume == pytest.approx(1600 * 80 + 1600 * 20 / 3)
    assert piece.short_point == pytest.approx(80)


def test_the_blank_holds_the_piece() -> None:
    """Parted with the first cut alone: at 45 it stands 40 beyond the tip on the moving side."""
    piece = mt.Piece(FLAT, 1000, right=POINT)
    assert (piece.blank.right, piece.blank.long_point, piece.blank.short_point) == (POINT[0], 1040, 960)
    assert piece.blank.blank is piece.blank
    assert (piece.right, [one.cut for one in piece.right_further], piece.left_further) == (POINT[0], [POINT[1]], ())
    assert mt.Piece(FLAT, 1000, right=[mt.Cut(45)]) == mt.Piece(FLAT, 1000, right=mt.Cut(45))


def test_the_other_hand_and_poses() -> None:
    """The tip 20 from the fixed side lies 20 from the moving side when the bar is turned over."""
    piece = mt.Piece(FLAT, 1000, right=(mt.Cut(45), mt.Further(mt.Cut(-30), 20)))
    rolled, turned, other = piece.posed("rolled"), piece.posed("end-for-end"), piece.opposite_hand()
    assert rolled.edges.moving_bottom == pytest.approx(piece.edges.fixed_bottom)
    assert rolled.length_at(60, 5) == pytest.approx(1000)
    assert turned.left_further[0].meets == pytest.approx((60, 6))
    assert (other.left, other.right, other.left_further[0].cut) == (mt.Cut(45), mt.Cut(), mt.Cut(-30))
    for one in (rolled, turned, other):
        assert (one.volume, one.long_point, one.short_point) == pytest.approx(
            (piece.volume, piece.long_point, piece.short_point)
        )


@pytest.mark.parametrize(
    ("left", "right", "own"),
    [
        (POINT, POINT[::-1], True),
        ((mt.Cut(45), mt.Cut(-30)), (mt.Cut(-30), mt.Cut(45)), True),
        ((mt.Cut(45), mt.Cut(-30)), (mt.Cut(45), mt.Cut(-30)), True),
        ((mt.Cut(45), mt.Further(mt.Cut(-45), 60)), (mt.Cut(45), mt.Further(mt.Cut(-45), 20)), True),
        ((mt.Cut(0, 20), mt.Cut(40)), (mt.Cut(40), mt.Cut(0, 20)), True),
        ((mt.Cut(0, 20), mt.Cut(40)), (mt.Cut(40), mt.Cut(0, -20)), False),
    ],
)
def test_its_own_opposite_hand(
    left: tuple[mt.Cut | mt.Further, ...], right: tuple[mt.Cut | mt.Further, ...], own: bool
) -> None:
    """The mirror of a flat is the flat laid on its other face, so that any piece without bevels is its own."""
    assert mt.Piece(FLAT, 1000, left, right).is_own_opposite is own


def test_an_angle_keeps_its_hand() -> None:
    """An angle as it lies has no pose but as drawn, so a tip off the middle makes two hands."""
    angle = mt.angle(60, 40, 6)
    assert not mt.Piece(angle, 500, mt.Cut(), POINT).is_own_opposite
    assert mt.Piece(angle, 500, POINT, POINT[::-1]).is_own_opposite


@pytest.mark.parametrize(
    ("right", "says"),
    [
        ((mt.Cut(45), mt.Further(mt.Cut(-45), 90)), "right, cut 2: found '-45 degrees'; leaves no face on the steel"),
        ((mt.Cut(45), mt.Further(mt.Cut(-45), -1)), "right, cut 1: found '45 degrees'; leaves no face on the steel"),
        ((mt.Cut(45), mt.Cut(45)), "right, cut 2: found '45 degrees'; leaves no face on the steel"),
        ((mt.Cut(0, 45), mt.Further(mt.Cut(0, -45), 20)), "right: meets: found '20 mm'; these planes cross level"),
        ((), "right: found (); a cut, or some"),
        ((45, -45), "right: found (45, -45); a cut, or some"),
        ("45", "right: found '45'; a cut, or some"),
    ],
)
def test_no_end(right: tuple[mt.Cut | mt.Further, ...], says: str) -> None:
    with pytest.raises(mt.BadInput) as caught:
        mt.Piece(FLAT, 1000, right=right)
    assert says in str(caught.value)


def test_no_place() -> None:
    for meets in (float("nan"), True, "20", (1.0, 2.0, 3.0)):
        with pytest.raises(mt.BadInput, match="meets"):
            mt.Further(mt.Cut(-45), meets)  # type: ignore[arg-type]


def test_points_that_run_into_each_other() -> None:
    """Two points 40 deep: at 80 tip to tip their edges meet, a figure of four corners; 1 less and nothing holds it."""
    piece = mt.Piece(FLAT, 80, POINT, POINT)
    assert (piece.short_point, piece.volume) == pytest.approx((0, 12 * 80 * 80 / 2))
    with pytest.raises(mt.BadInput, match="cuts of both ends cross inside"):
        mt.Piece(FLAT, 79, POINT, POINT)


ENDS = [
    ((mt.Cut(45), mt.Cut(-45)), (mt.Cut(30, 20), mt.Cut(-52, 35))),
    ((mt.Cut(70.35), mt.Further(mt.Cut(-19.65), (0.4, 0.3))), mt.Cut(22.5)),
    ((mt.Cut(0, 30), mt.Cut(0, -10), mt.Cut(40)), (mt.Cut(), mt.Cut(60))),
]


def planes(piece: mt.Piece, end: str) -> list[tuple[float, float, float]]:
    """p, q and the height over (0, 0) of each plane of an end, worked out from the cuts and where they meet."""
    first, further = piece.end(end)
    found = [(first.p, first.q, 0.0)]
    for one in further:
        y, z = one.meets  # type: ignore[misc]
        found.append((one.cut.p, one.cut.q, (first.p - one.cut.p) * y + (first.q - one.cut.q) * z))
    return found


def check_lengths(piece: mt.Piece) -> None:
    """The smallest length is one of the sampled outline, and no sample is beyond the largest or beyond tip to tip. The
    places of both have those lengths, and poses and every way to measure give the same piece."""
    heights = {
        end: [[o + p * y + q * z for p, q, o in planes(piece, end)] for y, z in sampled_outline(piece.section).tolist()]
        for end in ("left", "right")
    }
    out = {end: [min(row) for row in rows] for end, rows in heights.items()}
    lengths = [piece.s + a + b for a, b in zip(out["left"], out["right"], strict=True)]
    steep = max(math.hypot(p, q) for end in ("left", "right") for p, q, _ in planes(piece, end))
    reaches(-piece.short_point, -min(lengths), 2 * CHORD_ERROR * steep)
    assert piece.long_point >= max(lengths) - 1e-9 * piece.overall
    assert piece.overall >= max(out["left"]) + max(out["right"]) + piece.s - 1e-9 * piece.overall
    same(piece.length_at(*piece.long_place), piece.long_point, piece.overall)
    same(piece.length_at(*piece.short_place), piece.short_point, piece.overall)
    for pose in piece.poses:
        posed = piece.posed(pose)
        same(posed.volume, piece.volume)
        same(posed.long_point, piece.long_point, piece.overall)
        same(posed.blank.volume, piece.blank.posed(pose).volume)
    for at in AT:
        again = mt.Piece(piece.section, length_of(piece, at), given_end(piece, "left"), given_end(piece, "right"), at)
        same(again.s, piece.s, piece.overall)


def length_of(piece: mt.Piece, at: str) -> float:
    word = at.replace("-", "_")
    return float(getattr(piece, word) if hasattr(piece, word) else getattr(piece.edges, word))


def given_end(piece: mt.Piece, end: str) -> tuple[mt.Cut | mt.Further, ...]:
    first, further = piece.end(end)
    return (first, *further)


@pytest.mark.parametrize("name", SPECIMENS)
def test_every_specimen(name: str) -> None:
    for section in lays_of(name):
        for left, right in ENDS:
            try:
                piece = mt.Piece(section, 5000.0, scaled(section, left), scaled(section, right), "short-point")
            except mt.BadInput as error:
                assert "leaves no face" in str(error)
                continue
            check_lengths(piece)
            check_parts_of_the_blank(piece)


def scaled(section: mt.Section, end: object) -> tuple[mt.Cut | mt.Further, ...]:
    """Places given as shares of width and height, in mm."""
    cuts = end if isinstance(end, tuple) else (end,)
    return tuple(
        mt.Further(one.cut, (one.meets[0] * section.width, one.meets[1] * section.height))
        if isinstance(one, mt.Further)
        else one
        for one in cuts
    )


def check_parts_of_the_blank(piece: mt.Piece) -> None:
    """What the further plane of the right end takes off the blank is the blank's steel beyond it: the blank's volume is
    that of the piece and of the pieces between the planes, counted by the other one's excess over the region."""
    if len(piece.right_further) != 1 or piece.left_further:
        return
    (a, b), blank = planes(piece, "right"), piece.blank
    low = mt.Piece(piece.section, blank.s + b[2], piece.left, piece.right_further[0].cut, "fixed-bottom")
    # min(a, b) + max(a, b) = a + b over every place, and max(a, b) = -min(-a, -b)
    upper = piece.section.area * (piece.s * 2) + 0.0
    cy, cz = piece.section.centroid
    both = blank.volume + low.volume
    most = max_volume(piece.section, a, b)
    same(piece.volume + most + area_of(piece, cy, cz), both, upper)


def area_of(piece: mt.Piece, cy: float, cz: float) -> float:
    """Volume under the left end and s, without the right end."""
    return piece.section.area * (piece.s + piece.left.p * cy + piece.left.q * cz)


def max_volume(section: mt.Section, a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """Volume under the higher of two planes: that of a square-ended long bar less one with both planes turned round."""
    turned = mt.Cut.from_slopes(-a[0], -a[1])
    other = mt.Cut.from_slopes(-b[0], -b[1])
    slope = (a[0] - b[0], a[1] - b[1])
    size = slope[0] ** 2 + slope[1] ** 2
    k = (b[2] - a[2]) / size
    bar = mt.Piece(section, 9e4, mt.Cut(), (turned, mt.Further(other, (slope[0] * k, slope[1] * k))), "short-point")
    return section.area * bar.s - bar.volume


@LAW
@given(sections, cuts, cuts, cuts, st.floats(0.1, 0.9))
def test_any_piece(section: mt.Section, left: mt.Cut, first: mt.Cut, second: mt.Cut, share: float) -> None:
    assume(math.hypot(first.p - second.p, first.q - second.q) > 1e-3)
    meets = (share * section.width, section.height / 2)
    try:
        piece = mt.Piece(section, 20000.0, left, (first, mt.Further(second, meets)), "short-point")
    except mt.BadInput as error:
        assert "leaves no face" in str(error)
        return
    check_lengths(piece)
    check_parts_of_the_blank(piece)


def test_tips_are_found_in_the_material() -> None:
    """The ridge of a tube runs through its hole: the longest line is where the ridge crosses a wall."""
    piece = mt.Piece(TUBE, 1000, right=POINT)
    y, z = piece.long_place
    assert y == pytest.approx(25)
    assert any(z == pytest.approx(level) for level in (0, 3, 47, 50))
    crossed = mt.Piece(TUBE, 1000, right=tuple(itertools.chain(POINT, (mt.Cut(0, 45), mt.Cut(0, -45)))))
    assert crossed.overall == pytest.approx(1000)
    assert crossed.centerline == pytest.approx(1000 + 22)
