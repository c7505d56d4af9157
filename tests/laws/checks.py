"""The laws as functions that raise AssertionError, so that wrong variants can be held against the very same checks.

Expected values come from the outline's own points and arcs by sampling, quadrature or solid vectors, never from the
formulas that the package uses. Sampling is good to `CHORD_ERROR`; quadrature to 1e-9 relative.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

import mitertool as mt
from mitertool.base.tolerances import CROSSING
from mitertool.frame import Corner
from mitertool.geometry import Arc, Line
from tests.laws.quadrature import integral_over_height, walked
from tests.specimens import outline_points, scanline

CHORD_ERROR = 1e-3
"""mm. How far the sampled outline may lie inside an arc."""

TINY = 1e-9
"""Relative rounding of sums of products of lengths and slopes, and of the quadrature."""

Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def same(found: float, expected: float, scale: float = 1.0) -> None:
    """Equal to 1e-9 of the larger of `scale` and the value itself."""
    assert abs(found - expected) <= TINY * max(scale, abs(expected)), f"{found!r} where {expected!r} is right"


def reaches(found: float, sampled: float, slack: float) -> None:
    """Never short of what a sample reaches, and beyond it by no more than the sampling may miss."""
    assert sampled - TINY * max(1.0, abs(sampled)) <= found <= sampled + slack + TINY * max(1.0, abs(sampled)), (
        f"{found!r} where samples reach {sampled!r}, at most {slack:.2g} short"
    )


@cache
def sampled_outline(section: mt.Section) -> Array:
    """Points (y, z) of all loops, one a row."""
    return np.array([p for loop in outline_points(section, CHORD_ERROR) for p in loop])


def _sampled(section: mt.Section, p: float, q: float) -> Array:
    y, z = sampled_outline(section).T
    return np.asarray(p * y + q * z)


# Lengths


def check_support(section: mt.Section, p: float, q: float) -> None:
    """The furthest material in a direction is on an arc where an arc is furthest."""
    reaches(section.support(p, q), float(_sampled(section, p, q).max()), CHORD_ERROR * math.hypot(p, q))


def check_long_point(piece: mt.Piece) -> None:
    """The longest line that has material on it."""
    p, q = piece.left.p + piece.right.p, piece.left.q + piece.right.q
    lengths = piece.s + _sampled(piece.section, p, q)
    reaches(piece.long_point, float(lengths.max()), CHORD_ERROR * math.hypot(p, q))


def check_short_point(piece: mt.Piece) -> None:
    """The shortest line that has material on it."""
    p, q = piece.left.p + piece.right.p, piece.left.q + piece.right.q
    lengths = piece.s + _sampled(piece.section, p, q)
    reaches(-piece.short_point, float(-lengths.min()), CHORD_ERROR * math.hypot(p, q))


def check_overall(piece: mt.Piece) -> None:
    """Largest x less smallest x over the material of both faces."""
    left, right = piece.left, piece.right
    tips = _sampled(piece.section, right.p, right.q).max() + _sampled(piece.section, left.p, left.q).max()
    slack = CHORD_ERROR * (math.hypot(left.p, left.q) + math.hypot(right.p, right.q))
    reaches(piece.overall, float(piece.s + tips), slack)


def check_order_of_lengths(piece: mt.Piece) -> None:
    """short point <= centerline <= long point <= overall.

    The middle of a bounding box always lies in the convex hull of what touches its four sides (a line that leaves
    it out would leave out a whole side), so the length there lies between the extremes. The line y = 0, z = 0 has
    no such place in the order.
    """
    slack = TINY * max(1.0, piece.overall)
    assert piece.short_point <= piece.centerline + slack
    assert piece.centerline <= piece.long_point + slack
    assert piece.long_point <= piece.overall + slack


def check_length_is_linear(piece: mt.Piece) -> None:
    """L is linear, is s in the corner of the box, and runs between the two planes."""
    width, height = piece.section.width, piece.section.height
    for y, z in ((0.0, 0.0), (width, height), (width / 3, height / 7)):
        left = -piece.left.p * y - piece.left.q * z
        right = piece.s + piece.right.p * y + piece.right.q * z
        same(piece.length_at(y, z), right - left, piece.overall)
    middle = (piece.length_at(0, height) + piece.length_at(width, 0)) / 2
    same(middle, piece.length_at(width / 2, height / 2), piece.overall)
    same(piece.centerline, middle, piece.overall)
    edges = piece.edges
    corners = ((0.0, 0.0), (0.0, height), (width, 0.0), (width, height))
    named = (edges.fixed_bottom, edges.fixed_top, edges.moving_bottom, edges.moving_top)
    for found, (y, z) in zip(named, corners, strict=True):
        same(found, piece.length_at(y, z), piece.overall)


def check_every_basis_gives_the_same_piece(piece: mt.Piece) -> None:
    """A length measured anywhere, given back as measured there, is the same piece.

    A line of the box that has no material may be shorter than nothing; nobody measures on it.
    """
    scale = max(1.0, piece.overall)
    for at, length in measured(piece).items():
        if length >= 0:
            again = mt.Piece(piece.section, length, piece.left, piece.right, at=at)
            assert abs(again.s - piece.s) <= TINY * scale, f"{at}: s = {again.s!r}, not {piece.s!r}"


def measured(piece: mt.Piece) -> dict[str, float]:
    """Every length by the word for where it is measured."""
    edges = piece.edges
    return {
        "long-point": piece.long_point,
        "short-point": piece.short_point,
        "centerline": piece.centerline,
        "overall": piece.overall,
        "fixed-bottom": edges.fixed_bottom,
        "fixed-top": edges.fixed_top,
        "moving-bottom": edges.moving_bottom,
        "moving-top": edges.moving_top,
    }


def check_crossing_cuts_are_refused(piece: mt.Piece) -> None:
    """A pointed piece is made, one shorter by 1e-6 mm is not; between parallel cuts nothing is pointed."""
    if piece.long_point - piece.short_point < CROSSING:
        assert refused(lambda: mt.Piece(piece.section, 0.0, piece.left, piece.right, at="short-point"))
        return
    assert not refused(lambda: mt.Piece(piece.section, 0.0, piece.left, piece.right, at="short-point"))
    pointed = mt.Piece(piece.section, 0.0, piece.left, piece.right, at="short-point")
    assert abs(pointed.short_point) <= TINY * max(1.0, pointed.overall)
    again = mt.Piece(piece.section, pointed.long_point, piece.left, piece.right, at="long-point")
    assert abs(again.short_point) <= TINY * max(1.0, pointed.overall)
    shorter = pointed.long_point - 1e-6
    assert refused(lambda: mt.Piece(piece.section, shorter, piece.left, piece.right, at="long-point"))


def refused(make: Callable[[], object]) -> bool:
    """Whether `make` is refused as bad input."""
    try:
        make()
    except mt.BadInput:
        return True
    return False


# Volume


def check_volume(piece: mt.Piece) -> None:
    """The length s + p*y + q*z integrated over the material, line by line, is the volume."""
    p, q = piece.left.p + piece.right.p, piece.left.q + piece.right.q
    area, along_y, along_z = integrals(piece.section)
    same(piece.volume, piece.s * area + p * along_y + q * along_z, piece.section.area * piece.overall)


@cache
def integrals(section: mt.Section) -> tuple[float, float, float]:
    """Integrals of 1, y and z over the material by scanlines, mm2 and mm3."""

    def of(line: Callable[[float, float, float], float]) -> float:
        return integral_over_height(section, lambda z: sum(line(a, b, z) for a, b in scanline(section, z)))

    return of(lambda a, b, z: b - a), of(lambda a, b, z: (b * b - a * a) / 2), of(lambda a, b, z: (b - a) * z)


def check_split(section: mt.Section, length: float, cut: mt.Cut, position: float, kerf: float, side: str) -> None:
    """Kept, kerf and drop are the bar; the kerf is as thick as the blade; it falls on the side that is named."""
    parts = mt.split(section, length, cut, position, kerf, side)
    chips = parts.kerf.volume if parts.kerf else 0.0
    scale = section.area * length
    same(parts.kept.volume + chips + parts.drop.volume, scale)
    same(chips, cut.face(section).area * kerf, scale)
    along = chips / section.area
    same(parts.kept.centerline + along + parts.drop.centerline, length)
    taken = {"keep": along, "drop": 0.0, "shared": along / 2}[side]
    same(parts.kept.centerline, position - taken, length)
    assert (parts.kept.right.p, parts.kept.right.q) == (-parts.drop.left.p, -parts.drop.left.q)


# The plane and its face


def check_plane(cut: mt.Cut) -> None:
    """The plane holds the blade's line, swung by the miter, and the line up the blade, tilted by the bevel about it."""
    m, b = math.radians(cut.miter), math.radians(cut.bevel)
    scale = max(1.0, cut.p**2 + cut.q**2)
    for x, y, z in (
        (math.sin(m), math.cos(m), 0.0),
        (math.sin(b) * math.cos(m), -math.sin(b) * math.sin(m), math.cos(b)),
    ):
        same(cut.p * y + cut.q * z, x, scale)


def check_slopes_round_trip(cut: mt.Cut) -> None:
    """Angles to slopes to angles."""
    again = mt.Cut.from_slopes(cut.p, cut.q)
    same(again.miter, cut.miter, 1.0)
    same(again.bevel, cut.bevel, 1.0)


def check_face_area(face: mt.Face) -> None:
    """The contact integrated over the height of the face is its area.

    Within 1e-7 mm of a level side the contact counts the material on either side of it; lines keep clear of that.
    """
    whole = integral_over_height(face.section, face.contact, clear=2e-7) / math.cos(math.radians(face.cut.bevel))
    same(face.area, whole)


def check_face_perimeter(face: mt.Face) -> None:
    """Every outline walked in the plane."""
    same(face.perimeter, sum(walked(s, face.cut.p, face.cut.q) for s in face.section.region.segments))


def check_face_size(face: mt.Face) -> None:
    """Extent of the points of the face along the blade and up the face, by solid vectors."""
    m, b = math.radians(face.cut.miter), math.radians(face.cut.bevel)
    y, z = sampled_outline(face.section).T
    x = face.cut.p * y + face.cut.q * z
    along = x * math.sin(m) + y * math.cos(m)
    up = x * math.sin(b) * math.cos(m) - y * math.sin(b) * math.sin(m) + z * math.cos(b)
    slack = 2 * CHORD_ERROR * math.hypot(1, face.cut.p, face.cut.q)
    reaches(face.width, float(np.ptp(along)), slack)
    reaches(face.height, float(np.ptp(up)), slack)


def check_contact(face: mt.Face, heights: Sequence[float]) -> None:
    """Contact is the chords of a scanline on the slant; the largest is none of the smaller ones."""
    slant = 1 / math.cos(math.radians(face.cut.miter))
    for z in heights:
        chords = sum(b - a for a, b in scanline(face.section, z)) * slant
        same(face.contact(z), chords, 1e3)
        assert face.largest_contact >= chords - TINY * max(1.0, chords)


# Hands and poses


def check_opposite_hand(piece: mt.Piece) -> None:
    """The mirror image in a plane square to the bar: the section stays, x changes its sign, left becomes right."""
    other = piece.opposite_hand()
    same_planes(other, lambda y, z: (-_right(piece, y, z), -_left(piece, y, z)), piece)


def check_pose(piece: mt.Piece, pose: str) -> None:
    """A pose is a half turn of the solid: the planes turn with it, and the section turns into itself."""
    width, height = piece.section.width, piece.section.height
    turns: dict[str, tuple[int, int, int]] = {
        "as-drawn": (1, 1, 1),
        "end-for-end": (-1, -1, 1),
        "rolled": (1, -1, -1),
        "end-for-end-rolled": (-1, 1, -1),
    }
    along, across, up = turns[pose]
    assert along * across * up == 1, "a mirror image is no pose"

    def planes(y: float, z: float) -> tuple[float, float]:
        was = (y if across > 0 else width - y, z if up > 0 else height - z)
        left, right = _left(piece, *was), _right(piece, *was)
        return (left, right) if along > 0 else (-right, -left)

    same_planes(piece.posed(pose), planes, piece)
    for y, z in sampled_outline(piece.section)[::7]:
        turned = (y if across > 0 else width - y, z if up > 0 else height - z)
        assert distance_to_outline(piece.section, *turned) <= 1e-6
    for kind in ("volume", "long_point", "short_point", "overall", "centerline"):
        same(getattr(piece.posed(pose), kind), getattr(piece, kind), max(1.0, piece.overall, piece.volume))


def check_rolled_with_its_planes(piece: mt.Piece, roll: float) -> None:
    """Bar and planes rolled together by `roll` degrees are the same piece."""
    t = math.radians(roll)

    def rolled(cut: mt.Cut) -> mt.Cut:
        return mt.Cut.from_slopes(cut.p * math.cos(t) - cut.q * math.sin(t), cut.p * math.sin(t) + cut.q * math.cos(t))

    laid = piece.section.lay(roll)
    other = mt.Piece(laid, piece.long_point, rolled(piece.left), rolled(piece.right), at="long-point")
    scale = 10 * max(1.0, piece.overall)
    for kind in ("short_point", "overall"):
        same(getattr(other, kind), getattr(piece, kind), scale)
    same(other.volume, piece.volume, piece.section.area * scale)


def check_turned_end_for_end(piece: mt.Piece) -> None:
    """A bar turned end for end shows its section mirrored, and its cuts on the other ends with miters reversed."""
    turned = mt.Piece(
        piece.section.lay(0, turned=True),
        piece.centerline,
        mt.Cut(-piece.right.miter, piece.right.bevel),
        mt.Cut(-piece.left.miter, piece.left.bevel),
        at="centerline",
    )
    for kind in ("long_point", "short_point", "overall"):
        same(getattr(turned, kind), getattr(piece, kind), piece.overall)
    same(turned.volume, piece.volume, piece.section.area * piece.overall)


def check_swings(saw: mt.Saw) -> None:
    """Fixed jaw left, square reads 90 and grows to the feed side: a right +45 reads 135, a left +45 reads 45."""
    angle = mt.angle(50, 50, 5)
    for end, swing, side, reading in (("right", 45, "feed", 135), ("left", -45, "discharge", 45)):
        reach = saw.reach(angle, mt.Cut(45), end)
        assert (reach.swing, reach.side, reach.scale) == (swing, side, reading)


def check_corner(joint: Corner) -> None:
    """Both members show the same seam, and their miters make up the turn of the corner."""
    same(joint.miter_a + joint.miter_b, 180 - joint.angle, 180)
    for width, miter in ((joint.width_a, joint.miter_a), (joint.width_b, joint.miter_b)):
        same(joint.seam * math.cos(math.radians(miter)), width, joint.seam)


def same_planes(found: mt.Piece, planes: Callable[[float, float], tuple[float, float]], piece: mt.Piece) -> None:
    """The left and right plane of `found` are `planes`, all shifted alike along the bar."""
    assert found.section == piece.section
    width, height = piece.section.width, piece.section.height
    shift = _left(found, 0, 0) - planes(0, 0)[0]
    for y, z in itertools.product((0.0, width), (0.0, height)):
        left, right = planes(y, z)
        same(_left(found, y, z), left + shift, max(1.0, piece.overall))
        same(_right(found, y, z), right + shift, max(1.0, piece.overall))


def _left(piece: mt.Piece, y: float, z: float) -> float:
    return -piece.left.p * y - piece.left.q * z


def _right(piece: mt.Piece, y: float, z: float) -> float:
    return piece.s + piece.right.p * y + piece.right.q * z


def distance_to_outline(section: mt.Section, y: float, z: float) -> float:
    """How far a point is from the outline, mm."""
    return min(_distance(segment, y, z) for segment in section.region.segments)


def _distance(segment: Line | Arc, y: float, z: float) -> float:
    if isinstance(segment, Line):
        (y0, z0), (y1, z1) = segment.start, segment.end
        dy, dz = y1 - y0, z1 - z0
        share = min(1.0, max(0.0, ((y - y0) * dy + (z - z0) * dz) / (dy * dy + dz * dz)))
        return math.hypot(y - y0 - share * dy, z - z0 - share * dz)
    (cy, cz), r = segment.center, segment.radius
    turn = math.atan2(z - cz, y - cy)
    way = (turn - segment.begin if segment.sweep > 0 else segment.begin - turn) % (2 * math.pi)
    if way <= abs(segment.sweep):
        return abs(math.hypot(y - cy, z - cz) - r)
    ends = (segment.begin, segment.begin + segment.sweep)
    return min(math.hypot(y - cy - r * math.cos(t), z - cz - r * math.sin(t)) for t in ends)
