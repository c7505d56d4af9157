"""Frames put together again from what stands on a cut sheet, by rigid moves in the plane.

Nothing is imported from the package. A frame is walked clockwise seen from above, its outside on the left; the left
end of each bar meets the right end of the one before it. Points are complex, mm.

`bars` reads the record that `mitertool check JOB --json` prints: outer edges, miters, marks. Widths do not stand in it;
they follow from the outer and inner edge where the two cuts of a piece slope against each other, and are given beside
the record where they do not. `Plate`, `outer_corners` and `misfit` need no record: a frame as a table of lengths and
angles.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Record = Mapping[str, Any]

_SLOPES_APART = 0.05
"""Sum of the slopes of both cuts from which a width follows from two edges without loss of figures."""


@dataclass(frozen=True)
class Bar:
    """A piece in plan: x along it from its inner left corner, y from the inside (0) to the outside (its width).

    `outer` is the length of its outer edge, mm; `left` and `right` are miters, degrees from square, positive where the
    outer edge is the longer one.
    """

    width: float
    outer: float
    left: float
    right: float

    @property
    def outer_left(self) -> complex:
        return complex(-_slope(self.left) * self.width, self.width)

    @property
    def outer_right(self) -> complex:
        return self.outer_left + self.outer

    @property
    def inner_left(self) -> complex:
        return 0j

    @property
    def inner_right(self) -> complex:
        return complex(self.outer_right.real - _slope(self.right) * self.width, 0)

    @property
    def corners(self) -> tuple[complex, complex, complex, complex]:
        return self.inner_left, self.inner_right, self.outer_right, self.outer_left


@dataclass(frozen=True)
class Placed:
    """A bar after a rigid move: turned by `way`, a complex number of length 1, its direction, then shifted to `at`."""

    bar: Bar
    way: complex = 1 + 0j
    at: complex = 0j

    def __call__(self, point: complex) -> complex:
        return self.at + self.way * point

    @property
    def corners(self) -> list[complex]:
        return [self(point) for point in self.bar.corners]

    def seen(self, point: complex) -> complex:
        """A point of the plane as the bar sees it: along it and across it."""
        return (point - self.at) / self.way


def widths(pieces: Sequence[Record], beside: Mapping[str, float]) -> dict[str, float]:
    """The width of every piece by mark, mm: from its edges, else from what is given beside the record."""
    found = {}
    for piece in pieces:
        slopes = _slope(piece["left"]["miter_deg"]) + _slope(piece["right"]["miter_deg"])
        apart = piece["edges_mm"]["moving_bottom"] - piece["edges_mm"]["fixed_bottom"]
        found[piece["mark"]] = apart / slopes if abs(slopes) > _SLOPES_APART else beside[piece["mark"]]
    return found


def bars(pieces: Sequence[Record], assembly: Record, width: Mapping[str, float]) -> list[Bar]:
    """The bars around a frame in their order; the outside is the moving side."""
    by_mark = {piece["mark"]: piece for piece in pieces}
    return [
        Bar(width[mark], piece["edges_mm"]["moving_bottom"], piece["left"]["miter_deg"], piece["right"]["miter_deg"])
        for mark, piece in ((mark, by_mark[mark]) for mark in assembly["order"])
    ]


def put_together(sides: Sequence[Bar], joints: Sequence[Record]) -> list[Placed]:
    """The first bar along x from 0, every other one put against the one before it as their joint says."""
    placed = [Placed(sides[0])]
    for bar, joint in zip(sides[1:], joints, strict=False):
        placed.append(_put_against(placed[-1], bar, joint["kind"], joint["gap_mm"]))
    return placed


def stands_off(placed: Sequence[Placed], joints: Sequence[Record]) -> float:
    """The most that any joint is open, overlaps or is out of line where the bars now lie, the closing one too, mm."""
    pairs = ((placed[i], placed[(i + 1) % len(placed)], joint) for i, joint in enumerate(joints))
    misses = (miss for a, b, joint in pairs for miss in _misses(a, b, joint["kind"], joint["gap_mm"]))
    return max(map(abs, misses), default=0.0)


def overlap(placed: Sequence[Placed]) -> float:
    """How deep any two bars overlap, neighbours or not, mm."""
    return max((_depth(a.corners, b.corners) for a, b in itertools.combinations(placed, 2)), default=0.0)


def corners_at(placed: Sequence[Placed], depths: Sequence[float], closed: bool) -> list[complex]:
    """Where lines along the bars cross, each `depths` mm inside its bar's outer edge; of an open frame its free ends
    too, the first of all at the front."""
    lines = [(bar(complex(0, bar.bar.width - depth)), bar.way) for bar, depth in zip(placed, depths, strict=True)]
    shared = [_crossing(*a, *b) for a, b in itertools.pairwise(lines)]
    if closed:
        return [_crossing(*lines[-1], *lines[0]), *shared]
    first, last = placed[0].bar, placed[-1].bar
    begin = placed[0](first.inner_left + 1j * (first.width - depths[0]))
    return [begin, *shared, placed[-1](last.inner_right + 1j * (last.width - depths[-1]))]


def unlike(found: Sequence[complex], asked: Sequence[complex]) -> float:
    """The most that the distance of any two corners differs from what was asked, mm; no rigid move changes it."""
    pairs = [(i, j) for i in range(len(asked)) for j in range(i)]
    return max(abs(abs(found[i] - found[j]) - abs(asked[i] - asked[j])) for i, j in pairs)


def _put_against(before: Placed, bar: Bar, kind: str, gap: float) -> Placed:
    a = before.bar
    face_a, face_b = _unit(a.outer_right - a.inner_right), _unit(bar.outer_left - bar.inner_left)
    if kind == "miter":
        way = face_a / face_b
        point, target = _beyond_left(bar.outer_left, bar, gap), _beyond_right(a.outer_right, a, gap)
    elif kind == "first-through":  # the next one's left face stands on the inner edge, its outer edge on the right face
        way, point = 1 / face_b, bar.outer_left
        target = complex(a.inner_right.real - gap * _slope(a.right), -gap)
    else:  # the next one's inner edge lies along the right face, its left face in line with the outer edge
        way, point = -face_a, complex(gap * _slope(bar.left), -gap)
        target = a.outer_right
    return Placed(bar, before.way * way, before(target - way * point))


def _misses(before: Placed, after: Placed, kind: str, gap: float) -> Iterator[float]:
    """What a joint is off by, mm.

    Mitered: outer and inner edges, prolonged by half the gap, meet in two points, so the faces lie along one seam.
    Butted: the face that is butted stands off the edge of the bar that runs through, whose own face is in line with the
    other's outer edge.
    """
    a, b = before.bar, after.bar
    if kind == "miter":
        yield abs(before(_beyond_right(a.outer_right, a, gap)) - after(_beyond_left(b.outer_left, b, gap)))
        yield abs(before(_beyond_right(a.inner_right, a, gap)) - after(_beyond_left(b.inner_left, b, gap)))
    elif kind == "first-through":
        yield from (before.seen(after(point)).imag + gap for point in (b.outer_left, b.inner_left))
        yield from (after.seen(before(point)).imag - b.width for point in (a.outer_right, a.inner_right))
    else:
        yield from (after.seen(before(point)).imag + gap for point in (a.outer_right, a.inner_right))
        yield from (before.seen(after(point)).imag - a.width for point in (b.outer_left, b.inner_left))


def _beyond_right(point: complex, bar: Bar, gap: float) -> complex:
    """Half a gap, square to the face, beyond a point of the right face along the bar."""
    return point + gap / 2 / math.cos(math.radians(bar.right))


def _beyond_left(point: complex, bar: Bar, gap: float) -> complex:
    return point - gap / 2 / math.cos(math.radians(bar.left))


def _depth(one: Sequence[complex], other: Sequence[complex]) -> float:
    """How deep two convex outlines overlap: the shortest way that would part them, mm; 0 where they do not."""
    sides = [b - a for shape in (one, other) for a, b in zip(shape, [*shape[1:], shape[0]], strict=True)]
    squares = [1j * _unit(side) for side in sides if abs(side) > 1e-6]
    return max(0.0, min(_shared(one, other, square) for square in squares))


def _shared(one: Sequence[complex], other: Sequence[complex], way: complex) -> float:
    """How much the shadows of two outlines on a line share, mm; less than 0 where they stand apart."""
    (a, b), (c, d) = (
        (min(shadow), max(shadow)) for shadow in ([(point * way.conjugate()).real for point in s] for s in (one, other))
    )
    return min(b - c, d - a)


def _crossing(a: complex, way_a: complex, b: complex, way_b: complex) -> complex:
    """Where two lines cross, each through a point on its way."""
    turn = (way_a.conjugate() * way_b).imag
    return a + way_a * ((b - a).conjugate() * way_b).imag / turn


def _slope(miter: float) -> float:
    return math.tan(math.radians(miter))


def _unit(vector: complex) -> complex:
    return vector / abs(vector)


@dataclass(frozen=True)
class Plate:
    """A side in plan: its length along the outside and its width, mm, and its miters, degrees from square."""

    outside: float
    width: float
    left: float
    right: float


def outer_corners(plates: Sequence[Plate], root_gap: float = 0.0) -> list[complex]:
    """Where the outer edges cross, from the first corner back to where the walk ends, mm.

    A face `root_gap`/2 off the seam, square to it, leaves `root_gap`/2/cos(miter) of the outer edge to the crossing.
    """
    place, heading = 0j, 0.0
    found = [place]
    for i, plate in enumerate(plates):
        beyond = sum(root_gap / 2 / math.cos(math.radians(miter)) for miter in (plate.left, plate.right))
        place += (plate.outside + beyond) * complex(math.cos(heading), math.sin(heading))
        heading -= math.radians(plate.right + plates[(i + 1) % len(plates)].left)
        found.append(place)
    return found


def misfit(plates: Sequence[Plate], root_gap: float = 0.0) -> float:
    """How far the frame is from closing, mm.

    The largest of: what the last corner misses of the first, what the turns miss of a full one over the longest side,
    and what the two faces at a corner differ in length.
    """
    corners = outer_corners(plates, root_gap)
    turned = sum(math.radians(p.left + p.right) for p in plates)
    skew = abs(2 * math.pi - turned) * max(p.outside for p in plates)
    seams = [
        abs(_face(a.width, a.right) - _face(b.width, b.left))
        for a, b in zip(plates, [*plates[1:], plates[0]], strict=True)
    ]
    return max(abs(corners[-1] - corners[0]), skew, *seams)


def _face(width: float, miter: float) -> float:
    return width / math.cos(math.radians(miter))
