"""Lengths and angles compared as a shop does: what differs by less than anybody can measure is one; tolerances only."""

from __future__ import annotations

from mitertool.base.tolerances import AT_A_STOP, SAME_LENGTH


def longer(one: float, other: float) -> bool:
    """Whether the one length is longer than the other, both mm, and not the same one written in another way."""
    return one > other + SAME_LENGTH


def same_length(one: float, other: float) -> bool:
    """Whether both lengths, mm, are one."""
    return abs(one - other) <= SAME_LENGTH


def reaches(angle: float, lowest: float, highest: float) -> bool:
    """Whether what goes from `lowest` to `highest` (degrees) goes to `angle`; arms and blades are judged here alone."""
    return lowest - AT_A_STOP <= angle <= highest + AT_A_STOP
