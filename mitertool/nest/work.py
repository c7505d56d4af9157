"""What is looked for and how much may be done for it, in effort and in time; knows nothing of bars."""

from __future__ import annotations

from time import monotonic

import attrs


@attrs.frozen
class Goal:
    """What is least: cost of steel plus `wedge` for every unshared cut; with 0 steel first, then unshared cuts.

    `pull` is how much of a bar's length an unshared cut may cost while bars are filled, mm.
    """

    wedge: float = 0.0
    pull: float = 25.0


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

    Effort is the same on every machine; only a time limit (s) makes an answer depend on the clock.
    """

    def __init__(self, effort: float, time_limit: float | None = None) -> None:
        self.left = effort
        self.clock = Clock(time_limit)

    def spend(self, units: float) -> None:
        """Count work that was done."""
        self.left -= units

    @property
    def late(self) -> bool:
        """Whether the time limit has passed."""
        return self.clock.late

    @property
    def over(self) -> bool:
        """Whether to stop."""
        return self.left <= 0 or self.late
