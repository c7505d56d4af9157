"""The pictures of an end against their planes: right cut x = p*y + q*z, left cut x = -p*y - q*z, fixed side y = 0.

The map from the bar to the paper is found from the picture of a plain block, whose six seen corners at the broken end
and on the rim are known; what the picture of any section must show then follows from the outline and from rays cast
through the solid, with nothing of the package but the ends, centers, radii and angles of the outline.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely import LineString
from shapely import Polygon as Shape

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.drawing import Drawing, Line, Polygon, Text
from mitertool.packet.pages.sheet.pictorial import end_picture
from tests.often import times
from tests.packet.text_boxes import overlaps, struck, too_small
from tests.specimens import LAID, SPECIMENS, lays_of, outline_points

Draw = Callable[[mt.Section, mt.Cut, str, float, float], Drawing]
Vector = NDArray[np.float64]

ENDS = ("left", "right")
SIGNS = list(itertools.product((1, -1), (1, -1)))
CUTS = [
    *(mt.Cut(miter * m, bevel * b) for m, b in SIGNS for miter, bevel in ((30, 20), (60, 40))),
    *(mt.Cut(45 * m, 0) for m in (1, -1)),
    *(mt.Cut(0, 25 * b) for b in (1, -1)),
]
STEEP = [mt.Cut(80 * m, 75 * b) for m, b in SIGNS]
BOX = (62.0, 45.0)
FACE, HOLE, SIDE = 0.85, 0.6, 1.0
WELL = 0.4
"""How large a face is seen at least, in areas of its section: a slope lets no view toward it show more than 1."""

LETTERS = 2.8
"""mm: lettering that is read at arm's length; the greys above tell the cut face and the hole behind it from a side,
which is left white (common practice, no source)."""

BLOCK = mt.flat(80, 50)
CORNERS = ((80.0, 50.0), (0.0, 50.0), (0.0, 0.0))
"""(y, z) of the block's edges that are seen, along its outline: far top, near top, near bottom."""

CHORD = 0.004
"""The most that an area or a place may be off, in parts: a chord that turns 6 degrees stands off an arc by 0.14 % of
its radius and takes 0.18 % off a disk; doubled for what the fit by the bounding box adds."""


def out_of(end: str) -> float:
    return 1.0 if end == "right" else -1.0


def some_lays(name: str) -> list[mt.Section]:
    """A specimen as made, end for end on its side, and at an odd angle."""
    return list(lays_of(name))[::3]


def filled(drawing: Drawing, grey: float) -> list[Vector]:
    return [np.array(e.points) for e in drawing.entities if isinstance(e, Polygon) and e.fill == grey]


def shoelace(points: Vector) -> float:
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def broken_and_rim(side: Vector) -> tuple[Vector, Vector]:
    """A side as it is drawn: along the broken end, then back along the rim."""
    half = len(side) // 2
    return side[:half], side[half:][::-1]


@dataclass(frozen=True)
class Map:
    """Paper place of a point of the bar: columns of `axes` for x, y, z, and the place of the origin."""

    axes: Vector
    origin: Vector

    def rim(self, yz: Vector, cut: mt.Cut, end: str) -> Vector:
        """Where places (y, z) stand on the cut, by the plane."""
        x = out_of(end) * (cut.p * yz[:, 0] + cut.q * yz[:, 1])
        return np.column_stack((x, yz)) @ self.axes.T + self.origin

    @property
    def toward(self) -> Vector:
        """The direction to the eye: to the right times up the paper."""
        return np.cross(self.axes[0], self.axes[1])


def block_map(draw: Draw, cut: mt.Cut, end: str) -> Map:
    """The map found from the block; its x axis from the slopes of the rim against the broken end, which is square."""
    (side,) = filled(draw(BLOCK, cut, end, *BOX), SIDE)
    (far, top, low), (rim_far, rim_top, rim_low) = broken_and_rim(side)
    y, z = (far - top) / BLOCK.width, (top - low) / BLOCK.height
    by_p, by_q = (rim_far - rim_top) / BLOCK.width - y, (rim_top - rim_low) / BLOCK.height - z
    x = out_of(end) * (cut.p * by_p + cut.q * by_q) / (cut.p**2 + cut.q**2)
    assert by_p == pytest.approx(out_of(end) * cut.p * x, abs=1e-9)
    assert by_q == pytest.approx(out_of(end) * cut.q * x, abs=1e-9)
    return Map(np.column_stack((x, y, z)), rim_low)


def fitted_map(drawing: Drawing, section: mt.Section, cut: mt.Cut, end: str) -> Map:
    """The block's map made as large as another section's picture, by the box around its face."""
    block = block_map(end_picture, cut, end)
    outer = np.array(outline_points(section, 1e-3 * max(section.width, section.height))[0])
    ours, theirs = block.rim(outer, cut, end), filled(drawing, FACE)[0]
    axis = int(np.argmax(np.ptp(ours, axis=0)))
    k = np.ptp(theirs, axis=0)[axis] / np.ptp(ours, axis=0)[axis]
    larger = Map(block.axes * k, np.zeros(2))
    return Map(larger.axes, theirs.min(axis=0) - larger.rim(outer, cut, end).min(axis=0))


# --- the direction of view, and which way the face tilts


def check_axes(draw: Draw, cut: mt.Cut, end: str) -> None:
    """x to the right, z up, the eye on the fixed side, above and beyond the end, the projection square."""
    found = block_map(draw, cut, end)
    (xx, _, zx), (_, _, zy) = found.axes
    assert xx > 0
    assert abs(zx) < 1e-9 < zy
    to_x, to_y, to_z = found.toward
    assert to_y < 0 < min(to_z, to_x * out_of(end))
    k = float(np.linalg.norm(found.axes[0]))
    assert found.axes @ found.axes.T == pytest.approx(k * k * np.eye(2), abs=1e-9 * k * k)


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("cut", [*CUTS, *STEEP], ids=str)
def test_the_view_and_the_tilt_of_the_face_are_those_of_the_plane(cut: mt.Cut, end: str) -> None:
    check_axes(end_picture, cut, end)


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("cut", [*CUTS, *STEEP], ids=str)
def test_every_face_turns_well_to_the_eye(cut: mt.Cut, end: str) -> None:
    toward = block_map(end_picture, cut, end).toward
    outward = np.array((out_of(end), -cut.p, -cut.q))
    assert toward @ outward / np.linalg.norm(toward) >= WELL


@pytest.mark.parametrize("cut", CUTS, ids=str)
def test_a_flipped_bevel_and_swapped_ends_are_seen(cut: mt.Cut) -> None:
    def flipped(section: mt.Section, cut: mt.Cut, end: str, width: float, height: float) -> Drawing:
        return end_picture(section, mt.Cut.from_slopes(cut.p, -cut.q), end, width, height)

    def swapped(section: mt.Section, cut: mt.Cut, end: str, width: float, height: float) -> Drawing:
        return end_picture(section, cut, "left" if end == "right" else "right", width, height)

    for end in ENDS:
        if cut.q:
            with pytest.raises(AssertionError):
                check_axes(flipped, cut, end)
        with pytest.raises(AssertionError):
            check_axes(swapped, cut, end)


# --- the rim of the face


@pytest.mark.parametrize("name", SPECIMENS)
def test_the_rim_is_the_affine_image_of_the_outline(name: str) -> None:
    for section, cut, end in itertools.product(some_lays(name), CUTS[:4], ENDS):
        drawing = end_picture(section, cut, end, *BOX)
        found = fitted_map(drawing, section, cut, end)
        loops = [np.array(points) for points in outline_points(section, 1e-5)]
        shown = [*filled(drawing, FACE), *filled(drawing, HOLE)]
        assert len(shown) == len(loops)
        for theirs, yz in zip(shown, loops, strict=True):
            ours = found.rim(yz, cut, end)
            reach = np.ptp(shown[0], axis=0).max()
            assert theirs.min(axis=0) == pytest.approx(ours.min(axis=0), abs=CHORD * reach)
            assert theirs.max(axis=0) == pytest.approx(ours.max(axis=0), abs=CHORD * reach)
            stretched = abs(np.linalg.det(found.rim(np.eye(2), cut, end) - found.origin)) * abs(shoelace(yz))
            assert abs(shoelace(theirs)) == pytest.approx(stretched, rel=2 * CHORD)


@pytest.mark.parametrize("name", SPECIMENS)
def test_the_place_furthest_along_the_bar_is_the_long_point(name: str) -> None:
    for section, cut, end in itertools.product(some_lays(name), [*CUTS[:4], CUTS[-1]], ENDS):
        drawing = end_picture(section, cut, end, *BOX)
        found = fitted_map(drawing, section, cut, end)
        tip = np.array(leader(drawing, "long point").b)
        linear = (found.rim(np.eye(2), cut, end) - found.origin).T
        y, z = np.linalg.solve(linear, tip - found.origin)
        reach = [cut.p * v + cut.q * w for v, w in outline_points(section, 1e-4 * section.height)[0]]
        assert cut.p * y + cut.q * z == pytest.approx(max(reach), abs=0.02 * (max(reach) - min(reach)))


def leader(drawing: Drawing, says: str) -> Line:
    """The line drawn after a label."""
    pairs = itertools.pairwise(drawing.entities)
    (found,) = [line for text, line in pairs if isinstance(text, Text) and text.says == says and isinstance(line, Line)]
    return found


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("cut", CUTS, ids=str)
def test_every_label_points_at_its_own_side_of_the_block(cut: mt.Cut, end: str) -> None:
    drawing = end_picture(BLOCK, cut, end, *BOX)
    (side,) = filled(drawing, SIDE)
    (far, top, low), (rim_far, rim_top, rim_low) = broken_and_rim(side)
    at = {says: np.array(leader(drawing, says).b) for says in ("fixed side", "moving side", "top")}
    assert Shape((top, low, rim_low, rim_top)).buffer(-0.1).intersects(point(at["fixed side"]))
    assert Shape((far, top, rim_top, rim_far)).buffer(-0.1).intersects(point(at["top"]))
    moving_rim = LineString([rim_far, rim_far + rim_low - rim_top])
    assert moving_rim.distance(point(at["moving side"])) < 1e-6


def test_a_square_cut_has_no_long_point() -> None:
    says = [box.says for box in end_picture(BLOCK, mt.Cut(), "right", *BOX).text_boxes()]
    assert says == ["fixed side", "moving side", "top"]


# --- sides: none that faces away, and the nearest on top


@pytest.mark.parametrize("name", SPECIMENS)
def test_a_side_that_faces_away_never_appears(name: str) -> None:
    # Along the outline, then outward: outline direction times x points out of the material at a right end, so a side
    # is seen from outside counter-clockwise there and clockwise at a left end.
    for section, cut, end in itertools.product(some_lays(name), CUTS[:6], ENDS):
        for side in filled(end_picture(section, cut, end, *BOX), SIDE):
            ends = zip(*broken_and_rim(side), strict=True)
            for (a, rim_a), (b, rim_b) in itertools.pairwise(ends):
                assert shoelace(np.array((a, b, rim_b, rim_a))) * out_of(end) > 0


CONCAVE = [
    f"{name}, {lay}"
    for name in ("equal angle", "parallel channel", "I section", "tee", "steep channel", "square tube")
    for lay in ("as made", "at 90", "turned", "at 217.5")
]


@pytest.mark.parametrize("name", CONCAVE)
def test_what_lies_on_top_is_what_a_ray_from_the_eye_meets_first(name: str) -> None:
    section = LAID[name]
    rng = np.random.default_rng(5)
    told = []
    for cut, end in itertools.product((mt.Cut(30, 20), mt.Cut(-30, -20), mt.Cut(-45, 20)), ENDS):
        drawing = end_picture(section, cut, end, *BOX)
        solid = Solid.of(drawing, section, cut, end)
        corners = np.concatenate([*filled(drawing, SIDE), *filled(drawing, FACE)])
        told += [solid.agrees(place, drawing) for place in rng.uniform(corners.min(0), corners.max(0), (times(25), 2))]
    assert "face" in told
    assert told.count("side") > times(20)


@dataclass(frozen=True)
class Solid:
    """A stub as outer outline with its holes stopped, cut and broken end, and the map of its picture."""

    section: Shape
    holes: list[Shape]
    found: Map
    slopes: Vector
    hand: float
    inner: float

    @classmethod
    def of(cls, drawing: Drawing, section: mt.Section, cut: mt.Cut, end: str) -> Solid:
        outer, *holes = outline_points(section, 1e-3)
        found = fitted_map(drawing, section, cut, end)
        broken, rim = broken_and_rim(filled(drawing, SIDE)[0])
        length = out_of(end) * (rim[0] - broken[0])[0] / found.axes[0, 0]
        linear = (found.rim(np.eye(2), cut, end) - found.origin).T
        slopes = np.array((cut.p, cut.q))
        inner = float(slopes @ np.linalg.solve(linear, rim[0] - found.origin) - length)
        return cls(Shape(outer), list(map(Shape, holes)), found, slopes, out_of(end), inner)

    def agrees(self, place: Vector, drawing: Drawing) -> str:
        """What lies on top at a place; fails where a ray meets something else, beyond a hair beside every line."""
        shown = on_top(drawing, place)
        met = {self.met(place + beside)[0] for beside in BESIDE}
        if len(met) == 1:
            assert shown[0] in met
            if shown[0] == "side":
                y, z = self.met(place)[1]
                chord = self.chord(shown[1], place)
                assert chord.distance(LineString([(y, z), (y, z + 1e-9)])) < 0.01 * self.section.length / 4
        return shown[0]

    def met(self, place: Vector) -> tuple[str, tuple[float, float]]:
        """What a ray through a place of the paper meets first, and where (y, z)."""
        toward = self.found.toward / np.linalg.norm(self.found.toward)
        start = np.linalg.lstsq(self.found.axes, place - self.found.origin, rcond=None)[0]
        far = 1e4
        o, step = self.hand * start[0], self.hand * toward[0]
        on_cut = (self.slopes @ start[1:] - o) / (step - self.slopes @ toward[1:])
        at_end = (self.inner - o) / step
        ray = LineString([start[1:] - far * toward[1:], start[1:] + far * toward[1:]])
        best = -math.inf
        for part in getattr(ray.intersection(self.section), "geoms", [ray.intersection(self.section)]):
            if part.length > 0:
                spans = [(np.array(yz) - start[1:]) @ toward[1:] / (toward[1:] @ toward[1:]) for yz in part.coords]
                nearest = min(max(spans), on_cut)
                if nearest >= max(min(spans), at_end):
                    best = max(best, nearest)
        if best == -math.inf:
            return "nothing", (0.0, 0.0)
        y, z = start[1:] + best * toward[1:]
        if best < on_cut:
            return "side", (float(y), float(z))
        within = any(hole.intersects(point(np.array((y, z)))) for hole in self.holes)
        return ("hole" if within else "face"), (float(y), float(z))

    def chord(self, side: Vector, place: Vector) -> LineString:
        """The part of the outline to which the strip of a side at a place belongs, from its broken end."""
        broken, rim = broken_and_rim(side)
        strips = [(i, Shape((broken[i], broken[i + 1], rim[i + 1], rim[i]))) for i in range(len(rim) - 1)]
        nearest = min(strips, key=lambda strip: strip[1].distance(point(place)))[0]
        base = self.found.axes @ np.array((self.hand * self.inner, 0.0, 0.0)) + self.found.origin
        return LineString([np.linalg.solve(self.found.axes[:, 1:], broken[i] - base) for i in (nearest, nearest + 1)])


BESIDE = [np.array((0.0, 0.0)), *(0.05 * np.array((math.cos(t), math.sin(t))) for t in (0.3, 2.4, 4.5))]
"""mm on paper around a place; where not all meet the same, a line runs and either side of it is right."""


def point(place: Vector) -> LineString:
    return LineString([place, place + 1e-9])


def on_top(drawing: Drawing, place: Vector) -> tuple[str, Vector]:
    """What was drawn last over a place."""
    names = {FACE: "face", HOLE: "hole", SIDE: "side"}
    shown = ("nothing", np.zeros((0, 2)))
    for entity in drawing.entities:
        if isinstance(entity, Polygon) and entity.fill in names and Shape(entity.points).intersects(point(place)):
            shown = (names[entity.fill], np.array(entity.points))
    return shown


# --- the opposite hand


def test_the_opposite_hand_shows_the_mirrored_left_end_and_not_the_piece() -> None:
    piece = mt.Piece(SPECIMENS["unequal angle"], 900, mt.Cut(30, 20), mt.Cut(-15, 10))
    other = piece.opposite_hand()
    (shown,) = filled(end_picture(other.section, other.right, "right", *BOX), FACE)
    (of_piece,) = filled(end_picture(piece.section, piece.right, "right", *BOX), FACE)
    (left,) = filled(end_picture(piece.section, piece.left, "left", *BOX), FACE)
    assert shown == pytest.approx(np.array((BOX[0], 0.0)) + left * (-1, 1), abs=1e-9)
    assert np.abs(shown - of_piece).max() > 1.0


# --- paper


@pytest.mark.parametrize("box", [BOX, (40.0, 36.0), (90.0, 50.0)], ids=str)
@pytest.mark.parametrize("name", SPECIMENS)
def test_all_is_inside_the_box_and_the_lettering_is_clear(name: str, box: tuple[float, float]) -> None:
    for section, cut, end in itertools.product(some_lays(name), [CUTS[0], CUTS[7], mt.Cut()], ENDS):
        drawing = end_picture(section, cut, end, *box)
        x0, y0, x1, y1 = drawing.bounds()
        assert min(x0, y0) >= 0
        assert x1 <= box[0]
        assert y1 <= box[1]
        texts = drawing.text_boxes()
        assert [*overlaps(texts), *struck(drawing), *too_small(texts, LETTERS)] == []


@pytest.mark.parametrize("name", SPECIMENS)
def test_no_label_is_missing_where_there_is_room(name: str) -> None:
    for cut, end in itertools.product(CUTS, ENDS):
        says = [box.says for box in end_picture(SPECIMENS[name], cut, end, 90, 60).text_boxes()]
        assert says == ["long point", "fixed side", "moving side", "top"]


def test_a_narrow_box_leaves_the_least_important_labels_out() -> None:
    says = [box.says for box in end_picture(BLOCK, CUTS[0], "right", 20, 40).text_boxes()]
    assert says[0] == "long point"
    assert len(says) < 4


@pytest.mark.parametrize("end", ["up", "Right", ""])
def test_another_end_is_refused(end: str) -> None:
    with pytest.raises(BadInput, match="end: found"):
        end_picture(BLOCK, CUTS[0], end, *BOX)


@pytest.mark.parametrize("box", [(62, 10), (1, 45), (math.nan, 45), (math.inf, 45)], ids=str)
def test_a_box_without_room_is_refused(box: tuple[float, float]) -> None:
    with pytest.raises(BadInput, match="width and height"):
        end_picture(BLOCK, CUTS[0], "right", *box)
