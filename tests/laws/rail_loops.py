"""Rails through random points in space, put together again from their printed lengths and angles by other code."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

import numpy as np

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import SpaceAssembly, rail
from mitertool.frame.assembly import Assembly
from mitertool.frame.rails import Held
from tests.laws.chain import Bar, Matrix, joint, walk
from tests.laws.loop import Again, moved

SECTIONS = (
    mt.round_tube(42.4, 2.6),
    mt.rect_tube(60, 40, 3),
    mt.rect_tube(50, 50, 3),
    mt.angle(50, 50, 5, 6, 3),
    mt.channel(50, 100, 6, 8.5, 8.5),
)
Node = tuple[float, float, float]


def rails(count: int, seed: int) -> Iterator[tuple[list[Node], SpaceAssembly, bool]]:
    """So many rails that can be made, open and closed in turn; half of the closed ones drawn by their cuts.

    In an open one so drawn nothing shows a bevel of its last joint that is out, but that it is rolled by as much.
    """
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
            found = rail(nodes, lot.choice(SECTIONS), closed, roll, Held(top, by_cuts=closed and lot.random() < 0.5))
        except BadInput:
            continue
        made += 1
        yield nodes, found, closed


def bars_of(made: Assembly) -> list[Bar]:
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


def loops(count: int, seed: int) -> Iterator[Again]:
    for nodes, made, closed in rails(count, seed):
        bars = bars_of(made)
        wrong = [(what, missed(one, nodes, made, closed)) for what, one in moved(bars, closed)]
        yield Again(missed(bars, nodes, made, closed), max(made.closure.gap, made.closure.overlap), wrong)
