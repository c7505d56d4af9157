"""What a small job still takes at the least, from what is not cut yet: settings to go to, second ends, cuts.

Ends that have no setting in common are never cut without a change between; and both ends of a piece that is cut bar by
bar, where they are not parallel, have one between them.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs


@attrs.frozen(eq=False)
class Still:
    """`ends` are the settings (by number) that cut either end of each item, `waits` those that recut each sort of
    blanks; `recut` says of an item that it is recut.
    """

    ends: tuple[tuple[frozenset[int], ...], ...]
    waits: tuple[frozenset[int], ...]
    recut: tuple[bool, ...]
    _known: dict[tuple[tuple[bool, ...], int, int], int] = attrs.field(factory=dict)

    def arm_changes(self, left: Sequence[int], waiting: int, arm: int) -> int:
        """Swings and tilts at the least, the arm standing at a setting; the first one of all, -1, is free.

        The sorts that wait are a bit each.
        """
        key = tuple(map(bool, left)), waiting, arm
        if key not in self._known:
            self._known[key] = self._apart(key[0], key[1], arm)
        return self._known[key]

    def _apart(self, left: Sequence[bool], waiting: int, arm: int) -> int:
        wanted = {ends for there, both in zip(left, self.ends, strict=True) if there for ends in both if ends}
        wanted |= {ends for number, ends in enumerate(self.waits) if waiting >> number & 1 and ends}
        apart: list[frozenset[int]] = []
        for ends in sorted(wanted, key=lambda found: (len(found), sorted(found))):
            if arm not in ends and not any(ends & other for other in apart):
                apart.append(ends)
        return max(0, len(apart) - (arm < 0))

    def recuts(self, left: Sequence[int]) -> int:
        """Second ends of the blanks that are left."""
        return sum(count for count, recut in zip(left, self.recut, strict=True) if recut)
