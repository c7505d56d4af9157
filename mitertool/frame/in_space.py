"""Members in space: where a bar stands, the cut that a plane makes of it, and the proof that a chain closes.

A place is (X, Y, Z) in mm, Z up. A bar stands by the middle of its section; its own directions are those of a piece:
along it, across it from the fixed to the moving side, and up from the bed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from math import sqrt
from typing import Final, TypeVar

import attrs

from mitertool.base.tolerances import COINCIDENT, SAME_SLOPE
from mitertool.base.totals import summed_points
from mitertool.cut import Cut
from mitertool.frame.assembly import Assembly, Closure, Resolution, marked, rounded
from mitertool.frame.leaning import Leaning
from mitertool.frame.rolls import RollBetween
from mitertool.frame.seats import Seat
from mitertool.geometry.vectors import Vector, across, cross, dot, minus, norm, plus, unit
from mitertool.piece import Piece

T = TypeVar("T")


@attrs.frozen
class Stand:
    """Where a bar stands in space: the middle of its section at the first end, and its three directions."""

    at: Vector
    along: Vector
    across: Vector
    up: Vector

    def cut(self, normal: Vector, end: str) -> Cut:
        """The cut that a plane square to `normal` makes at the "left" or "right" end."""
        lean = dot(normal, self.along) * (1 if end == "left" else -1)
        slopes = (dot(normal, way) / lean for way in (self.across, self.up))
        return Cut.from_slopes(*(slope if abs(slope) > SAME_SLOPE else 0.0 for slope in slopes))

    def place(self, x: float, y: float, z: float) -> Vector:
        """Where a place is that is given from the middle of the section, along, across and up, mm."""
        return plus(plus(plus(self.at, self.along, x), self.across, y), self.up, z)


@attrs.frozen(repr=False)
class SpaceAssembly(Assembly):
    """A frame whose members do not lie in one plane; `stands[i]` is where piece i of the order stands.

    `twists[i]` is how far the section of the next member is turned in the joint after piece i against the one that
    would meet it flush, degrees. `leaning` tells of each mark of a hopper how it stands, `seat` how a branch sits on
    its run. Its picture is seen from the front, the right and above, that of a branch from the side and along its run.
    """

    stands: tuple[Stand, ...] = ()
    twists: tuple[float, ...] = ()
    leaning: tuple[Leaning, ...] = ()
    seat: Seat | None = None

    @property
    def closed(self) -> bool:
        """Whether the last member of a chain meets the first one."""
        return len(self.twists) == len(self.order)

    @property
    def nodes(self) -> tuple[Vector, ...]:
        """Where the middles of the members of a rail begin, and where an open one ends, X, Y, Z mm."""
        starts = tuple(stand.at for stand in self.stands)
        last = next(one.piece for one in self.pieces if one.mark == self.order[-1])
        return starts if self.closed else (*starts, self.stands[-1].place(last.centerline, 0.0, 0.0))

    @property
    def outside_up(self) -> tuple[str, ...]:
        """The plates of a hopper."""
        return tuple(one.mark for one in self.leaning if one.face_up == "outside")

    @property
    def in_plan(self) -> bool:
        """Never: the members are seen from one side, and shortened."""
        return False

    @property
    def far_first(self) -> tuple[int, ...]:
        """The pieces of the order from the furthest to the nearest."""
        far = [max(_near(point) for end in ends for point in end) for ends in self._faces()]
        return tuple(sorted(range(len(far)), key=far.__getitem__))

    @property
    def turns(self) -> tuple[RollBetween, ...]:
        """The roll between the two cuts of each member, in the order of the marks."""
        return tuple(RollBetween(one.mark, one.piece) for one in self.pieces)

    @cached_property
    def outlines(self) -> tuple[tuple[complex, ...], ...]:
        """What is seen of every piece of the order, x + iy, mm."""
        return tuple(_hull([_seen(point) for end in ends for point in end]) for ends in self._faces())

    @cached_property
    def edges(self) -> tuple[tuple[complex, complex, complex, complex], ...]:
        """Both long edges of every piece as it is seen, in the order of a planar frame's."""
        return tuple(_long_edges(*((_seen(point) for point in end) for end in ends)) for ends in self._faces())

    def _faces(self) -> Iterator[tuple[tuple[Vector, ...], tuple[Vector, ...]]]:
        """The corners of the box of both ends of every piece of the order."""
        piece = {member.mark: member.piece for member in self.pieces}
        for mark, stand in zip(self.order, self.stands, strict=True):
            yield face_corners(piece[mark], stand, "left"), face_corners(piece[mark], stand, "right")


def face_corners(piece: Piece, stand: Stand, end: str) -> tuple[Vector, ...]:
    """The four corners of the section's box in the plane of an end, in space."""
    y, z = piece.section.width / 2, piece.section.height / 2
    cut, far = (piece.right, piece.centerline) if end == "right" else (piece.left.reversed, 0.0)
    around = ((-y, -z), (y, -z), (y, z), (-y, z))
    return tuple(stand.place(far + cut.p * a + cut.q * b, a, b) for a, b in around)


@attrs.frozen
class Meeting:
    """How the faces of neighbours are laid on each other: which way in an end's plane, and at which height.

    `way` gives, of a cut and its side (1 right, -1 left), a direction in its plane by the piece's own directions;
    `height` is 1 at the top of the section, -1 at the bottom, 0 at its middle.
    """

    way: Callable[[Cut, float], Vector]
    height: float = 0.0

    def middle(self, piece: Piece, end: str) -> Vector:
        """The middle of an end at that height, from the middle of the left end, along, across and up."""
        z = self.height * piece.section.height / 2
        return (piece.centerline + piece.right.q * z, 0.0, z) if end == "right" else (-piece.left.q * z, 0.0, z)


def toward_long_point(cut: Cut, side: float) -> Vector:
    """In the plane of an end toward its long point."""
    return unit(across((side, 0.0, 0.0), outward_of(cut, side)))


def toward_moving_side(cut: Cut, side: float) -> Vector:
    """In the plane of an end from the fixed to the moving side."""
    return unit((side * cut.p, 1.0, 0.0))


LONG_POINTS: Final = Meeting(toward_long_point)
"""How bars of one size meet that run along their middles."""


def neighbours(things: Sequence[T], closed: bool) -> list[tuple[T, T]]:
    """Each with the next; where it is `closed` the last with the first."""
    return list(pairwise([*things, things[0]] if closed else things))


def reassembled(pieces: Sequence[Piece], first: Stand, closed: bool, meet: Meeting) -> tuple[Stand, ...]:
    """Where pieces stand that are put together by their cuts alone, the first one as given; a closed chain's again.

    The faces of neighbours are laid on each other as `meet` says.
    """
    stands = [first]
    for before, after in neighbours(pieces, closed):
        stands.append(_joined(stands[-1], before, after, meet))
    return tuple(stands)


def _joined(stand: Stand, before: Piece, after: Piece, meet: Meeting) -> Stand:
    """Where the piece after stands against the right face of the one before."""
    outward, way = (_of(stand, one) for one in (outward_of(before.right, 1.0), meet.way(before.right, 1.0)))
    own = (outward_of(after.left, -1.0), meet.way(after.left, -1.0))
    turned = faced(own, (minus((0.0, 0.0, 0.0), outward), way), stand.place(*meet.middle(before, "right")))
    return attrs.evolve(turned, at=turned.place(*(-part for part in meet.middle(after, "left"))))


def faced(own: tuple[Vector, Vector], target: tuple[Vector, Vector], at: Vector) -> Stand:
    """A bar at a place, turned so that two directions of its own, square to each other, become the target's."""
    old, new = (*own, cross(*own)), (*target, cross(*target))
    return Stand(at, *(_sum(new, [way[i] for way in old]) for i in range(3)))


def outward_of(cut: Cut, side: float) -> Vector:
    """Square to the plane of an end and away from the piece, in its own directions."""
    return unit((side, -cut.p, -cut.q))


def _of(stand: Stand, way: Vector) -> Vector:
    return _sum((stand.along, stand.across, stand.up), way)


def _sum(ways: Iterable[Vector], shares: Iterable[float]) -> Vector:
    whole: Vector = (0.0, 0.0, 0.0)
    for way, share in zip(ways, shares, strict=True):
        whole = plus(whole, way, share)
    return whole


def misfit(pieces: Sequence[Piece], stands: Sequence[Stand], closed: bool, meet: Meeting) -> float:
    """How far pieces put together by their cuts alone miss where they should stand, mm: at a corner of an end."""
    found = reassembled(pieces, stands[0], closed, meet)
    wanted = [*zip(pieces, stands, strict=True), *([(pieces[0], stands[0])] if closed else [])]
    return max(_apart(piece, one, other) for (piece, one), other in zip(wanted, found, strict=True))


def _apart(piece: Piece, one: Stand, other: Stand) -> float:
    ends = ("left", "right")
    pairs = (zip(face_corners(piece, one, end), face_corners(piece, other, end), strict=True) for end in ends)
    return max(norm(minus(a, b)) for pair in pairs for a, b in pair)


@attrs.frozen
class Named:
    """What a frame is called, and what the floor reads that cuts its pieces."""

    mark: str
    resolution: Resolution = attrs.field(factory=Resolution)


def assembled(
    named: Named,
    shape: str,
    pieces: Sequence[Piece],
    stands: Sequence[Stand],
    closed: bool,
    meet: Meeting = LONG_POINTS,
) -> SpaceAssembly:
    """The frame of pieces that stand so in the order of the chain; pieces with the same ends share a mark."""
    members, order = marked(named.mark, pieces, COINCIDENT)
    floor = [rounded(piece, named.resolution) for piece in pieces]
    closure = Closure(misfit(pieces, stands, closed, meet), 0.0, misfit(floor, stands, closed, meet))
    return SpaceAssembly(named.mark, shape, members, order, closure, stands=tuple(stands))


def _seen(place: Vector) -> complex:
    """A place as it is seen from the front, the right and above, all three directions shortened alike."""
    x, y, z = place
    return complex((x + y) / sqrt(2), (2 * z - x + y) / sqrt(6))


def _near(place: Vector) -> float:
    """How far a place lies toward who looks."""
    x, y, z = place
    return x - y + z


def _hull(points: Sequence[complex]) -> tuple[complex, ...]:
    """The outline around points, counter-clockwise."""
    ranked = sorted(set(points), key=lambda p: (p.real, p.imag))
    lower, upper = _chain(ranked), _chain(ranked[::-1])
    return (*lower[:-1], *upper[:-1])


def _chain(points: Sequence[complex]) -> list[complex]:
    found: list[complex] = []
    for point in points:
        while len(found) > 1 and ((found[-1] - found[-2]).conjugate() * (point - found[-1])).imag <= 0:
            found.pop()
        found.append(point)
    return found


def _long_edges(left: Iterable[complex], right: Iterable[complex]) -> tuple[complex, complex, complex, complex]:
    """The outermost of the edges that join the corners of both ends: the right one's start, the left one's, its end."""
    pairs = list(zip(left, right, strict=True))
    way = summed_points(b - a for a, b in pairs)
    ranked = sorted(pairs, key=lambda pair: (way.conjugate() * summed_points(pair)).imag)
    (inner_start, inner_end), (outer_start, outer_end) = ranked[0], ranked[-1]
    return inner_start, outer_start, outer_end, inner_end
