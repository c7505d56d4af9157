"""Lettering moved apart as little as it needs; expected places by hand: two that meet stand about their middle."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.packet.paper.spread import spread

NEAR = 1e-9


@pytest.mark.parametrize(
    ("wanted", "widths", "placed"),
    [
        ([], [], []),
        ([7.0], [4.0], [7.0]),
        ([10.0, 20.0], [4.0, 4.0], [10.0, 20.0]),
        ([10.0, 11.0], [4.0, 4.0], [8.5, 12.5]),
        ([10.0, 10.0, 10.0], [4.0, 4.0, 4.0], [6.0, 10.0, 14.0]),
        ([0.0, 50.0], [6.0, 4.0], [3.0, 50.0]),
        ([99.0, 100.0], [4.0, 4.0], [94.0, 98.0]),
        # More than there is room for runs out by the same at either end: 3 x 40 on 100.
        ([10.0, 20.0, 30.0], [40.0, 40.0, 40.0], [10.0, 50.0, 90.0]),
    ],
)
def test_by_hand(wanted: list[float], widths: list[float], placed: list[float]) -> None:
    assert spread(wanted, widths, 0.0, 100.0) == pytest.approx(placed, abs=NEAR)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 9)), min_size=2, max_size=9))
def test_none_stands_on_another_and_none_is_moved_for_nothing(texts: list[tuple[float, float]]) -> None:
    """A least sum of squares has no use of a move: what touches no neighbour and no border stands at its place."""
    wanted = sorted(place for place, _ in texts)
    widths = [width for _, width in texts]
    at = spread(wanted, widths, 0.0, 100.0)
    edges = [(x - width / 2, x + width / 2) for x, width in zip(at, widths, strict=True)]
    gaps = [edges[0][0], *(b[0] - a[1] for a, b in itertools.pairwise(edges)), 100.0 - edges[-1][1]]
    assert min(gaps) >= -1e-6
    for i, (x, place) in enumerate(zip(at, wanted, strict=True)):
        assert abs(x - place) < 1e-6 or min(gaps[i], gaps[i + 1]) < 1e-6
