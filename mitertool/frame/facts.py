"""Which formula an answer came from, and what the floor must be told; values only, for whoever shows them."""

from __future__ import annotations

import attrs


@attrs.frozen
class Fact:
    """A formula by its key in the table of the working, and its numbers by symbol (mm, degrees)."""

    key: str
    values: tuple[tuple[str, float], ...]


def fact(key: str, **values: float) -> Fact:
    """A `Fact` from named numbers."""
    return Fact(key, tuple(values.items()))
