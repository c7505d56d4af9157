"""Which of many things in the plane may touch, by their boxes; knows nothing of what they are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Box = tuple[float, float, float, float]
"""Least x and y, greatest x and y, mm."""


def box_of(points: Iterable[complex]) -> Box:
    """The box of points x + iy."""
    xs, ys = zip(*((point.real, point.imag) for point in points), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def low_and_size(points: Iterable[complex]) -> tuple[complex, complex]:
    """The lower left corner of the box of points x + iy, and how wide and how high it is, mm."""
    left, low, right, high = box_of(points)
    return complex(left, low), complex(right - left, high - low)


def near_pairs(boxes: Sequence[Box], within: float = 0.0) -> list[tuple[int, int]]:
    """The numbers (i, j), i < j, of the boxes that come `within` mm of each other in x and in y, in order.

    The boxes are met from left to right, and each is held against those alone that have not ended before it begins: of
    a ring that is a few, where all pairs of a thousand sides are half a million.
    """
    found: list[tuple[int, int]] = []
    begun: list[int] = []
    for i in sorted(range(len(boxes)), key=lambda i: boxes[i][0]):
        left, low, _, high = boxes[i]
        begun = [j for j in begun if boxes[j][2] + within >= left]
        meet = (j for j in begun if boxes[j][1] <= high + within and low <= boxes[j][3] + within)
        found += [(i, j) if i < j else (j, i) for j in meet]
        begun.append(i)
    return sorted(found)
