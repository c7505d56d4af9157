"""Lengths and angles compared as a shop does: what differs by less than anybody can measure is one; tolerances only."""

from __future__ import annotations

from typing import Final

from mitertool.base.tolerances import AT_A_STOP, SAME_LENGTH

_JUDGED: Final = 9
"""Decimals of the degrees that are judged: an angle comes the same by its slopes, which leave 1e-14 in it."""


def longer(one: float, other: float) -> bool:
    """Whether the one length is longer than the other, both mm, and not the same one written in another way."""
    return one > other + SAME_LENGTH


def same_length(one: float, other: float) -> bool:
    """Whether both lengths, mm, are one."""
    return abs(one - other) <= SAME_LENGTH


def reaches(angle: float, lowest: float, highest: float) -> bool:
    """Whether what goes from `lowest` to `highest` (degrees) goes to `angle`; arms and blades are judged here alone."""
    past = max(lowest - angle, angle - highest)
    return round(past, _JUDGED) <= AT_A_STOP
