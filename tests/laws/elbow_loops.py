"""Elbows and S-bends by lot, put together again from their printed lengths and angles.

Where the last piece ends and how it lies is the closed form of a tangent, an arc and a tangent, of an S with a straight
and an arc back between them; nothing of the segments goes into it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import elbow
from mitertool.frame.assembly import Assembly
from mitertool.frame.elbows import Straights
from tests.laws.chain import Bar, about_z, walk
from tests.laws.loop import Again, moved
from tests.laws.rail_loops import bars_of

SECTIONS = (mt.round_tube(114.3, 5), mt.round_tube(60.3, 3), mt.rect_tube(80, 80, 4), mt.rect_tube(60, 40, 3))


@dataclass(frozen=True)
class Asked:
    """A bend to the fixed side: lengths in mm, its angle in degrees; `ends` outright, or tangents beside the bend."""

    radius: float
    angle: float
    cuts: int
    tangents: tuple[float, float]
    ends: tuple[float, float] | None
    offset: float | None

    @property
    def beyond(self) -> tuple[float, float]:
        """What is straight before and after the arcs, mm; the end piece is half a segment, R tan(angle/2N), longer."""
        if self.ends is None:
            return self.tangents
        half = self.radius * math.tan(math.radians(self.angle / 2 / self.cuts))
        return self.ends[0] - half, self.ends[1] - half

    @property
    def finish(self) -> tuple[complex, float]:
        """Where the end of the last piece lies from the start of the first, which goes along x, and its heading."""
        turn, (first, last) = math.radians(self.angle), self.beyond
        arc = complex(math.sin(turn), math.cos(turn) - 1) * self.radius
        way = complex(math.cos(turn), -math.sin(turn))
        if self.offset is None:
            return first + arc + last * way, -turn
        straight = (self.offset - 2 * self.radius * (1 - math.cos(turn))) / math.sin(turn)
        return first + 2 * arc + straight * way + last, 0.0


def asked(lot: Random) -> Asked:
    radius, angle, cuts = lot.uniform(60, 600), lot.uniform(15, 180), lot.randint(1, 8)
    tangents = lot.uniform(0, 400), lot.uniform(0, 400)
    ends = (lot.uniform(50, 500), lot.uniform(50, 500)) if lot.random() < 0.3 else None
    over = 2 * radius * (1 - math.cos(math.radians(angle)))
    return Asked(radius, angle, cuts, tangents, ends, lot.choice((None, over * lot.uniform(1, 2))))


def elbows(count: int, seed: int) -> Iterator[tuple[Asked, Assembly]]:
    """So many that can be made."""
    lot = Random(seed)
    made = 0
    while made < count:
        one = asked(lot)
        run = Straights(one.tangents, one.offset, one.ends)
        try:
            found = elbow(lot.choice(SECTIONS), one.radius, one.angle, one.cuts, run)
        except BadInput:
            continue
        made += 1
        yield one, found


def missed(bars: Sequence[Bar], one: Asked) -> float:
    """By how much the last piece misses its end, or a spot 100 mm beside it, mm."""
    at, turn = walk(bars, np.zeros(3), np.eye(3))[-1]
    wanted, heading = one.finish
    off = np.linalg.norm(at - np.array([wanted.real, wanted.imag, 0.0]))
    return max(float(off), 100 * float(np.abs(turn - about_z(heading)).max()))


def loops(count: int, seed: int) -> Iterator[Again]:
    for one, made in elbows(count, seed):
        bars = bars_of(made)
        wrong = [(what, missed(bar, one)) for what, bar in moved(bars, closed=False)]
        yield Again(missed(bars, one), max(made.closure.gap, made.closure.overlap), wrong)
