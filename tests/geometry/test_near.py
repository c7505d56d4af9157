"""Boxes that may touch: by hand, and a sweep beside all pairs of boxes by lot."""

from __future__ import annotations

from itertools import combinations
from random import Random

from mitertool.geometry.near import box_of, near_pairs


def test_by_hand() -> None:
    row = [(0.0, 0.0, 2.0, 1.0), (5.0, 0.0, 6.0, 1.0), (1.0, 0.5, 3.0, 4.0), (2.5, 4.5, 5.5, 5.0)]
    assert near_pairs(row) == [(0, 2)]
    assert near_pairs(row, 0.5) == [(0, 2), (2, 3)]
    assert near_pairs([(0.0, 0.0, 1.0, 1.0), (1.0, 1.0, 2.0, 2.0)]) == [(0, 1)]
    assert box_of([3 + 1j, -2 + 4j, 0j]) == (-2.0, 0.0, 3.0, 4.0)


def test_a_sweep_finds_what_all_pairs_find() -> None:
    lot = Random(19)
    boxes = [
        (x, y, x + lot.uniform(0, 9), y + lot.uniform(0, 9))
        for x, y in ((lot.uniform(0, 60), lot.uniform(0, 60)) for _ in range(120))
    ]
    for within in (0.0, 1.5):
        pairs = [
            (i, j)
            for i, j in combinations(range(len(boxes)), 2)
            if all(max(boxes[i][k], boxes[j][k]) <= min(boxes[i][k + 2], boxes[j][k + 2]) + within for k in (0, 1))
        ]
        assert near_pairs(boxes, within) == pairs
        assert len(pairs) > 50
