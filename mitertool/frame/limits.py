"""How much check lengths may be out while every corner stays within what it may be out; knows setting out.

Sides are taken as true, and angles to change in proportion to lengths. Lengths mm, angles degrees.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import degrees

from mitertool.base.totals import summed
from mitertool.frame.setting_out import FEW, SettingOut


def most_out(out: SettingOut, allowed: Mapping[int, float]) -> float | None:
    """What the diagonals of four corners may differ by, or every other check length may be out by, mm.

    `allowed` is what each corner may be out, degrees, by its number. Of check lengths that run from the first corner it
    is what all of them may be out at once, whichever way each of them is. None where nothing is checked, where check
    lengths cross a frame of many corners, which they do not hold, and where a corner has nothing that it may be out.
    """
    if not out.measures or any(one.number not in allowed for one in out.corners if one.joint is not None):
        return None
    if out.leans:
        return min(allowed[number] / lean for number, lean in enumerate(out.leans, 1))
    if len(out.corners) > FEW:
        return None
    rates = {one.number: _rate(out, one.number - 1) for one in out.corners if one.joint is not None}
    return min((allowed[number] / rate for number, rate in rates.items() if rate), default=None)


def _rate(out: SettingOut, corner: int) -> float:
    """By how much a corner is out at most, degrees, where every check length is by 1 mm."""
    by_length: dict[int, float] = {}
    for sign, angle, sides in _angles(out, corner):
        for end, by in zip(sides, angle, strict=True):
            if end is not None:
                by_length[end] = by_length.get(end, 0.0) + sign * by
    return degrees(summed(map(abs, by_length.values())))


def _angles(
    out: SettingOut, corner: int
) -> Iterator[tuple[float, tuple[float, float, float], tuple[int | None, int | None, int | None]]]:
    """The angles at a corner in the triangles between the first corner and each side, which add up to its own.

    Each with its sign (a triangle that lies on the other side counts off), by how much it changes where the length
    opposite and each of the two at its corner is 1 mm more, radians, and to which corner each of these lengths is
    measured from the first one: None for a side.
    """
    at = [one.over for one in out.corners]
    whole = summed(_turned(at[0], at[i], at[i + 1]) for i in range(1, len(at) - 1))
    for i in range(1, len(at) - 1):
        if corner not in (0, i, i + 1):
            continue
        first, other = (one for one in (0, i, i + 1) if one != corner)
        sides = ((first, other), (corner, first), (corner, other))
        sign = 1.0 if _turned(at[0], at[i], at[i + 1]) * whole > 0 else -1.0
        yield sign, _changes([abs(at[b] - at[a]) for a, b in sides]), _checked(out, sides)


def _checked(out: SettingOut, sides: Sequence[tuple[int, int]]) -> tuple[int | None, int | None, int | None]:
    """The corner to which each length is measured from the first one, None for a side of the frame."""
    last = {len(out.corners) - 1} if out.closed else set()
    a, b, c = (max(ends) if min(ends) == 0 and max(ends) not in {1} | last else None for ends in sides)
    return a, b, c


def _turned(a: complex, b: complex, c: complex) -> float:
    """Twice the area of a triangle, mm2, less than 0 where it is walked the other way."""
    return ((b - a).conjugate() * (c - a)).imag


def _changes(sides: Sequence[float]) -> tuple[float, float, float]:
    """How an angle of a triangle changes with the side opposite and those beside it, radians a mm.

    By the law of cosines: with the area K and a opposite, 2 K dA = a (da - cos C db - cos B dc).
    """
    a, b, c = sides
    cos_a = (b * b + c * c - a * a) / (2 * b * c)
    cos_b, cos_c = (a * a + c * c - b * b) / (2 * a * c), (a * a + b * b - c * c) / (2 * a * b)
    by = a / (b * c * max(0.0, 1 - cos_a * cos_a) ** 0.5)
    return by, -by * cos_c, -by * cos_b
