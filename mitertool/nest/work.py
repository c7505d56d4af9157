"""How much may be done: effort counted in work, and a limit of time kept from outside; knows nothing of bars."""

from __future__ import annotations

from time import monotonic


class Work:
    """Effort left, in units of a million cells of a dynamic programme or about as much of a solver's work.

    Effort is the same on every machine; only a time limit (s) makes an answer depend on the clock.
    """

    def __init__(self, effort: float, time_limit: float | None = None) -> None:
        self.left = effort
        self.ends = None if time_limit is None else monotonic() + time_limit

    def spend(self, units: float) -> None:
        """Count work that was done."""
        self.left -= units

    @property
    def late(self) -> bool:
        """Whether the time limit has passed."""
        return self.ends is not None and monotonic() > self.ends

    @property
    def over(self) -> bool:
        """Whether to stop."""
        return self.left <= 0 or self.late
