"""Every way this goes wrong, put into the engine on purpose: the checks of the suite must turn red.

Each variant changes one thing of the package to what a hasty hand would write. Its checks are the functions that the
other tests use; they pass on the package as it is and must fail on the variant.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

import pytest

import mitertool as mt
from mitertool.frame import Corner
from mitertool.geometry import Arc, Line, Point
from mitertool.geometry.hull import HullDiscs
from mitertool.geometry.roof import Slant
from mitertool.saw import Reach, Scale
from tests.laws import checks
from tests.laws.bands import bands, chord
from tests.laws.reassembly import Plate, misfit, outer_corners
from tests.published.solid_kernel import CASES, check_value
from tests.specimens import LAID, heights

Check = Callable[[], None]
Patch = Callable[[pytest.MonkeyPatch], None]

TUBE = LAID["rectangular tube, as made"]
ANGLE = LAID["unequal angle, as made"]
CHANNEL = LAID["tapered channel, as made"]
COMPOUND = (mt.Cut(30, 20), mt.Cut(45, 30))
PARALLEL = (mt.Cut(-45), mt.Cut(45))
UNLIKE = (mt.Cut(45), mt.Cut(10, 5))


@dataclass(frozen=True)
class Variant:
    """A wrong engine and the checks that see it."""

    patch: Patch
    seen_by: tuple[Check, ...]


def on(check: Callable[..., None], section: mt.Section, ends: tuple[mt.Cut, mt.Cut], *more: Any) -> Check:
    """`check` of a piece made when the check runs, so that no cut has kept a number from before."""
    return lambda: check(mt.Piece(section, 700.0, afresh(ends[0]), afresh(ends[1]), at="fixed-bottom"), *more)


def of_face(check: Callable[..., None], section: mt.Section, cut: mt.Cut, *more: Any) -> Check:
    return lambda: check(afresh(cut).face(section), *more)


def afresh(cut: mt.Cut) -> mt.Cut:
    return mt.Cut(cut.miter, cut.bevel)


def kernel(case: str, name: str) -> Check:
    return partial(check_value, CASES[case], name)


def with_attribute(owner: type, name: str, value: Any) -> Patch:
    return lambda monkeypatch: monkeypatch.setattr(owner, name, value)


# Wrong lengths


def box_corner(piece: mt.Piece, best: Callable[..., float]) -> float:
    edges = piece.edges
    return best(edges.fixed_bottom, edges.fixed_top, edges.moving_bottom, edges.moving_top)


def one_miter_for_both(left: Slant, right: Slant) -> Slant:
    return Slant(right.p - left.p, left.q + right.q, left.o + right.o)


def only_ends_of_arcs(arc: Arc, p: float, q: float) -> Point:
    return Line(arc.start, arc.end).support_point(p, q)


def only_centers(hull: HullDiscs, p: float, q: float) -> float:
    return max(abs(y * p + z * q) for _, points in hull.discs for y, z in points)


# Wrong volumes


def mean_of_long_and_short(piece: mt.Piece) -> float:
    return piece.section.area * (piece.long_point + piece.short_point) / 2


def area_times_centerline(piece: mt.Piece) -> float:
    return piece.section.area * piece.centerline


# Wrong faces


def width_over_cosine(face: mt.Face) -> float:
    return face.section.width / math.cos(math.radians(face.cut.miter))


def scaled_like_an_area(face: mt.Face) -> float:
    return face.section.perimeter * face.cut.stretch


def height_times_stretch(face: mt.Face) -> float:
    return face.section.height * face.cut.stretch


def tangent_of_bevel(cut: mt.Cut) -> float:
    return math.tan(math.radians(cut.bevel))


def square_chord(face: mt.Face, z: float) -> float:
    return chord(bands(face.section.region), z)


def sampled_contact(face: mt.Face) -> float:
    return max(face.contact(face.section.height * i / 20) for i in range(1, 20))


def kerf_without_bevel(cut: mt.Cut, kerf: float) -> float:
    return kerf / math.cos(math.radians(cut.miter))


# Wrong hands and lays


def opposite_by_turning(piece: mt.Piece) -> mt.Piece:
    left, right = mt.Cut(-piece.right.miter, piece.right.bevel), mt.Cut(-piece.left.miter, piece.left.bevel)
    return mt.Piece(piece.section, piece.centerline, left, right, at="centerline")


def opposite_by_mirroring_across(piece: mt.Piece) -> mt.Piece:
    left, right = mt.Cut(-piece.left.miter, piece.left.bevel), mt.Cut(-piece.right.miter, piece.right.bevel)
    return mt.Piece(piece.section, piece.centerline, left, right, at="centerline")


def opposite_of_a_mirrored_bar(piece: mt.Piece) -> mt.Piece:
    return mt.Piece(piece.section.lay(0, turned=True), piece.centerline, piece.right, piece.left, at="centerline")


def pose_without_reversal(piece: mt.Piece, pose: str) -> mt.Piece:
    return mt.Piece(piece.section, piece.centerline, piece.right, piece.left, at="centerline")


RIGHT_LAY = mt.Section.lay
RIGHT_REACH = mt.Saw.reach
RIGHT_SPLIT = mt.split


def rolled_clockwise(section: mt.Section, rotation: float = 0, turned: bool = False) -> mt.Section:
    return RIGHT_LAY(section, -rotation, turned)


def never_mirrored(section: mt.Section, rotation: float = 0, turned: bool = False) -> mt.Section:
    return RIGHT_LAY(section, rotation)


def mirrored_along_the_bar(saw: mt.Saw, section: mt.Section, cut: mt.Cut, end: str = "right") -> Reach:
    return RIGHT_REACH(saw, section, cut, {"left": "right", "right": "left"}[end])


def kerf_on_the_other_side(
    section: mt.Section, length: float, cut: mt.Cut, position: float, kerf: float, side: str = "drop"
) -> mt.Split:
    other = {"keep": "drop", "drop": "keep", "shared": "shared"}[side]
    return RIGHT_SPLIT(section, length, cut, position, kerf, other)


def split_check(cut: mt.Cut, side: str) -> Check:
    return lambda: checks.check_split(ANGLE, 2000.0, cut, 900.0, 1.3, side)


VARIANTS: dict[str, Variant] = {
    "long point at a corner of the box": Variant(
        with_attribute(mt.Piece, "long_point", property(lambda piece: box_corner(piece, max))),
        (
            on(checks.check_long_point, TUBE, COMPOUND),
            on(checks.check_long_point, ANGLE, COMPOUND),
            on(checks.check_every_basis_gives_the_same_piece, ANGLE, COMPOUND),
            kernel("k006", "long_point"),
            kernel("k014", "long_point"),
        ),
    ),
    "short point at a corner of the box": Variant(
        with_attribute(mt.Piece, "short_point", property(lambda piece: box_corner(piece, min))),
        (
            on(checks.check_short_point, TUBE, COMPOUND),
            on(checks.check_crossing_cuts_are_refused, TUBE, COMPOUND),
            kernel("k006", "short_point"),
        ),
    ),
    "s as the short point": Variant(
        with_attribute(mt.Piece, "short_point", property(lambda piece: piece.s)),
        (
            on(checks.check_short_point, TUBE, COMPOUND),
            on(checks.check_short_point, ANGLE, (mt.Cut(-20), mt.Cut(-30))),
            kernel("k006", "short_point"),
            kernel("k030", "short_point"),
        ),
    ),
    "the ends of an arc as its furthest points": Variant(
        with_attribute(Arc, "support_point", only_ends_of_arcs),
        (lambda: checks.check_support(LAID["round tube, at 5.8"], 1.0, 0.5),),
    ),
    "the center of a rounded corner as its furthest point": Variant(
        with_attribute(HullDiscs, "_half", only_centers),
        (
            on(checks.check_long_point, TUBE, COMPOUND),
            of_face(checks.check_face_size, TUBE, mt.Cut(-30, 20)),
            kernel("k082", "long_point"),
            kernel("k034", "tip_to_tip"),
        ),
    ),
    "tip to tip as the long point": Variant(
        with_attribute(mt.Piece, "long_point", property(lambda piece: piece.overall)),
        (on(checks.check_long_point, TUBE, PARALLEL), kernel("k010", "long_point"), kernel("k034", "long_point")),
    ),
    "the long point as tip to tip": Variant(
        with_attribute(mt.Piece, "overall", property(lambda piece: piece.long_point)),
        (on(checks.check_overall, TUBE, PARALLEL), kernel("k010", "tip_to_tip"), kernel("k026", "tip_to_tip")),
    ),
    "the left cut signed like the right": Variant(
        with_attribute(Slant, "plus", one_miter_for_both),
        (
            on(checks.check_long_point, TUBE, COMPOUND),
            on(checks.check_length_is_linear, TUBE, COMPOUND),
            kernel("k058", "long_point"),
        ),
    ),
    "crossing cuts accepted": Variant(
        with_attribute(mt.Piece, "__attrs_post_init__", lambda piece: None),
        (
            on(checks.check_crossing_cuts_are_refused, TUBE, (mt.Cut(45), mt.Cut(45))),
            on(checks.check_crossing_cuts_are_refused, ANGLE, COMPOUND),
        ),
    ),
    "volume from the mean of long and short": Variant(
        with_attribute(mt.Piece, "volume", property(mean_of_long_and_short)),
        (
            on(checks.check_volume, ANGLE, COMPOUND),
            on(checks.check_volume, CHANNEL, UNLIKE),
            kernel("k054", "volume"),
            kernel("k086", "volume"),
        ),
    ),
    "volume from the centerline": Variant(
        with_attribute(mt.Piece, "volume", property(area_times_centerline)),
        (on(checks.check_volume, ANGLE, COMPOUND), kernel("k050", "volume"), kernel("k086", "volume")),
    ),
    "face width from the miter alone": Variant(
        with_attribute(mt.Face, "width", property(width_over_cosine)),
        (
            of_face(checks.check_face_size, ANGLE, mt.Cut(45, 30)),
            of_face(checks.check_face_size, TUBE, mt.Cut(-30, 20)),
            kernel("k006", "face_width_r"),
            kernel("k054", "face_width_r"),
        ),
    ),
    "face height stretched by both angles": Variant(
        with_attribute(mt.Face, "height", property(height_times_stretch)),
        (of_face(checks.check_face_size, TUBE, mt.Cut(45, 30)), kernel("k006", "face_height_r")),
    ),
    "q as the tangent of the bevel": Variant(
        with_attribute(mt.Cut, "q", property(tangent_of_bevel)),
        (
            lambda: checks.check_plane(mt.Cut(45, 30)),
            lambda: checks.check_slopes_round_trip(mt.Cut(45, 30)),
            of_face(checks.check_face_area, TUBE, mt.Cut(45, 30)),
            kernel("k006", "cut_area_r"),
            kernel("k018", "long_point"),
        ),
    ),
    "perimeter scaled like an area": Variant(
        with_attribute(mt.Face, "perimeter", property(scaled_like_an_area)),
        (of_face(checks.check_face_perimeter, TUBE, mt.Cut(45)), kernel("k006", "cut_perimeter_r")),
    ),
    "contact measured square to the bar": Variant(
        with_attribute(mt.Face, "contact", square_chord),
        (
            of_face(checks.check_contact, TUBE, mt.Cut(45), heights(TUBE, 3)),
            of_face(checks.check_face_area, TUBE, mt.Cut(45)),
            kernel("k006", "contact_25_r"),
        ),
    ),
    "largest contact sampled": Variant(
        with_attribute(mt.Face, "largest_contact", property(sampled_contact)),
        (of_face(checks.check_contact, TUBE, mt.Cut(45), heights(TUBE, 12)), kernel("k006", "contact_max_r")),
    ),
    "kerf along the bar without the bevel": Variant(
        with_attribute(mt.Cut, "kerf_along", kerf_without_bevel),
        (split_check(mt.Cut(30, 20), "drop"), split_check(mt.Cut(0, 45), "shared")),
    ),
    "kerf on the other side": Variant(
        lambda monkeypatch: monkeypatch.setattr(mt, "split", kerf_on_the_other_side, raising=False),
        (split_check(mt.Cut(45), "keep"), split_check(mt.Cut(), "drop")),
    ),
    "opposite hand by turning the bar": Variant(
        with_attribute(mt.Piece, "opposite_hand", opposite_by_turning),
        (on(checks.check_opposite_hand, ANGLE, UNLIKE), on(checks.check_opposite_hand, TUBE, UNLIKE)),
    ),
    "opposite hand mirrored across the bar": Variant(
        with_attribute(mt.Piece, "opposite_hand", opposite_by_mirroring_across),
        (on(checks.check_opposite_hand, ANGLE, UNLIKE),),
    ),
    "opposite hand of a mirrored bar": Variant(
        with_attribute(mt.Piece, "opposite_hand", opposite_of_a_mirrored_bar),
        (on(checks.check_opposite_hand, ANGLE, UNLIKE),),
    ),
    "turned end for end with its miters kept": Variant(
        with_attribute(mt.Piece, "posed", pose_without_reversal),
        (on(checks.check_pose, TUBE, UNLIKE, "end-for-end"),),
    ),
    "rolled the other way round": Variant(
        with_attribute(mt.Section, "lay", rolled_clockwise),
        (on(checks.check_rolled_with_its_planes, ANGLE, UNLIKE, 90),),
    ),
    "turned end for end without showing its other side": Variant(
        with_attribute(mt.Section, "lay", never_mirrored),
        (on(checks.check_turned_end_for_end, ANGLE, UNLIKE),),
    ),
    "x mirrored: swings of the opposite hand": Variant(
        with_attribute(mt.Saw, "reach", mirrored_along_the_bar),
        (lambda: checks.check_swings(mt.Saw(name="made up", scale=Scale(square=90))),),
    ),
}


@pytest.mark.parametrize("name", VARIANTS)
def test_the_checks_pass_on_the_package_as_it_is(name: str) -> None:
    for check in VARIANTS[name].seen_by:
        check()


@pytest.mark.parametrize("name", VARIANTS)
def test_every_check_sees_the_variant(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    variant = VARIANTS[name]
    variant.patch(monkeypatch)
    for check in variant.seen_by:
        with pytest.raises(AssertionError):
            check()


@pytest.mark.parametrize("wrong", [opposite_by_turning, opposite_by_mirroring_across, opposite_of_a_mirrored_bar])
def test_totals_of_a_tube_do_not_see_a_wrong_hand(wrong: Callable[[mt.Piece], mt.Piece]) -> None:
    """Why hands are checked by their planes and with an angle: on a tube every total still adds up."""
    piece = mt.Piece(TUBE, 700.0, *UNLIKE)
    for kind in ("volume", "long_point", "short_point", "overall"):
        checks.same(getattr(wrong(piece), kind), getattr(piece, kind), 1000)


# Wrong frames: data, not engine


def test_equal_miters_for_unequal_members_are_no_corner() -> None:
    with pytest.raises(AssertionError):
        checks.check_corner(Corner(40.0, 80.0, 90.0, 45.0, 45.0, 80 * math.sqrt(2)))


def test_equal_miters_for_unequal_members_do_not_close() -> None:
    assert misfit([Plate(1000, 50, 45, 45), Plate(800, 80, 45, 45)] * 2) > 40


def test_a_root_gap_taken_off_along_the_bar_makes_another_size() -> None:
    """Half the gap has to be taken square to the seam, 1/cos of it along the bar."""
    corners = outer_corners([Plate(1000 - 2, 50, 45, 45)] * 4, root_gap=2)
    assert abs(corners[1]) == pytest.approx(1000 - 2 + 2 * math.sqrt(2))
