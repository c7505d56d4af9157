"""A rail through points in space: its members, where its section turns, the cuts of its joints; knows in_space."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from math import cos, degrees, hypot, isfinite, radians, sin
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import CLOSES, LEAST_CORNER, SAME_SLOPE
from mitertool.cut import Cut
from mitertool.frame.corners import SHARPEST
from mitertool.frame.in_space import Named, SpaceAssembly, Stand, assembled, neighbours
from mitertool.frame.rolls import FLUSH, roll_notes
from mitertool.geometry.vectors import (
    Vector,
    across,
    angle_about,
    angle_between,
    cross,
    minus,
    norm,
    plus,
    turned,
    unit,
)
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, angles, counts, names
from mitertool.sections import Section
from mitertool.words import phrase

TOPS: Final = ("up", "carried")
"""Where the top of a member lies: up as far as it can, or where the joint before it carries it, so that it is flush."""

ENDS: Final = ("square", "plumb", "level")
"""How the free ends of an open rail are cut."""

_UP: Final[Vector] = (0.0, 0.0, 1.0)

_STEEP: Final = 1e-6
"""Sine of the angle to plumb below which a member has no top that could lie up."""


@attrs.frozen
class Held:
    """How the members of a rail are held, and how its free ends are cut.

    `tops` "up": each has its top up as far as it can. "carried": each is carried on from the one before without a turn,
    so that its joint is flush; in a closed rail what is left over falls on the last joint. `ends` are the first and the
    last of an open one, "square", "plumb" or "level". `by_cuts`: a round bar, which has no top, is drawn rolled so that
    the cut of its left end, or of its right where that is square, is a miter alone with its long point at the moving
    side; what its other end is rolled by is then all that is rolled. Raises `BadInput` for other words.
    """

    tops: str = "up"
    ends: tuple[str, str] = ("square", "square")
    by_cuts: bool = False

    def __attrs_post_init__(self) -> None:
        if self.tops not in TOPS:
            raise BadInput("tops", self.tops, among(TOPS))
        if len(self.ends) != 2 or any(end not in ENDS for end in self.ends):
            raise BadInput("ends", " ".join(self.ends), phrase("refuse.rail-ends", ends=", ".join(ENDS)))


UP: Final = Held()
RAIL: Final = Named("RAIL")


def rail(
    nodes: Sequence[Vector],
    section: Section,
    closed: bool = False,
    roll: float = 0.0,
    held: Held = UP,
    named: Named = RAIL,
) -> SpaceAssembly:
    """Members whose middles run through `nodes` (X, Y, Z in mm, Z up), mitered where they meet.

    Every joint is cut in the plane that halves its angle. Where tops are held "up" each member is turned by `roll`
    (degrees, clockwise seen along it) from having its top up as far as it can; a plumb one takes it from the member
    before. Where they are "carried" the first one lies so. Raises `BadInput` for nodes that coincide, lie in one
    line or turn back by more than 170 degrees, and for members too short for their cuts.

    >>> mt.rail([(0, 0, 0), (1000, 0, 0), (2000, 0, 600)], mt.round_tube(42.4, 2.6))
    <Assembly RAIL, rail: RAIL-1, RAIL-2; gap 0.000 mm>
    """
    ways = _ways(nodes, closed)
    stands = _stands(nodes, ways, radians(_turn(roll)), held.tops)
    normals = [plus(a, b) for a, b in neighbours(ways, closed)]
    free = (_end_plane(held.ends[0], ways[0], "first"), _end_plane(held.ends[1], ways[-1], "last"))
    planes = [normals[-1], *normals] if closed else [free[0], *normals, free[1]]
    if held.by_cuts and section.shape.round:
        stands = list(map(_by_cuts, stands, itertools.pairwise(planes)))
    lengths = [norm(minus(b, a)) for a, b in neighbours(nodes, closed)]
    pieces = [
        _piece(section, length, stand.cut(left, "left"), stand.cut(right, "right"), number)
        for number, (length, stand, (left, right)) in enumerate(
            zip(lengths, stands, itertools.pairwise(planes), strict=True), 1
        )
    ]
    made = assembled(named, "rail", pieces, stands, closed)
    made = attrs.evolve(made, twists=_twists(stands, section, closed))
    leans = () if section.shape.round else _leans(stands, made.order)
    case = f"{held.tops}-closed" if closed else held.tops
    return attrs.evolve(made, notes=(*roll_notes(made.turns), *leans, *_not_flush(made, case)))


def along_flights(flights: Sequence[tuple[float, float, float]]) -> tuple[Vector, ...]:
    """The nodes of a rail given as a stair is: of each flight its level run and its rise, mm, and its turn in plan.

    The turn is to the left from the flight before, degrees; the first goes off along X.
    """
    nodes, heading = [(0.0, 0.0, 0.0)], 0.0
    for run, rise, turn in flights:
        heading += radians(turn)
        nodes.append(plus(nodes[-1], (run * cos(heading), run * sin(heading), rise)))
    return tuple(nodes)


def joint_of(section: Section, ways: tuple[Vector, Vector], tops: str) -> tuple[Cut, Cut, float]:
    """The cuts of two members that go these ways and meet, and by how much the section after is twisted, degrees."""
    before, after = _stands([(0.0, 0.0, 0.0), ways[0]], ways, 0.0, tops)
    plane = plus(*ways)
    (twist,) = _twists([before, after], section, False)
    return before.cut(plane, "right"), after.cut(plane, "left"), twist


def _turn(roll: float) -> float:
    if not isfinite(roll):
        raise BadInput("roll", roll, phrase("refuse.rotation"))
    return roll


def _ways(nodes: Sequence[Vector], closed: bool) -> list[Vector]:
    """The direction of every member. Raises `BadInput` for nodes that make none, or no joint."""
    least = 3 if closed else 2
    if len(nodes) < least:
        allowed = phrase("refuse.few-nodes/closed" if closed else "refuse.few-nodes/open", least=least)
        raise BadInput("nodes", phrase("found.nodes", count=len(nodes)), allowed)
    for number, (a, b) in enumerate(neighbours(nodes, closed), 1):
        if not norm(minus(b, a)) > CLOSES:
            raise BadInput("nodes", phrase("found.no-member", member=number), phrase("refuse.node-twice"))
    ways = [unit(minus(b, a)) for a, b in neighbours(nodes, closed)]
    for number, (a, b) in enumerate(neighbours(ways, closed), 1):
        turn = degrees(angle_between(a, b))
        if not LEAST_CORNER <= turn <= SHARPEST:
            found = phrase("found.turn", turn=turn, member=number)
            raise BadInput("nodes", found, phrase("refuse.rail-turn", least=LEAST_CORNER, most=SHARPEST))
    return ways


def _stands(nodes: Sequence[Vector], ways: Sequence[Vector], roll: float, top: str) -> list[Stand]:
    stands: list[Stand] = []
    for at, way in zip(nodes, ways, strict=False):
        up = carried(stands[-1].up, stands[-1].along, way) if stands else None
        if up is None or (top == "up" and norm(cross(way, _UP)) > _STEEP):
            up = turned(_upward(way), way, roll)
        stands.append(Stand(at, way, cross(up, way), up))
    return stands


def _by_cuts(stand: Stand, planes: tuple[Vector, Vector]) -> Stand:
    """The stand rolled until the first of both cuts that is not square has its long point at the moving side."""
    for plane, end in zip(planes, ("left", "right"), strict=True):
        cut = stand.cut(plane, end)
        if hypot(cut.p, cut.q) > SAME_SLOPE:
            side = unit(plus(plus((0.0, 0.0, 0.0), stand.across, cut.p), stand.up, cut.q))
            return attrs.evolve(stand, across=side, up=cross(stand.along, side))
    return stand


def _upward(way: Vector) -> Vector:
    """Square to a member, as far up as can be; toward X for a plumb one."""
    plumb = norm(cross(way, _UP)) <= _STEEP
    return unit(across((1.0, 0.0, 0.0) if plumb else _UP, way))


def carried(direction: Vector, before: Vector, after: Vector) -> Vector:
    """A direction square to the member before as the fold of a joint carries it over to the member after."""
    return turned(direction, unit(cross(before, after)), angle_between(before, after))


def _end_plane(end: str, way: Vector, which: str) -> Vector:
    """Square to the plane of a free end."""
    normal = {"square": way, "plumb": (way[0], way[1], 0.0), "level": (0.0, 0.0, way[2])}[end]
    if norm(normal) <= _STEEP:
        raise BadInput("ends", end, phrase(f"refuse.runs-so/{which}"))
    return normal


def _piece(section: Section, length: float, left: Cut, right: Cut, number: int) -> Piece:
    try:
        return Piece(section, length, left, right, at="centerline")
    except BadInput as error:
        raise error.at(phrase("where.member", member=number)) from None


def _twists(stands: Sequence[Stand], section: Section, closed: bool) -> tuple[float, ...]:
    """By how much the section after each joint is turned against the one that would be flush, degrees."""
    step = flush_step(section)
    pairs = neighbours(stands, closed)
    return tuple(_least(degrees(angle_about(b.along, carried(a.up, a.along, b.along), b.up)), step) for a, b in pairs)


def flush_step(section: Section) -> float:
    """degrees. By what a bar may be rolled and look alike from its end; 0 for a round one."""
    if section.shape.round:
        return 0.0
    if section.looks_like(section.lay(90)):
        return 90.0
    return 180.0 if "half-turn" in section.symmetry else 360.0


def _least(angle: float, step: float) -> float:
    if not step:
        return 0.0
    return (angle + step / 2) % step - step / 2


def _leans(stands: Sequence[Stand], marks: Sequence[str]) -> Iterator[Remark]:
    """How far the top of a member leans from as far up as it can be."""
    for mark, stand in zip(marks, stands, strict=True):
        lean = degrees(angle_about(stand.along, _upward(stand.along), stand.up))
        if abs(lean) > FLUSH:
            yield Remark("note.leans", names(mark=mark) + angles(lean=abs(lean)), "right" if lean > 0 else "left")


def _not_flush(made: SpaceAssembly, case: str) -> Iterator[Remark]:
    """Each joint whose sections are twisted against each other, by its node, and what would make it flush."""
    pairs, nodes = neighbours(made.order, made.closed), len(made.nodes)
    for number, (twist, (before, after)) in enumerate(zip(made.twists, pairs, strict=True), 1):
        if abs(twist) > FLUSH:
            numbers = counts(node=number % nodes + 1) + names(before=before, after=after) + angles(twist=abs(twist))
            yield Remark("note.not-flush", numbers, case)
