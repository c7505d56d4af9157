"""What the filling of a bar goes for, and what it offers; knows lots."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs

from mitertool.nest.lots import Walk, Way


@attrs.frozen
class Taste:
    """What the filling goes for: the worth of a piece of each kind, and what an unshared cut costs.

    `open_end` is the cost of a bar end that is not square. Without `wedges` only shared cuts are looked at.
    """

    worth: Sequence[float]
    wedge: float = 0.0
    open_end: float = 0.0
    wedges: bool = True


@attrs.frozen
class Offer:
    """A filled bar: its walk and its worth less its costs."""

    worth: float
    walk: Walk


@attrs.frozen
class Instead:
    """Kinds that may be cut in the place of others: for every kind the one whose pieces it makes.

    `within` is what is set within a piece that lies in a way, in set-ups, where that is to be counted.
    """

    kinds: Sequence[int]
    within: Mapping[Way, float]
