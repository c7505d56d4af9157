"""What is looked for, how much may be done for it in effort and in time, and how far it is; knows nothing of bars."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic
from typing import Final

import attrs

Progress = Callable[[float, float, float], None]
"""Called with the cost of the best plan and the bound so far, whenever one of them gets better, and on every step of
what is done then, with the share of the work that is done, 0 to 1."""

_STEP: Final = 0.08
"""Of what is left of a part of the work, what one step of it counts for: how many there are is not known before."""
_EACH: Final = 15.0
"""Effort between two steps that are told: some tenths of a second."""


class Telling:
    """How far the search for a plan is; `progress` None: nobody asks."""

    def __init__(self, progress: Progress | None) -> None:
        self.progress = progress
        self.cost = self.bound = self.share = self.until = 0.0

    def better(self, cost: float, bound: float) -> None:
        """Say what the best plan costs and what bounds it."""
        self.cost, self.bound = cost, bound
        self._tell()

    def part(self, until: float) -> None:
        """A part of the work begins, which ends when so much of the whole is done."""
        self.share, self.until = max(self.share, self.until), until

    def step(self) -> None:
        """One step more of the part."""
        self.share += (self.until - self.share) * _STEP
        self._tell()

    def _tell(self) -> None:
        if self.progress:
            self.progress(self.cost, self.bound, self.share)


@attrs.frozen
class Goal:
    """What is least: cost of steel plus `wedge` for every unshared cut; with 0 steel first, then unshared cuts.

    `pull` is how much of a bar's length an unshared cut may cost while bars are filled, mm. Without `cuts` only the
    steel is looked at.
    """

    wedge: float = 0.0
    pull: float = 25.0
    cuts: bool = True


class Clock:
    """A time limit (s, None: none) that everything done for one plan shares."""

    def __init__(self, limit: float | None) -> None:
        self.ends = None if limit is None else monotonic() + limit

    @property
    def left(self) -> float | None:
        """Seconds that are left."""
        return None if self.ends is None else max(0.0, self.ends - monotonic())

    @property
    def late(self) -> bool:
        """Whether it has passed."""
        return self.ends is not None and monotonic() > self.ends


class Effort:
    """Effort left, in units of a million cells of a dynamic programme or about as much of a solver's work.

    Effort is the same on every machine; only a time limit (s) makes an answer depend on the clock. `step` is called
    from time to time.
    """

    def __init__(self, effort: float, time_limit: float | None = None, step: Callable[[], None] = lambda: None) -> None:
        self.left = effort
        self.clock = Clock(time_limit)
        self.step, self._untold = step, 0.0

    def spend(self, units: float) -> None:
        """Count work that was done."""
        self.left -= units
        self._untold += units
        if self._untold >= _EACH:
            self._untold = 0.0
            self.step()

    @property
    def late(self) -> bool:
        """Whether the time limit has passed."""
        return self.clock.late

    @property
    def over(self) -> bool:
        """Whether to stop."""
        return self.left <= 0 or self.late
