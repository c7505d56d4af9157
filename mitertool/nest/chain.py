"""Ways to lie as they are put one before another, beginnings held in common; knows lots."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.nest.lots import Walk, Way

Chain = tuple[Way, "Chain"] | None
"""The way put on last, and those before it."""


def from_last(chain: Chain) -> Walk:
    """The ways from the one put on last to the first."""
    return tuple(_each(chain))


def from_first(chain: Chain) -> Walk:
    """The ways from the first to the one put on last."""
    return from_last(chain)[::-1]


def _each(chain: Chain) -> Iterator[Way]:
    while chain:
        way, chain = chain
        yield way
