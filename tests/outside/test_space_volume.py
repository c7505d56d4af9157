"""Rails, hoppers, elbows as solids in a general mesh library: no two members share any room, and no face gapes.

manifold3d (Apache-2.0) unites the solids. Each member is built here from its printed length and angles (walked by
tests.laws.chain), as a bar with a rectangular or sixteen-sided outline and sharp corners, cut by its two planes. Where
members only touch, the volume of the union is the sum of the volumes. Pushed a little into the next, each loses its
whole face's worth of it, which it would not where faces stood off each other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise
from random import Random
from typing import Any

import numpy as np
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import SpaceAssembly, rail
from mitertool.frame.rails import Held
from tests.laws.chain import Bar, Matrix, slopes, walk
from tests.laws.elbow_loops import elbows
from tests.laws.hopper_loops import hoppers
from tests.laws.rail_loops import bars_of

pytestmark = pytest.mark.outside

RELATIVE = 1e-6
"""The library joins faces that lie in one plane within a tolerance of its own."""

STRAIGHT_ON = 120.0
"""degrees. An S whose bends turn further may run over itself."""

PUSHED = 0.05
"""mm. So little that what a face loses at its rim is far below a tenth of it."""


def outline(wide: float, high: float, round_one: bool) -> list[tuple[float, float]]:
    """The corners of a section about its middle, counter-clockwise."""
    if not round_one:
        return [(-wide / 2, -high / 2), (wide / 2, -high / 2), (wide / 2, high / 2), (-wide / 2, high / 2)]
    return [(wide / 2 * math.cos(math.pi * i / 8), wide / 2 * math.sin(math.pi * i / 8)) for i in range(16)]


def solid(bar: Bar, corners: Sequence[tuple[float, float]], at: Matrix, turn: Matrix, pushed: float = 0.0) -> Any:
    """The bar between its planes, placed; `pushed` longer at its right end, mm."""
    from manifold3d import Manifold, Mesh64

    (p, q), (r, t) = slopes(bar.left), slopes(bar.right)
    left = [(-p * y - q * z, y, z) for y, z in corners]
    right = [(bar.length + pushed + r * y + t * z, y, z) for y, z in corners]
    points = np.array([at + turn @ np.array(point) for point in (*left, *right)])
    n = len(corners)
    sides = [(i, n + (i + 1) % n, n + i) for i in range(n)] + [(i, (i + 1) % n, n + (i + 1) % n) for i in range(n)]
    caps = [(0, i + 1, i) for i in range(1, n - 1)] + [(n, n + i, n + i + 1) for i in range(1, n - 1)]
    return Manifold(Mesh64(points, np.array([*sides, *caps], dtype=np.uint64)))


def shared(solids: Sequence[Any]) -> float:
    """What the solids have in common, mm3."""
    from manifold3d import Manifold, OpType

    return sum(one.volume() for one in solids) - Manifold.batch_boolean(list(solids), OpType.Add).volume()


def in_two(pairs: Iterable[tuple[Any, Any]]) -> float:
    """What the two of each pair have in common, mm3."""
    return sum(float((one ^ other).volume()) for one, other in pairs)


def stood(made: SpaceAssembly, bars: Sequence[Bar]) -> list[tuple[Matrix, Matrix]]:
    first = made.stands[0]
    return walk(bars, np.array(first.at), np.array([first.along, first.across, first.up]).T)[: len(bars)]


def rails(count: int) -> list[SpaceAssembly]:
    """Stairs by lot: each member goes on from the one before, so that none comes back to another."""
    lot, found = Random(20), []
    while len(found) < count:
        nodes = [(0.0, 0.0, 0.0)]
        for _ in range(lot.randint(3, 5)):
            heading = math.radians(lot.uniform(-60, 60))
            run, rise = lot.uniform(400, 900), lot.uniform(-300, 500)
            x, y, z = nodes[-1]
            nodes.append((x + run * math.cos(heading), y + run * math.sin(heading), z + rise))
        section = lot.choice((mt.rect_tube(60, 40, 3), mt.round_tube(48.3, 3.2)))
        try:
            found.append(rail(nodes, section, held=Held(lot.choice(("up", "carried")))))
        except BadInput:
            continue
    return found


def area(corners: Sequence[tuple[float, float]]) -> float:
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs) / 2


def test_members_of_two_hundred_rails_only_touch() -> None:
    for made in rails(200):
        section, bars = made.pieces[0].piece.section, bars_of(made)
        corners = outline(section.width, section.height, section.shape.round)
        stands = list(zip(bars, stood(made, bars), strict=True))
        solids = [solid(bar, corners, *stand) for bar, stand in stands]
        assert abs(shared(solids)) < RELATIVE * sum(one.volume() for one in solids)
        if section.shape.round and all(abs(twist) < 1e-6 for twist in made.twists):
            pushed = [solid(bar, corners, *stand, PUSHED) for bar, stand in stands]
            faces = (len(bars) - 1) * area(corners) * PUSHED
            assert shared(pushed) > 0.9 * faces


def test_members_pushed_into_each_other_are_seen() -> None:
    made = rails(1)[0]
    section, bars = made.pieces[0].piece.section, bars_of(made)
    corners = outline(section.width, section.height, section.shape.round)
    solids = [solid(bar, corners, *stand, 1.0) for bar, stand in zip(bars, stood(made, bars), strict=True)]
    assert shared(solids) > 10 * RELATIVE * sum(one.volume() for one in solids)


def test_plates_of_a_hundred_hoppers_only_touch() -> None:
    """Where slopes are unequal the faces of a joint are not alike, so that only one face in part meets the other."""
    for asked, made in hoppers(100, seed=20):
        piece = {member.mark: member.piece for member in made.pieces}
        sections = [piece[mark].section for mark in made.order]
        turns = [np.array([stand.along, stand.across, stand.up]).T for stand in made.stands]
        ats = [np.array(stand.at) for stand in made.stands]
        corners = [outline(one.width, one.height, False) for one in sections]
        places = list(zip(bars_of(made), corners, ats, turns, strict=True))
        solids = [solid(*place) for place in places]
        assert abs(shared(solids)) < RELATIVE * sum(one.volume() for one in solids), asked
        pushed = [solid(*place, PUSHED) for place in places]
        faces = sum(area(one) for one in corners) * PUSHED
        alike = len({round(one.width, 6) for one in sections}) == 1
        assert shared(pushed) > (0.9 if alike else 0.5) * faces, asked


def test_segments_of_a_hundred_elbows_only_touch() -> None:
    """Asked of every two of them: over a union of many that touch the library once lost more than its tolerance."""
    for asked, made in elbows(100, seed=20):
        section, bars = made.pieces[0].piece.section, bars_of(made)
        corners = outline(section.width, section.height, section.shape.round)
        stands = list(zip(bars, walk(bars, np.zeros(3), np.eye(3)), strict=False))
        solids = [solid(bar, corners, *stand) for bar, stand in stands]
        assert in_two(pairwise(solids)) < RELATIVE * sum(one.volume() for one in solids), asked
        if asked.offset is None or asked.angle < STRAIGHT_ON:
            assert in_two(combinations(solids, 2)) < RELATIVE * sum(one.volume() for one in solids), asked
        pushed = [solid(bar, corners, *stand, PUSHED) for bar, stand in stands]
        assert in_two(pairwise(pushed)) > 0.9 * (len(bars) - 1) * area(corners) * PUSHED, asked
