"""The told roll between the two cuts of a member, done on a saw in space: the member comes off, no mirror image.

The bar lies along the feed, f; the blade stands upright, square to f turned about the vertical by its swing. The bar is
cut at its first end, rolled as told by who looks at that end, and cut at its other end. Two planes on an axis are the
same body where their angles to it, to each other, and the hand of the three agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise, product
from math import acos, cos, degrees, pi, radians, sin
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray

import mitertool as mt
from mitertool.frame import SpaceAssembly
from mitertool.frame.rails import Held, rail
from mitertool.packet.pages.fitter.held import held_tables

Vector = NDArray[np.float64]

SECTIONS = (mt.round_tube(42.4, 2.6), mt.rect_tube(60, 40, 3), mt.angle(50, 50, 5))
UPRIGHT: Vector = np.array([0.0, 0.0, 1.0])
NEAR = 1e-3
"""What hundredths of a degree leave in products of directions, at the most a few of 1.7e-4."""

ROLLED = re.compile(r"rolled ([\d.]+) degrees (clockwise|counter-clockwise)")
IN_ALL = re.compile(r"([\d.]+) (clockwise|counter-clockwise) in all")
SWINGS = re.compile(r"swings of ([\d.]+) and ([\d.]+) alone")


def about(axis: Vector, a: Vector, turn: float) -> Vector:
    """Turned clockwise for who looks along the axis, degrees."""
    c, s = cos(radians(turn)), sin(radians(turn))
    return a * c + np.cross(axis, a) * s + axis * (axis @ a) * (1 - c)


def body(axis: Vector, left: Vector, right: Vector) -> Vector:
    """What no motion changes of two planes on an axis; the last changes its sign in a mirror."""
    return np.array([left @ axis, right @ axis, left @ right, axis @ np.cross(left, right)])


def cut_as_told(swings: tuple[float, float], roll: float, arm: int, first: int, lies: int, side: int) -> Vector:
    """The body that two cuts make, the `first` 0 (left) or 1; `arm` is -1 where it then goes to its other side.

    The axis goes `lies` with the feed; the arm goes to `side` first. In the bar's own directions, which the roll turns.
    """
    feed: Vector = np.array([1.0, 0.0, 0.0])
    axis = feed * lies
    looks = axis if first == 0 else -axis
    made = {first: about(UPRIGHT, axis, side * swings[first])}
    other = about(UPRIGHT, axis, side * arm * swings[1 - first])
    made[1 - first] = about(looks, other, -roll)  # as it is on the bar before it was rolled
    return body(axis, made[0], made[1])


def drawn(nodes: list[Vector]) -> Iterator[Vector]:
    """Each member between two joints, by the planes that halve its turns."""
    ways = [(b - a) / np.linalg.norm(b - a) for a, b in pairwise(nodes)]
    planes = [(a + b) / np.linalg.norm(a + b) for a, b in pairwise(ways)]
    return (body(way, *ends) for way, ends in zip(ways[1:-1], pairwise(planes), strict=True))


def signed(angle: str, way: str) -> float:
    return float(angle) if way == "clockwise" else -float(angle)


def told(made: SpaceAssembly) -> Iterator[tuple[tuple[float, float], float, float]]:
    """Swings and both rolls of every member between two joints, as its sentence has them."""
    for note in made.notes:
        says = note.in_units("mm")
        if (rolled := ROLLED.search(says)) and (whole := IN_ALL.search(says)) and (swings := SWINGS.search(says)):
            yield (float(swings[1]), float(swings[2])), signed(*rolled.groups()), signed(*whole.groups())


def rails(count: int, seed: int) -> Iterator[tuple[list[Vector], SpaceAssembly]]:
    lot = Random(seed)
    while count:
        nodes = [np.array([lot.uniform(-1500, 1500) for _ in "xyz"]) for _ in range(5)]
        ways = [(b - a) / np.linalg.norm(b - a) for a, b in pairwise(nodes)]
        if all(20 < degrees(acos(a @ b)) < 100 for a, b in pairwise(ways)):
            count -= 1
            held = Held(lot.choice(("up", "carried")))
            yield nodes, rail([(x, y, z) for x, y, z in nodes], lot.choice(SECTIONS), held=held)


def test_what_the_told_roll_makes_is_the_member_and_not_its_mirror_image() -> None:
    """Fifty rails, whichever end leads, whichever is cut first, whichever way the arm goes first."""
    for nodes, made in rails(50, seed=3):
        for wanted, (swings, both, one) in zip(drawn(nodes), told(made), strict=True):
            for roll, arm in ((both, -1), (one, 1)):
                for first, lies, side in product((0, 1), (1, -1), (1, -1)):
                    found = cut_as_told(swings, roll, arm, first, lies, side)
                    assert found == pytest.approx(wanted, abs=NEAR), (nodes, roll, arm, first, lies, side)


def test_the_table_of_rolls_says_the_same() -> None:
    for _, made in rails(5, seed=11):
        _, table = held_tables(made, "mm")
        figures = [(row[4], row[6] if len(row) > 6 else row[5]) for row in table.rows if row[4]]
        for shown, (_, both, one) in zip(figures, told(made), strict=True):
            for says, roll in zip(shown, (both, one), strict=True):
                angle, way = says.split("° ")
                assert signed(angle, way) == pytest.approx(roll, abs=1e-9)


STAIR = [(0.0, 0.0, 0.0), (3000.0, 0.0, 2000.0), (4200.0, 0.0, 2000.0), (4200.0, 2000.0, 3300.0)]


def test_a_landing_of_a_stair_by_hand() -> None:
    """Level along X; before it the rail turned down, so that its long point is on top; after it the rail turns to +Y,
    the left, and up by 1300 in 2000: its long point is right and below, 180 - atan(2000 / 1300) = 123.02 clockwise from
    the top. It is rolled as much counter-clockwise to bring it on top again."""
    turn = rail(STAIR, mt.rect_tube(40, 40, 3)).turns[1]
    right_of_the_top = 180 - degrees(np.arctan2(2000, 1300))
    assert right_of_the_top == pytest.approx(123.02, abs=0.01)
    assert turn.degrees == pytest.approx(right_of_the_top, abs=1e-9)
    assert (turn.both_ways, turn.one_way) == pytest.approx((-right_of_the_top, 180 - right_of_the_top), abs=1e-9)


def test_to_which_side_a_top_leans() -> None:
    """Looking along +Y, +X is at the right. The top carried over the fold of the stair: turned about d2 x d3 as d2 goes
    to d3, by Rodrigues."""
    ways = [(b - a) / np.linalg.norm(b - a) for a, b in pairwise(map(np.array, STAIR))]
    up = np.cross(ways[0], np.cross(UPRIGHT, ways[0]))
    up /= np.linalg.norm(up)
    for before, after in pairwise(ways):
        axis = np.cross(before, after)
        turn = degrees(acos(before @ after))
        up = about(axis / np.linalg.norm(axis), up, turn)
    assert up == pytest.approx([-0.545, -0.457, 0.703], abs=1e-3)
    made = rail(STAIR, mt.rect_tube(40, 40, 3), held=Held("carried"))
    (leans,) = [note for note in made.notes if note.code == "note.leans"]
    assert leans.case == "left"


def test_a_roll_clockwise_leans_to_the_right() -> None:
    """A member along +Y rolled clockwise as one looks along it has its top to +X, the right."""
    made = rail([(0, 0, 0), (0, 1000, 0)], mt.rect_tube(60, 40, 3), roll=30.0)
    assert made.stands[0].up == pytest.approx((sin(pi / 6), 0, cos(pi / 6)), abs=1e-9)
    (leans,) = [note for note in made.notes if note.code == "note.leans"]
    assert leans.case == "right"
    assert made.stands[0].up[0] > 0
