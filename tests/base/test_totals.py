"""Sums of measures add one after the other, as Python's own did up to 3.11."""

from __future__ import annotations

from math import inf, isnan

from mitertool.base.totals import summed


def test_one_after_the_other() -> None:
    """IEEE 754 doubles by hand: ten times 0.1 is 0.9999999999999999; 1e16 + 1 is 1e16, and -1e16 leaves 0."""
    assert summed([0.1] * 10) == 0.9999999999999999
    assert summed([1e16, 1.0, -1e16]) == 0.0
    assert summed(iter((0.5, 0.25))) == 0.75


def test_of_none_and_past_all_numbers() -> None:
    assert summed(()) == 0
    assert summed([1e308, 1e308]) == inf
    assert isnan(summed([inf, -inf]))
