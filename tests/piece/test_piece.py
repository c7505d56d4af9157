"""Pieces by hand: trapezoids, parallelograms and compound ends of simple bars; what is refused; poses by family."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.piece import AT, POSES

R2, R3 = math.sqrt(2), math.sqrt(3)
SQUARE, MITER, RAKE = mt.Cut(), mt.Cut(45), mt.Cut(-45)

BAR = mt.flat(80, 12)
TUBE = mt.rect_tube(50, 50, 3)
ANGLE = mt.angle(60, 40, 6)
EVEN_ANGLE = mt.angle(50, 50, 5, 7, 3.5)
CHANNEL = mt.channel(40, 80, 5, 6)
BEAM = mt.i_section(55, 100, 4.1, 5.7, 7)

LENGTHS = [
    # section, left, right: long point, short point, centerline, overall, fixed/moving bottom, fixed/moving top
    (BAR, SQUARE, SQUARE, (1000, 1000, 1000, 1000), (1000, 1000, 1000, 1000)),
    (BAR, MITER, MITER, (1000, 840, 920, 1000), (840, 1000, 840, 1000)),
    (BAR, RAKE, RAKE, (1000, 840, 920, 1000), (1000, 840, 1000, 840)),
    (BAR, RAKE, MITER, (1000, 1000, 1000, 1080), (1000, 1000, 1000, 1000)),
    (BAR, SQUARE, MITER, (1000, 920, 960, 1000), (920, 1000, 920, 1000)),
    (BAR, mt.Cut(0, 45), mt.Cut(0, 45), (1000, 976, 988, 1000), (976, 976, 1000, 1000)),
    (BAR, SQUARE, mt.Cut(0, -45), (1000, 988, 994, 1000), (1000, 1000, 988, 988)),
    (BAR, mt.Cut(0, 45), RAKE, (1000, 908, 954, 1000), (988, 908, 1000, 920)),
    (BAR, mt.Cut(0, 45), mt.Cut(0, -45), (1000, 1000, 1000, 1012), (1000, 1000, 1000, 1000)),
    (BAR, mt.Cut(45), mt.Cut(-45, 45), (1000, 983.0294, 991.5147, 1080), (983.0294, 983.0294, 1000, 1000)),
    (TUBE, MITER, MITER, (1000, 900, 950, 1000), (900, 1000, 900, 1000)),
]


@pytest.mark.parametrize(("section", "left", "right", "lengths", "edges"), LENGTHS)
def test_lengths(
    section: mt.Section,
    left: mt.Cut,
    right: mt.Cut,
    lengths: tuple[float, ...],
    edges: tuple[float, float, float, float],
) -> None:
    """Between parallel cuts tip to tip is more than the longest line, by the width or by the height. Last row: the
    miters are parallel and the bevel, q = sqrt 2, adds 12 sqrt 2 at the top; the tips lie on either side of the bar."""
    piece = mt.Piece(section, 1000, left, right)
    assert (piece.long_point, piece.short_point, piece.centerline, piece.overall) == pytest.approx(lengths)
    found = piece.edges
    assert (found.fixed_bottom, found.moving_bottom, found.fixed_top, found.moving_top) == pytest.approx(edges)
    assert piece.s == pytest.approx(edges[0])


def test_a_compound_cut_of_a_rounded_tube() -> None:
    """Slopes 1 and sqrt 2 are furthest on the corner arc about (44, 44), radius 6: 44 (1 + sqrt 2) + 6 sqrt 3; nearest
    about (6, 6). The box corner would give 50 (1 + sqrt 2), and the line y = 0, z = 0 has no material."""
    piece = mt.Piece(TUBE, 1000, SQUARE, mt.Cut(45, 45))
    assert piece.long_point - piece.short_point == pytest.approx(38 * (1 + R2) + 12 * R3)
    assert piece.s == pytest.approx(1000 - 44 * (1 + R2) - 6 * R3)
    assert piece.s < piece.short_point - 4
    assert piece.edges.moving_top > piece.long_point + 4


def test_a_compound_cut_of_an_angle() -> None:
    """Furthest is the upper edge of the flat leg's toe, (60, 6): 60 + 6 sqrt 2. The box corner (60, 40) is air."""
    piece = mt.Piece(ANGLE, 1000, SQUARE, mt.Cut(45, 45))
    assert piece.s == pytest.approx(1000 - 60 - 6 * R2)
    assert piece.short_point == pytest.approx(piece.s)
    assert piece.edges.moving_top == pytest.approx(piece.s + 60 + 40 * R2)


@pytest.mark.parametrize(
    ("piece", "volume"),
    [
        (mt.Piece(BAR, 1000, MITER, MITER), 960 * 920),
        (mt.Piece(BAR, 1000, RAKE, MITER), 960 * 1000),
        (mt.Piece(ANGLE, 1000, SQUARE, MITER), 360 * (940 + 30) + 204 * (940 + 3)),
        (mt.Piece(CHANNEL, 1000, SQUARE, MITER), 400 * (960 + 2.5) + 420 * (960 + 22.5)),
    ],
)
def test_volume_and_mass(piece: mt.Piece, volume: float) -> None:
    """Plate by plate, each as long as at its own middle."""
    assert piece.volume == pytest.approx(volume)
    assert piece.mass == pytest.approx(volume * 7.85e-6)


@pytest.mark.parametrize(
    ("at", "length"),
    [
        ("long-point", 1000),
        ("short-point", 840),
        ("centerline", 920),
        ("overall", 1000),
        ("fixed-bottom", 840),
        ("fixed-top", 840),
        ("moving-bottom", 1000),
        ("moving-top", 1000),
    ],
)
def test_measured_anywhere(at: str, length: float) -> None:
    assert mt.Piece(BAR, length, MITER, MITER, at=at).s == pytest.approx(840)


def test_the_places_have_their_words() -> None:
    words = "long-point short-point centerline overall fixed-bottom fixed-top moving-bottom moving-top"
    assert words.split() == list(AT)


# Refused


def test_crossing_cuts() -> None:
    """Two 45s in 80 mm need 160 mm at the long point."""
    says = (
        r"length at long-point: found '150 mm'; .* cross .*, 10 mm past a pointed piece; allowed here: 160 mm or more"
    )
    with pytest.raises(mt.BadInput, match=says):
        mt.Piece(BAR, 150, MITER, MITER)


@pytest.mark.parametrize(
    ("at", "least"),
    [("long-point", 160), ("centerline", 80), ("overall", 160), ("short-point", 0), ("moving-top", 160)],
)
def test_a_pointed_piece_is_legal_and_no_less(at: str, least: float) -> None:
    assert mt.Piece(BAR, least, MITER, MITER, at=at).short_point == pytest.approx(0, abs=1e-9)
    with pytest.raises(mt.BadInput, match=r"cross inside the section|0 or more"):
        mt.Piece(BAR, least - 1e-6, MITER, MITER, at=at)


def test_the_length_that_is_named_as_allowed_is_allowed() -> None:
    with pytest.raises(mt.BadInput, match=r"allowed here: ([\d.]+) mm or more") as caught:
        mt.Piece(TUBE, 60, mt.Cut(40, 10), mt.Cut(35, 20))
    least = float(caught.value.allowed.split(": ")[1].split()[0])
    assert mt.Piece(TUBE, least + 0.001, mt.Cut(40, 10), mt.Cut(35, 20)).short_point < 0.01


@pytest.mark.parametrize("length", [-1, -1e-6, math.nan, math.inf, "1000", None])
def test_no_length(length: float) -> None:
    with pytest.raises(mt.BadInput, match=r"length: found .*; a length must be a number of mm, 0 or more"):
        mt.Piece(BAR, length)


@pytest.mark.parametrize("ends", [(SQUARE, SQUARE), (RAKE, MITER)])
def test_nothing_between_parallel_cuts(ends: tuple[mt.Cut, mt.Cut]) -> None:
    with pytest.raises(mt.BadInput, match=r"length: found '0 mm'; nothing is left between the cuts"):
        mt.Piece(BAR, 0, *ends)


@pytest.mark.parametrize("at", ["long point", "middle", "", "LONG-POINT"])
def test_no_such_place(at: str) -> None:
    with pytest.raises(mt.BadInput, match=r"at: found .*; allowed: long-point, short-point, centerline, overall"):
        mt.Piece(BAR, 1000, at=at)


# Poses and hands


@pytest.mark.parametrize(
    ("section", "poses"),
    [
        (TUBE, POSES),
        (mt.rect_tube(120, 60, 8, 20, 12), POSES),
        (mt.round_tube(60.3, 3.6), POSES),
        (BAR, POSES),
        (BEAM, POSES),
        (BEAM.lay(90), POSES),
        (CHANNEL, ("as-drawn", "end-for-end-rolled")),
        (CHANNEL.lay(90), ("as-drawn", "end-for-end")),
        (mt.tee(60, 60, 7, 7, 8), ("as-drawn", "end-for-end")),
        (EVEN_ANGLE, ("as-drawn",)),
        (EVEN_ANGLE.lay(45), ("as-drawn", "end-for-end")),
        (ANGLE, ("as-drawn",)),
        (mt.rect_tube(60, 40, 3).lay(30), ("as-drawn", "rolled")),
    ],
    ids=lambda value: f"{value.name} at {value.rotation:g}" if isinstance(value, mt.Section) else "",
)
def test_poses_by_family(section: mt.Section, poses: tuple[str, ...]) -> None:
    """A box, a flat, an I may lie four ways; a channel with its web standing or toes up, two; an angle with a leg flat
    only one, in a V two: its one symmetry must be the motion's own."""
    assert mt.Piece(section, 1000, MITER, SQUARE).poses == poses


@pytest.mark.parametrize(
    ("pose", "left", "right"),
    [
        ("as-drawn", (30, 10), (-20, 5)),
        ("end-for-end", (20, 5), (-30, 10)),
        ("rolled", (-30, -10), (20, -5)),
        ("end-for-end-rolled", (-20, -5), (30, -10)),
    ],
)
def test_cuts_in_a_pose(pose: str, left: tuple[float, float], right: tuple[float, float]) -> None:
    """(p_l, p_r) -> (-p_r, -p_l), (-p_l, -p_r), (p_r, p_l); (q_l, q_r) -> (q_r, q_l), (-q_l, -q_r), (-q_r, -q_l)."""
    posed = mt.Piece(TUBE, 1000, mt.Cut(30, 10), mt.Cut(-20, 5)).posed(pose)
    assert (posed.left, posed.right) == (mt.Cut(*left), mt.Cut(*right))


@pytest.mark.parametrize("pose", ["end-for-end", "rolled", "upside down"])
def test_a_pose_that_the_section_does_not_allow(pose: str) -> None:
    with pytest.raises(mt.BadInput, match=rf"pose: found '{pose}'; angle 40x60x6 as it lies allows as-drawn"):
        mt.Piece(ANGLE, 1000, MITER, SQUARE).posed(pose)


def test_the_opposite_hand_of_an_angle() -> None:
    piece = mt.Piece(ANGLE, 1000, MITER, mt.Cut(10, 5))
    other = piece.opposite_hand()
    assert (other.left, other.right, other.section) == (mt.Cut(10, 5), MITER, ANGLE)
    assert other.long_point == pytest.approx(1000)
    assert other.volume == pytest.approx(piece.volume)


@pytest.mark.parametrize(
    ("section", "left", "right", "own"),
    [
        (ANGLE, MITER, MITER, True),
        (ANGLE, MITER, SQUARE, False),
        (ANGLE, MITER, mt.Cut(22.5), False),
        (ANGLE, RAKE, MITER, False),
        (EVEN_ANGLE.lay(45), RAKE, MITER, False),
        (TUBE, MITER, mt.Cut(22.5), True),
        (TUBE, mt.Cut(45, 10), mt.Cut(22.5), False),
        (CHANNEL, MITER, mt.Cut(22.5), True),
        (CHANNEL.lay(90), MITER, mt.Cut(22.5), False),
        (CHANNEL.lay(90), MITER, MITER, True),
    ],
)
def test_its_own_opposite(section: mt.Section, left: mt.Cut, right: mt.Cut, own: bool) -> None:
    """The mirror image end for end swaps the cuts; the piece is its own opposite where a pose swaps them as well: a
    tube turned about its cross axis swaps miters but turns bevels over; a channel with standing web does the same."""
    assert mt.Piece(section, 1000, left, right).is_own_opposite == own


@pytest.mark.parametrize(
    ("left", "right", "own"),
    [
        (mt.Cut(), mt.Cut(20, 30), True),  # a slant at one end alone has no hand in a round bar
        (mt.Cut(20, 30), mt.Cut(20, 30), True),  # both slants in one plane through the axis
        (mt.Cut(30), mt.Cut(-10), True),
        (mt.Cut(30), mt.Cut(0, 30), False),  # a quarter turn to one side is none to the other
    ],
)
def test_a_round_piece_is_its_own_opposite_where_its_slants_lie_in_one_plane(
    left: mt.Cut, right: mt.Cut, own: bool
) -> None:
    assert mt.Piece(mt.round_bar(20), 500, left, right).is_own_opposite == own
