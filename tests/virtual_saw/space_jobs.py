"""Jobs by lot of frames that lie in no one plane: rails, hoppers, elbows, three tubes in a point, and turned pieces.

What each member is follows here from where it stands in space: the plane of a joint halves the angle of its members, a
corner of a hopper is the plane through the lines in which its inner and its outer faces meet, the cuts of an elbow
halve its turns (ASME B31.3, 304.2.3: closely spaced mitered bends). A member lies with its left end where it begins,
its width across, its top up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import acos, cos, degrees, pi, radians, sin, sqrt, tan
from random import Random

from tests.virtual_saw import random_jobs as lots
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.random_jobs import Drawn, Kind
from tests.virtual_saw.steel import SAME, Plane, Section, Solid, error

Vector = tuple[float, float, float]

UP: Vector = (0.0, 0.0, 1.0)

FOLDS = (15.0, 85.0)
"""degrees. By how much a rail turns at a node: every saw by lot swings half of that."""

STEEP, STEEPEST_PLUMB = 0.9, 0.6
"""Sines of the most that a member of a rail rises, and one that ends plumb."""


@dataclass
class InSpace(Drawn):
    """A job, and of each frame the members in their order, the first of a mark as it is drawn."""

    members: dict[str, list[Solid]] = field(default_factory=dict)


def job(seed: int) -> InSpace:
    """The job of a seed; each kind of frame comes up in turn."""
    lot = Random(seed)
    add, shape, tilts = KINDS[seed % len(KINDS)]
    kind = Kind(lot.choice(shape), tilts or lot.random() < 0.5, False, lot.choice((1.0, 1.0, 25.4)), 52.0)
    nest, trim = lots.nest_of(lot, kind)
    drawn = InSpace(lots.head_of(kind) + nest, lots.saw_of(lot, kind), trim=trim)
    keys, section = lots.section_of(lot, kind)
    drawn.stocks[kind.name] = Stock(kind.shape, section)
    drawn.text += lots.table_of(kind, keys)
    add(lot, kind, section, drawn)
    drawn.text += f"[[stock]]\n{kind.bought}length = {lots.shown_in(12000, kind)}\n"
    return drawn


def plus(a: Vector, b: Vector, times: float = 1.0) -> Vector:
    return (a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2])


def dot(a: Vector, b: Vector) -> float:
    return sum(one * other for one, other in zip(a, b, strict=True))


def cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a: Vector) -> Vector:
    return plus((0.0, 0.0, 0.0), a, 1 / sqrt(dot(a, a)))


def about(axis: Vector, a: Vector, turn: float) -> Vector:
    """A direction turned about an axis, degrees, clockwise as seen along it."""
    c, s = cos(radians(turn)), sin(radians(turn))
    turned = plus(plus((0.0, 0.0, 0.0), a, c), cross(axis, a), s)
    return plus(turned, axis, dot(axis, a) * (1 - c))


@dataclass(frozen=True)
class Member:
    """Where a bar lies: a place of its frame's, which way it runs, and where its top is; `at` is (0, y, z) of it."""

    at: Vector
    along: Vector
    up: Vector
    y: float = 0.0
    z: float = 0.0

    def plane(self, through: Vector, normal: Vector) -> Plane:
        """A plane in space as x = c + p*y + q*z of the bar."""
        steep, across = dot(normal, self.along), cross(self.up, self.along)
        p, q = -dot(normal, across) / steep, -dot(normal, self.up) / steep
        return dot(normal, plus(through, self.at, -1.0)) / steep - p * self.y - q * self.z, p, q


def _rail(lot: Random, kind: Kind, section: Section, drawn: InSpace) -> None:
    """Members through nodes, their tops up as far as can be and turned by a roll, or carried on over each joint."""
    nodes = [_read(node, kind) for node in _nodes(lot, lot.choice((2, 3, 4)))]
    carried, roll, ends = lot.random() < 0.5, lot.choice((0, 0, 30, -75)), lot.choice(("square", "plumb"))
    ways = [unit(plus(b, a, -1.0)) for a, b in pairwise(nodes)]
    ups = [_up(ways[0], roll)]
    for before, way in pairwise(ways):
        fold = degrees(acos(dot(before, way)))
        ups.append(about(unit(cross(before, way)), ups[-1], fold) if carried else _up(way, roll))
    ends = "square" if max(abs(ways[0][2]), abs(ways[-1][2])) > STEEPEST_PLUMB else ends
    first, last = ((way[0], way[1], 0.0) if ends == "plumb" else way for way in (ways[0], ways[-1]))
    normals = [first, *(plus(a, b) for a, b in pairwise(ways)), last]
    drawn.members["RAIL"] = []
    joints = pairwise(zip(nodes, normals, strict=True))
    for way, up, (left, right) in zip(ways, ups, joints, strict=True):
        if kind.shape == "round-tube" and not kind.tilts:
            up = _by_cuts(way, up, left[1], right[1])
        stands = Member(left[0], way, up, section.width / 2, section.height / 2)
        drawn.members["RAIL"].append(Solid(section, (stands.plane(*left),), (stands.plane(*right),)))
    told = ", ".join("[" + ", ".join(lots.shown_in(x, kind) for x in node) + "]" for node in nodes)
    drawn.text += f'[[frame]]\nmark = "RAIL"\nshape = "rail"\n{kind.bought}nodes = [{told}]\n'
    drawn.text += f'tops = "{"carried" if carried else "up"}"\nroll = {roll}\nends = "{ends}"\n'


def _by_cuts(way: Vector, up: Vector, left: Vector, right: Vector) -> Vector:
    """The top of a round member that is drawn by its cuts: its first long point that there is lies level, on +y.

    A plane leaves the bar longest where its normal, turned out of the bar, leans back the most.
    """
    for normal, out in ((left, -1.0), (right, 1.0)):
        outward = plus((0.0, 0.0, 0.0), normal, out * dot(normal, way) / abs(dot(normal, way)))
        leans = plus(outward, way, -dot(outward, way))
        if dot(leans, leans) > 1e-12:
            return cross(way, unit(plus((0.0, 0.0, 0.0), leans, -1.0)))
    return up


def _read(node: Vector, kind: Kind) -> Vector:
    """A node as the job file rounds it."""
    x, y, z = (lots.in_mm(lots.shown_in(one, kind), kind) for one in node)
    return (x, y, z)


def _up(way: Vector, roll: float) -> Vector:
    return about(way, unit(plus(UP, way, -dot(UP, way))), roll)


def _nodes(lot: Random, members: int) -> list[Vector]:
    """Nodes whose members turn by what can be cut, and are none of them plumb."""
    nodes: list[Vector] = [(0.0, 0.0, 0.0)]
    way = unit((lot.uniform(-1, 1), lot.uniform(-1, 1), lot.uniform(-0.6, 0.6)))
    while len(nodes) <= members:
        nodes.append(plus(nodes[-1], way, lot.uniform(500, 1500)))
        before = way
        while not (abs(way[2]) < STEEP and FOLDS[0] < degrees(acos(min(1.0, dot(before, way)))) < FOLDS[1]):
            way = unit((lot.gauss(0, 1), lot.gauss(0, 1), lot.gauss(0, 0.7)))
    return nodes


def _hopper(lot: Random, kind: Kind, section: Section, drawn: InSpace) -> None:
    """Plates around a frustum, each on its lower edge at the fixed side with its outside up."""
    sides, measured = lot.choice((4, 4, 5, 6, 8)), lot.choice(("outside", "inside"))
    size, wider = lot.choice((300, 450)), section.width * lot.choice((0.5, 0.9, 1.3))
    bottom, top = (lots.in_mm(lots.shown_in(across, kind), kind) for across in (size, size + wider))
    out, thick = (top - bottom) / 2, section.height
    rise = sqrt(section.width**2 - out**2)
    normal = unit((0.0, -rise, -out))  # out of the first side, which looks to -Y
    lower = plus((0.0, -bottom / 2, 0.0), normal, 0.0 if measured == "outside" else thick)
    stands = Member(lower, (1.0, 0.0, 0.0), normal, 0.0, thick)
    corners = [plus(normal, about(UP, normal, way * 360 / sides), -1.0) for way in (-1, 1)]
    planes = [stands.plane((0.0, 0.0, 0.0), corner) for corner in corners]
    drawn.members["HOP"] = [Solid(section, (planes[0],), (planes[1],))] * sides
    drawn.text += f'[[frame]]\nmark = "HOP"\nshape = "hopper"\n{kind.bought}measured = "{measured}"\n'
    drawn.text += f"sides = {sides}\nbottom = {lots.shown_in(bottom, kind)}\ntop = {lots.shown_in(top, kind)}\n"


def _elbow(lot: Random, kind: Kind, section: Section, drawn: InSpace) -> None:
    """Each cut turns by an equal share; a full segment is 2 R tan(turn / 2) long in the middle, an end half of that."""
    radius, angle, cuts = lot.choice((200, 320)), lot.choice((45, 60, 90)), lot.choice((1, 2, 3, 4))
    tangents = [lot.choice((0, 150, 320)) for _ in range(2)]
    r, first, last = (lots.in_mm(lots.shown_in(x, kind), kind) for x in (radius, *tangents))
    miter = angle / 2 / cuts
    half = r * tan(radians(miter))
    runs = [half + first, *[2 * half] * (cuts - 1), half + last]
    ends = [0.0, *[miter] * cuts, 0.0]
    drawn.members["BEND"] = []
    for run, left, right in zip(runs, ends, ends[1:], strict=False):
        low, high = lots.planes_of((left, 0.0), (right, 0.0))
        drawn.members["BEND"].append(lots.made_long(Solid(section, (low,), (high,)), "centerline", run))
    drawn.text += f'[[frame]]\nmark = "BEND"\nshape = "bend"\n{kind.bought}radius = {lots.shown_in(radius, kind)}\n'
    told = ", ".join(lots.shown_in(x, kind) for x in tangents)
    drawn.text += f"angle = {angle}\ncuts = {cuts}\ntangents = [{told}]\n"


def _wye(lot: Random, kind: Kind, section: Section, drawn: InSpace) -> None:
    """Three tubes that meet in a point: every two in the plane that halves their angle."""
    between, sizes = lot.choice((84, 90, 110)), [lot.choice((400, 550, 700)) for _ in range(3)]
    long = [lots.in_mm(lots.shown_in(size, kind), kind) for size in sizes]
    half = radians(between / 2)
    ways: list[Vector] = [(0.0, 0.0, -1.0), (-sin(half), 0.0, cos(half)), (sin(half), 0.0, cos(half))]
    drawn.members["WYE"] = []
    for i, way in enumerate(ways):
        stands = Member((0.0, 0.0, 0.0), way, (0.0, -1.0, 0.0), section.width / 2, section.height / 2)
        others = (ways[(i + j) % 3] for j in (1, 2))
        low = tuple(stands.plane((0.0, 0.0, 0.0), plus(way, other, -1.0)) for other in others)
        drawn.members["WYE"].append(Solid(section, low, ((long[i], 0.0, 0.0),)))
    trunk, *arms = (lots.shown_in(size, kind) for size in sizes)
    drawn.text += f'[[frame]]\nmark = "WYE"\nshape = "wye"\n{kind.bought}between = {between}\n'
    drawn.text += f"trunk = {trunk}\narms = [{', '.join(arms)}]\n"


def _turned(lot: Random, kind: Kind, section: Section, drawn: InSpace) -> None:
    """Pieces whose right cut is turned about the bar, clockwise seen from the left end: from y toward z."""
    for mark in "AB":
        left, right = (lot.choice((0.0, 45.0, -30.0, round(lot.uniform(5, 45), 2))) for _ in range(2))
        turn = lot.choice((90.0, -90.0, 180.0, round(lot.uniform(-180, 180), 1)))
        low, (_, p, q) = lots.planes_of((left, 0.0), (right, 0.0))
        c, s = cos(radians(turn)), sin(radians(turn))
        solid = Solid(section, (low,), ((0.0, p * c - q * s, p * s + q * c),))
        at, size = (
            lot.choice(("long-point", "short-point", "centerline", "overall")),
            lots.shown_in(lot.choice((500, 910)), kind),
        )
        count, other = lot.choice((1, 2, 4)), lot.choice((0, 0, 1))
        lots.want(drawn, mark, lots.made_long(solid, at, lots.in_mm(size, kind)), count, other)
        drawn.text += f'[[piece]]\nmark = "{mark}"\n{kind.bought}length = {size}\nat = "{at}"\nquantity = {count}\n'
        drawn.text += f"opposite = {other}\n" if other else ""
        arc = section.round and lot.random() < 0.5
        says = f"turned_arc = {turn / 360 * pi * section.width / kind.unit!r}" if arc else f"turned = {turn}"
        drawn.text += f"left = {left}\nright = {right}\n{says}\n"


Add = Callable[[Random, Kind, Section, InSpace], None]

KINDS: Sequence[tuple[Add, tuple[str, ...], bool]] = (
    (_rail, ("round-tube",), False),
    (_hopper, ("flat",), True),
    (_turned, ("round-tube", "round-bar", "rect-tube"), False),
    (_rail, ("rect-tube",), False),
    (_elbow, ("round-tube",), False),
    (_rail, ("angle", "channel"), True),
    (_wye, ("round-tube",), False),
)
"""What is made, of which shapes, and whether the blade must tilt for it: such a bar is rolled on its sides alone."""


def put_marks(drawn: InSpace, orders: Mapping[str, Sequence[str]]) -> None:
    """The members under their marks, by the order of each frame that the plan tells; alike are those of one mark."""
    for frame, order in orders.items():
        for mark, solid in zip(order, drawn.members[frame], strict=True):
            assert error(solid, drawn.pieces.setdefault(mark, solid)) < SAME, mark
            drawn.quantity[mark] = drawn.quantity.get(mark, 0) + 1
    for mark, solid in drawn.pieces.items():
        if len(solid.low) + len(solid.high) > 2:
            drawn.blanks[mark] = replace(solid, low=solid.low[:1], high=solid.high[:1])
