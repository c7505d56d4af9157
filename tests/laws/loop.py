"""A loop or chain put together again from its printed numbers, and once more with each of them out.

Nothing is imported from the package.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from tests.laws.chain import Bar, slopes

CLOSES = 1e-6
"""mm."""

OUT = 0.01
"""Degrees by which a number is moved, which must be seen."""

SEEN = 10 * CLOSES
"""A number that is out misses by more than this, mm."""

Pair = tuple[float, float]


@dataclass(frozen=True)
class Again:
    """By how much it misses, what the program says of that, and what it misses by with each number moved, mm."""

    missed: float
    proved: float
    moved: Sequence[tuple[str, float]]


def faults(kind: str, loops: Iterable[Again]) -> Iterator[str]:
    """Each that does not close, and each number moved that is not seen."""
    for number, loop in enumerate(loops, 1):
        out = max(loop.missed, loop.proved)
        if not out < CLOSES:
            yield f"{kind} {number} misses by {out:g} mm"
        for what, by in loop.moved:
            if not by > SEEN:
                yield f"{kind} {number}: the {what} may be out by {OUT} degrees"


def changed(bars: Sequence[Bar], i: int, **to: Pair) -> list[Bar]:
    one = bars[i]
    return [*bars[:i], Bar(one.length, to.get("left", one.left), to.get("right", one.right)), *bars[i + 1 :]]


def rolled(cut: Pair, degrees: float) -> Pair:
    """The same cut of a bar that is rolled by so much."""
    return from_slopes(*turned(slopes(cut), degrees))


def turned(slope: Pair, degrees: float) -> Pair:
    (p, q), c, s = slope, math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return p * c - q * s, p * s + q * c


def from_slopes(p: float, q: float) -> Pair:
    return math.degrees(math.atan(p)), math.degrees(math.atan(q * math.cos(math.atan(p))))


def moved(bars: Sequence[Bar], closed: bool) -> Iterator[tuple[str, list[Bar]]]:
    """The bars with each miter, bevel and roll in turn out by `OUT`, and what that is.

    But those of the free ends of an open chain, which no joint shows, and the roll of its first and last member, which
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
