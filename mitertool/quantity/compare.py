"""Lengths compared as a shop does: what differs by less than anybody can measure is one length; knows one tolerance."""

from __future__ import annotations

from mitertool.base.tolerances import SAME_LENGTH


def longer(one: float, other: float) -> bool:
    """Whether the one length is longer than the other, both mm, and not the same one written in another way."""
    return one > other + SAME_LENGTH


def same_length(one: float, other: float) -> bool:
    """Whether both lengths, mm, are one."""
    return abs(one - other) <= SAME_LENGTH
