"""Rails through random points in space, put together again from their printed lengths and angles by other code."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from random import Random

import numpy as np
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import SpaceAssembly, rail
from mitertool.frame.rails import Held
from tests.laws.chain import Bar, Matrix, joint, slopes, walk

SECTIONS = (
    mt.round_tube(42.4, 2.6),
    mt.rect_tube(60, 40, 3),
    mt.rect_tube(50, 50, 3),
    mt.angle(50, 50, 5, 6, 3),
    mt.channel(50, 100, 6, 8.5, 8.5),
)
Node = tuple[float, float, float]
CLOSES = 1e-6
OUT = 0.01


def rails(count: int, seed: int) -> Iterator[tuple[list[tuple[float, float, float]], SpaceAssembly, bool]]:
    """So many rails that can be made, open and closed in turn."""
    lot = Random(seed)
    made = 0
    while made < count:
        closed = made % 2 == 0
        nodes = [
            (lot.uniform(-2000, 2000), lot.uniform(-2000, 2000), lot.uniform(-1500, 1500))
            for _ in range(lot.randint(4, 7))
        ]
        top, roll = lot.choice(("up", "carried")), lot.choice((0.0, lot.uniform(-180, 180)))
        try:
            found = rail(nodes, lot.choice(SECTIONS), closed, roll, Held(top))
        except BadInput:
            continue
        made += 1
        yield nodes, found, closed


def bars_of(made: SpaceAssembly) -> list[Bar]:
    piece = {member.mark: member.piece for member in made.pieces}
    return [
        Bar(one.centerline, (one.left.miter, one.left.bevel), (one.right.miter, one.right.bevel))
        for one in (piece[mark] for mark in made.order)
    ]


def begun(made: SpaceAssembly) -> tuple[Matrix, Matrix]:
    first = made.stands[0]
    return np.array(first.at), np.array([first.along, first.across, first.up]).T


def missed(bars: Sequence[Bar], nodes: Sequence[Node], made: SpaceAssembly, closed: bool) -> float:
    """The furthest that a joint stands from its node, or a closed chain's first bar from where it began, mm."""
    ends = [at for at, _ in walk(bars, *begun(made))][1:]
    wanted = [*nodes[1:], nodes[0]] if closed else nodes[1:]
    out = max(float(np.linalg.norm(at - np.array(node))) for at, node in zip(ends, wanted, strict=True))
    if closed:
        turn = walk(bars, *begun(made))[-1][1] @ joint(bars[-1].right, bars[0].left)
        out = max(out, 100 * float(np.abs(turn - begun(made)[1]).max()))
    return out


def changed(bars: list[Bar], i: int, **to: tuple[float, float]) -> list[Bar]:
    one = bars[i]
    return [*bars[:i], Bar(one.length, to.get("left", one.left), to.get("right", one.right)), *bars[i + 1 :]]


def rolled(cut: tuple[float, float], degrees: float) -> tuple[float, float]:
    """The same cut of a bar that is rolled by so much."""
    p, q = slopes(cut)
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    p, q = p * c - q * s, p * s + q * c
    return math.degrees(math.atan(p)), math.degrees(math.atan(q * math.cos(math.atan(p))))


def test_five_hundred_rails_close() -> None:
    for nodes, made, closed in rails(500, seed=7):
        assert missed(bars_of(made), nodes, made, closed) < CLOSES
        assert max(made.closure.gap, made.closure.overlap) < CLOSES


def test_no_rail_closes_with_a_miter_out() -> None:
    """Each miter in turn, but of the free ends of an open one, which no joint shows."""
    for nodes, made, closed in rails(60, seed=8):
        bars = bars_of(made)
        for i, bar in enumerate(bars):
            for end in ("left", "right"):
                if not closed and (i, end) in ((0, "left"), (len(bars) - 1, "right")):
                    continue
                miter, bevel = getattr(bar, end)
                assert missed(changed(bars, i, **{end: (miter + OUT, bevel)}), nodes, made, closed) > 10 * CLOSES


def test_no_rail_closes_with_a_roll_out() -> None:
    """Each member but those at the ends of an open one: their roll turns them alone."""
    for nodes, made, closed in rails(60, seed=9):
        bars = bars_of(made)
        for i in range(0 if closed else 1, len(bars) - (0 if closed else 1)):
            out = changed(bars, i, right=rolled(bars[i].right, OUT))
            assert missed(out, nodes, made, closed) > 10 * CLOSES


@pytest.mark.parametrize("section", SECTIONS[1:4])
def test_the_turn_of_a_piece_is_from_long_point_to_long_point(section: mt.Section) -> None:
    """By the angles of the slopes in the section's plane, y to z, which is clockwise from the left end."""
    made = rail([(0, 0, 0), (900, 0, 0), (1700, 300, 500), (2000, 1200, 400)], section)
    (p, q), (r, t) = (slopes(cut) for cut in (bars_of(made)[1].left, bars_of(made)[1].right))
    wanted = math.degrees(math.atan2(t, r) - math.atan2(q, p))
    assert (made.turns[1].degrees - wanted + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)
