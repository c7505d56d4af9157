"""A saw that is asked once: what it answers to a cut is kept for one job; knows reach.

The same few cuts come again for every mark, in every pose, and on every bar.
"""

from __future__ import annotations

import attrs

from mitertool.bar import Angles
from mitertool.cut import Cut
from mitertool.saw.file.machine import Machine
from mitertool.saw.setting.reach import Reach, Settle, answered, as_set, or_rolled
from mitertool.sections import Section


@attrs.define(eq=False)
class Asked:
    """A saw and its answers so far, `count` bars side by side; made for one job and forgotten with it."""

    saw: Machine
    count: int = 1
    _answers: dict[tuple[Section, Cut, str], Reach] = attrs.field(factory=dict, init=False, repr=False)
    _as_set: dict[tuple[Section, Angles], Reach] = attrs.field(factory=dict, init=False, repr=False)

    @property
    def tilts(self) -> bool:
        """Whether the blade tilts."""
        return self.saw.tilt is not None

    def as_set(self, section: Section, angles: Angles) -> Reach:
        """The answer to a cut of a bar so laid and so set."""
        key = section, angles
        found = self._as_set.get(key)
        if found is None:
            found = self._as_set[key] = as_set(self.saw, section, angles, self.count)
        return found

    def makes(self, section: Section, angles: Angles) -> bool:
        """Whether the saw makes a cut of a bar so laid and so set."""
        return self.as_set(section, angles).ok

    def minutes(self, section: Section, angles: Angles) -> float | None:
        """How long the blade takes for such a cut by the shop's own rates; None where the file gives none."""
        return self.as_set(section, angles).minutes

    def reach(self, section: Section, cut: Cut, end: str) -> Reach:
        """As `Saw.reach`."""
        key = section, cut, end
        found = self._answers.get(key)
        if found is None:
            found = self._answers[key] = answered(self.saw, section, cut, end, self._settle(section))
        return found

    def made(self, section: Section, cut: Cut, end: str) -> Reach:
        """As `reach`, and rolled half a turn also where something else than the arm makes the cut only so."""
        return or_rolled(self.reach(section, cut, end), self.saw, section, cut, end, self._settle(section))

    def _settle(self, section: Section) -> Settle:
        return lambda angles: self.as_set(section, angles)
