"""Outer corners of a frame from what a drawing gives: sizes, corner points, or sides and angles; knows numbers only.

Points are complex numbers x + iy in mm. A frame is walked clockwise; lines given another way round are turned.
"""

from __future__ import annotations

import itertools
from cmath import exp
from collections.abc import Sequence
from math import cos, hypot, pi, radians, sin
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES, TYPED
from mitertool.base.totals import summed
from mitertool.frame.sizes import refuse_no_size
from mitertool.geometry.near import box_of, near_pairs
from mitertool.quantity.problem import Remark, counts
from mitertool.quantity.problem import lengths as shown
from mitertool.words import phrase

FEWEST_SIDES: Final = 3
MOST_SIDES: Final = 360
REGULAR_SIZES: Final = ("side", "across_flats", "across_corners")


def regular(sides: int, given: str, size: float) -> tuple[complex, ...]:
    """Corners of a regular polygon by its `side`, `across_flats` (twice the inscribed radius) or `across_corners`
    (twice the circumscribed radius), mm, clockwise, the first side on top."""
    if not FEWEST_SIDES <= sides <= MOST_SIDES:
        raise BadInput("sides", sides, phrase("refuse.from-to", least=FEWEST_SIDES, most=MOST_SIDES))
    refuse_no_size(**{given: size})
    half = pi / sides
    radius = {
        "side": size / 2 / sin(half),
        "across_flats": size / 2 / cos(half),
        "across_corners": size / 2,
    }[given]
    return tuple(radius * exp(1j * (pi / 2 + half - 2 * half * i)) for i in range(sides))


def by_sides_and_angles(lengths: Sequence[float], angles: Sequence[float], closed: bool = True) -> tuple[complex, ...]:
    """Corners of a polygon by its sides (mm) and the angles inside it after each side (degrees).

    In a closed one the last angle closes it and may be left out; an open one has an angle between each two sides, and
    both its ends among the corners. Raises `BadInput` with the miss where the sides of a closed one do not close.
    """
    _refuse_counts(len(lengths), len(angles), closed)
    corners, heading = [0j], 0.0
    for length, angle in zip(lengths, [*angles, 180.0][: len(lengths)], strict=True):
        corners.append(corners[-1] + length * exp(1j * radians(heading)))
        heading -= 180 - angle
    if not closed:
        return tuple(corners)
    miss = corners[-1]
    if abs(miss) > TYPED:
        found = Remark("found.open-by", shown(miss=abs(miss), x=miss.real, y=miss.imag))
        allowed = Remark("refuse.open-by", shown(within=TYPED))
        raise BadInput("polygon", found, allowed)
    return tuple(corners[:-1])


def _refuse_counts(sides: int, angles: int, closed: bool) -> None:
    found = phrase("found.sides-and-angles", sides=sides, angles=angles)
    if closed and (sides < 3 or angles not in (sides, sides - 1)):
        raise BadInput(phrase("what.sides-and-angles"), found, phrase("refuse.sides-and-angles/closed"))
    if not closed and (sides < 2 or angles != sides - 1):
        raise BadInput(phrase("what.sides-and-angles"), found, phrase("refuse.sides-and-angles/open"))


def clockwise(corners: Sequence[complex]) -> bool:
    """Whether a closed polygon is walked clockwise."""
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    return summed((a.conjugate() * b).imag for a, b in pairs) < 0


def offset(corners: Sequence[complex], outward: Sequence[float], closed: bool) -> tuple[complex, ...]:
    """Corners of the lines that lie `outward` (mm, one a side, to the left of the walk) of the sides given.

    Raises `BadInput` where two neighbouring sides lie in one line but are moved by different distances.
    """
    points = [*corners, corners[0]] if closed else list(corners)
    ways = [(b - a) / abs(b - a) for a, b in itertools.pairwise(points)]
    count = len(ways)
    moved = []
    for i in range(len(corners)):
        before, after = (i - 1) % count if closed or i else 0, i % count if closed or i < count else count - 1
        moved.append(_crossing(corners[i], ways[before], outward[before], ways[after], outward[after], i))
    return tuple(moved)


def _crossing(at: complex, way_a: complex, out_a: float, way_b: complex, out_b: float, i: int) -> complex:
    """Where two lines through `at`, each moved to its left, cross."""
    turn = (way_a.conjugate() * way_b).imag
    if abs(turn) < 1e-9:
        if abs(out_a - out_b) > CLOSES:
            raise BadInput(phrase("what.corner"), phrase("found.straight", corner=i + 1), phrase("refuse.straight"))
        return at + 1j * way_a * out_a
    along = ((way_a.conjugate() * way_b).real * out_a - out_b) / turn
    return at + way_a * (1j * out_a + along)


def refuse_crossing(corners: Sequence[complex], closed: bool) -> None:
    """Raise `BadInput` with the place where sides cross, or for a side of no length."""
    points = [*corners, corners[0]] if closed else list(corners)
    for i, (a, b) in enumerate(itertools.pairwise(points), 1):
        if abs(b - a) < CLOSES:
            raise BadInput(
                phrase("where.side", side=i),
                Remark("found.length", shown(length=abs(b - a))),
                phrase("refuse.no-side"),
            )
    sides = list(itertools.pairwise(points))
    for i, j in near_pairs([box_of(side) for side in sides], CLOSES):
        if neighbours(i, j, len(sides), closed):
            continue
        place = _meeting(*sides[i], *sides[j])
        if place is not None:
            sides_crossing = counts(first=i + 1, second=j + 1) + shown(x=place.real, y=place.imag)
            found = Remark("found.crossing", sides_crossing)
            raise BadInput(phrase("what.members"), found, phrase("refuse.members-cross"))


def neighbours(i: int, j: int, count: int, closed: bool) -> bool:
    """Whether side j follows side i of so many; of a closed frame the first one follows the last."""
    return j - i == 1 or (closed and (i, j) == (0, count - 1))


def _meeting(a: complex, b: complex, c: complex, d: complex) -> complex | None:
    """Where two segments meet, ends included; None where they do not."""
    u, v, w = b - a, d - c, c - a
    turn = (u.conjugate() * v).imag
    if abs(turn) < 1e-12 * hypot(abs(u), abs(v)) ** 2:
        return None
    s, t = (w.conjugate() * v).imag / turn, (w.conjugate() * u).imag / turn
    return a + s * u if 0 <= s <= 1 and 0 <= t <= 1 else None
