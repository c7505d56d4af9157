"""Sums of measures add one after the other, as Python's own did up to 3.11."""

from __future__ import annotations

from math import inf, isnan

from mitertool.base.totals import summed, summed_points


def test_one_after_the_other() -> None:
    """IEEE 754 doubles by hand: ten times 0.1 is 0.9999999999999999; 1e16 + 1 is 1e16, and -1e16 leaves 0."""
    assert summed([0.1] * 10) == 0.9999999999999999
    assert summed([1e16, 1.0, -1e16]) == 0.0
    assert summed(iter((0.5, 0.25))) == 0.75


def test_points_one_after_the_other() -> None:
    """Each part by itself, as above."""
    assert summed_points([0.1 + 0.2j] * 10) == complex(0.9999999999999999, 1.9999999999999998)
    assert summed_points([1e16 + 1e16j, 1 + 1j, -1e16 - 1e16j]) == 0
    assert summed_points(()) == 0


def test_of_none_and_past_all_numbers() -> None:
    assert summed(()) == 0
    assert summed([1e308, 1e308]) == inf
    assert isnan(summed([inf, -inf]))
