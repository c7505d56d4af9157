"""Rails through random points in space, put together again from their printed lengths and angles by other code.

`tests.laws.chain` walks them; here is what a rail misses its nodes by, and every way in which one number of it is out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from random import Random

import numpy as np

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


def moved(bars: list[Bar], closed: bool) -> Iterator[tuple[str, list[Bar]]]:
    """The bars with each miter, bevel and roll in turn out by `OUT`, and what that is.

    But those of the free ends of an open rail, which no joint shows, and the roll of its first and last member, which
    turns them alone.
    """
    for i, bar in enumerate(bars):
        free = set() if closed else {(0, "left"), (len(bars) - 1, "right")}
        for end in ("left", "right"):
            if (i, end) in free:
                continue
            miter, bevel = getattr(bar, end)
            yield f"miter of the {end} end of bar {i + 1}", changed(bars, i, **{end: (miter + OUT, bevel)})
            yield f"bevel of the {end} end of bar {i + 1}", changed(bars, i, **{end: (miter, bevel + OUT)})
        if closed or 0 < i < len(bars) - 1:
            yield f"roll of bar {i + 1}", changed(bars, i, right=rolled(bar.right, OUT))


def faults(count: int, seed: int) -> Iterator[str]:
    """Each of so many rails that does not close, and each number moved that is not seen."""
    for number, (nodes, made, closed) in enumerate(rails(count, seed), 1):
        bars = bars_of(made)
        out = max(missed(bars, nodes, made, closed), made.closure.gap, made.closure.overlap)
        if not out < CLOSES:
            yield f"rail {number} misses by {out:g} mm"
        for what, wrong in moved(bars, closed):
            if not missed(wrong, nodes, made, closed) > 10 * CLOSES:
                yield f"rail {number}: the {what} may be out by {OUT} degrees"
