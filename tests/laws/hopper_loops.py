"""Hoppers by lot, put together again plate by plate from their printed sizes and angles.

A plate is laid against the one before with the edge of its measured face on the edge there and its cut face on the cut
face; the first stands on the bottom that was asked for. Where the corners of all plates have to be then follows from
bottom, top and height alone. Each plate is told in three ways, by miter and bevel lying flat, by the same standing on
its edge, and by roll and swing in a fixture; every angle of each is moved in turn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from mitertool.base.errors import BadInput
from mitertool.frame import SpaceAssembly, hopper
from mitertool.frame.hoppers import Sizes
from mitertool.frame.leaning import Leaning
from tests.laws.chain import Matrix, slopes
from tests.laws.loop import OUT, Again, Pair

Corners = list[Matrix]


@dataclass(frozen=True)
class Plate:
    """Length of its middle, width and thickness, mm; the slopes of its ends; its measured face up (1) or down (-1)."""

    length: float
    wide: float
    thick: float
    left: Pair
    right: Pair
    face: int

    def corner(self, end: str, side: int) -> Matrix:
        """A corner of the measured face, at the bottom of the side (-1) or its top (1)."""
        y, z = side * self.wide / 2, self.face * self.thick / 2
        p, q = self.right if end == "right" else self.left
        return np.array([self.length + p * y + q * z if end == "right" else -p * y - q * z, y, z])

    def frame(self, end: str) -> Matrix:
        """The edge of the measured face, upward; away from the bar square to the cut; and square to both."""
        edge = self.corner(end, 1) - self.corner(end, -1)
        p, q = self.right if end == "right" else self.left
        out = np.array([1.0, -p, -q]) if end == "right" else np.array([-1.0, -p, -q])
        edge, out = edge / np.linalg.norm(edge), out / np.linalg.norm(out)
        return np.array([edge, out, np.cross(edge, out)]).T


@dataclass(frozen=True)
class Asked:
    """Sides, thickness, sizes at the bottom and at the top across flats (one, or along X and Y), height, mm."""

    sides: int
    thickness: float
    bottom: tuple[float, ...]
    top: tuple[float, ...]
    height: float
    measured: str

    def outline(self, size: tuple[float, ...], height: float) -> Corners:
        """Counter-clockwise from above, the first side along X. A regular one has its flats size / 2 off."""
        if self.sides == 4:
            x, y = size[0] / 2, size[-1] / 2
            return [np.array([a * x, b * y, height]) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        middles = [2 * math.pi * i / self.sides - math.pi / 2 for i in range(self.sides)]
        ways = [np.array([math.cos(turn), math.sin(turn)]) for turn in middles]
        sides = zip([ways[-1], *ways[:-1]], ways, strict=True)
        return [np.array([*np.linalg.solve([one, other], [size[0] / 2] * 2), height]) for one, other in sides]


def asked(lot: Random) -> Asked:
    sides = lot.choice((3, 4, 4, 4, 5, 6, 7, 8, 12))
    kind = 2 if sides == 4 and lot.random() < 0.7 else 1
    bottom = tuple(lot.uniform(80, 600) for _ in range(kind))
    top = tuple(size + lot.choice((0.0, lot.uniform(5, 700))) for size in bottom)
    return Asked(sides, lot.uniform(2, 12), bottom, top, lot.uniform(60, 800), lot.choice(("outside", "inside")))


def hoppers(count: int, seed: int) -> Iterator[tuple[Asked, SpaceAssembly]]:
    """So many that can be made."""
    lot = Random(seed)
    made = 0
    while made < count:
        one = asked(lot)
        bottom, top = (size if len(size) == 2 else size[0] for size in (one.bottom, one.top))
        try:
            found = hopper(one.thickness, one.sides, Sizes(bottom, top, one.height), one.measured)  # type: ignore[arg-type]
        except BadInput:
            continue
        made += 1
        yield one, found


def on_edge(cut: Pair) -> Pair:
    """From miter and bevel of the plate on its edge, its outside to the moving side: what was across it is then up."""
    across, up = slopes(cut)
    return -up, across


def in_fixture(rolled: Pair) -> Pair:
    """From the roll, the outside toward the moving side, and the swing that is then left."""
    roll, swing = map(math.radians, rolled)
    return math.tan(swing) * math.cos(roll), math.tan(swing) * math.sin(roll)


@dataclass(frozen=True)
class Way:
    """How a plate is held, its two angles there, what is printed of them, and the slopes that they make."""

    held: str
    angles: tuple[str, str]
    printed: Callable[[Leaning], Pair]
    slopes: Callable[[Pair], Pair]


WAYS = (
    Way("flat", ("miter", "bevel"), lambda one: (one.piece.right.miter, one.piece.right.bevel), slopes),
    Way("on edge", ("miter", "bevel"), lambda one: (one.on_edge.miter, one.on_edge.bevel), on_edge),
    Way("in a fixture", ("roll", "swing"), lambda one: one.fixture, in_fixture),
)


def printed(made: SpaceAssembly, way: Way) -> list[Pair]:
    """The two angles of each plate in order; its ends are alike."""
    of = {one.mark: way.printed(one) for one in made.leaning}
    return [of[mark] for mark in made.order]


def plates(made: SpaceAssembly, face: int, way: Way) -> list[Plate]:
    piece = {member.mark: member.piece for member in made.pieces}
    return [
        Plate(one.centerline, one.section.width, one.section.height, ends, ends, face)
        for one, ends in zip((piece[mark] for mark in made.order), map(way.slopes, printed(made, way)), strict=True)
    ]


def missed(found: Sequence[Plate], one: Asked) -> float:
    """The furthest that a corner stands from where it was asked for, once around and on to the first plate, mm."""
    low, high = one.outline(one.bottom, 0.0), one.outline(one.top, one.height)
    turn, at = standing(found[0], low, high)
    out = 0.0
    for i, plate in enumerate((*found, found[0])):
        j = i % one.sides
        k = (j + 1) % one.sides
        wanted = (("left", -1, low[j]), ("right", -1, low[k]), ("left", 1, high[j]), ("right", 1, high[k]))
        out = max(out, *(float(np.linalg.norm(at + turn @ plate.corner(e, s) - place)) for e, s, place in wanted))
        if i < one.sides:
            after = found[k]
            meets = turn @ plate.frame("right") @ np.diag([1.0, -1.0, -1.0])
            at = at + turn @ plate.corner("right", -1)
            turn = meets @ after.frame("left").T
            at = at - turn @ after.corner("left", -1)
    return out


def standing(first: Plate, low: Corners, high: Corners) -> tuple[Matrix, Matrix]:
    """The first plate on the bottom edge that was asked for, leaning as the side there does."""
    along = (low[1] - low[0]) / np.linalg.norm(low[1] - low[0])
    rises = high[0] + high[1] - low[0] - low[1]
    up = rises - along * (rises @ along)
    up = up / np.linalg.norm(up)
    turn = np.array([along, up, np.cross(along, up)]).T
    return turn, low[0] - turn @ first.corner("left", -1)


def moved(made: SpaceAssembly, face: int, way: Way) -> Iterator[tuple[str, list[Plate]]]:
    """The plates with each angle of each end in turn out by `OUT`."""
    right = plates(made, face, way)
    for i, (one, other) in enumerate(printed(made, way)):
        for what, figures in zip(way.angles, ((one + OUT, other), (one, other + OUT)), strict=True):
            for end in ("left", "right"):
                wrong = replace(right[i], **{end: way.slopes(figures)})
                yield f"{what} of the {end} end of plate {i + 1}, held {way.held}", [*right[:i], wrong, *right[i + 1 :]]


def loops(count: int, seed: int) -> Iterator[Again]:
    for one, made in hoppers(count, seed):
        face = 1 if one.measured == "outside" else -1
        out = max(missed(plates(made, face, way), one) for way in WAYS)
        wrong = [(what, missed(found, one)) for way in WAYS for what, found in moved(made, face, way)]
        yield Again(out, max(made.closure.gap, made.closure.overlap), wrong)
