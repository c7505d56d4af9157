"""What is saved of the set-ups within the pieces of a small job where they may be blanks; knows small_changes.

A blank has no set-up between its ends, but is recut, and takes more of a bar. So what bars have to spare says what the
pieces that are left can save at the most: first those that save the most for what they take.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from itertools import accumulate
from math import ceil
from typing import Final

import attrs

from mitertool.nest.lots import FULL
from mitertool.nest.plan import Group
from mitertool.nest.small_changes import LeastChanges
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import Form

_ROUNDING: Final = 0.01
"""Small units of work. What is saved in part is exact to far less."""


@attrs.frozen
class _Curve:
    """What pieces save together by what they take more of the bars (mm), both summed up, those that save most first."""

    taken: tuple[float, ...]
    saved: tuple[float, ...]

    def at(self, spare: float) -> float:
        """What is saved at the most where so much is to spare, mm; of one piece perhaps a part."""
        place = bisect_right(self.taken, spare + FULL)
        before, took = (self.saved[place - 1], self.taken[place - 1]) if place else (0.0, 0.0)
        if place == len(self.taken):
            return before
        step = self.taken[place] - took
        return before + (self.saved[place] - before) * max(0.0, spare - took) / step


def _curve(sorts: Iterable[tuple[float, int]]) -> _Curve:
    """Of what each piece takes more and saves."""
    order = sorted((one for one in sorts if one[1] > 0), key=lambda one: one[0] / one[1])
    return _Curve(tuple(accumulate(more for more, _ in order)), tuple(accumulate(saves for _, saves in order)))


@attrs.frozen(eq=False)
class Within:
    """Of what is left of one group: the work within its pieces as they are, and what blanks save of it."""

    work: int
    saved: _Curve
    step: int

    def least(self, spare: float) -> int:
        """Work within its pieces at the least where the bars have so much to spare, mm; it comes in steps."""
        return ceil((self.work - self.saved.at(spare) - _ROUNDING) / self.step) * self.step


@attrs.frozen(eq=False)
class MayBeBlanks:
    """Of every item that may be cut in either way the work within a piece as it is, what a blank saves of it, and what
    it takes more of a bar (mm); of the others nothing."""

    groups: tuple[Group, ...]
    work: tuple[int, ...]
    saved: tuple[int, ...]
    more: tuple[float, ...]
    step: int
    _known: dict[tuple[int, ...], dict[Group, Within]] = attrs.field(factory=dict, init=False)

    def of(self, left: tuple[int, ...]) -> dict[Group, Within]:
        """The groups of which pieces are left."""
        if left not in self._known:
            groups = dict.fromkeys(group for group, many in zip(self.groups, left, strict=True) if many)
            self._known[left] = {group: self._within(left, group) for group in groups}
        return self._known[left]

    def _within(self, left: Sequence[int], group: Group) -> Within:
        own = [(number, many) for number, many in enumerate(left) if many and self.groups[number] == group]
        sorts = (one for number, many in own for one in [(self.more[number], self.saved[number])] * many)
        return Within(sum(many * self.work[number] for number, many in own), _curve(sorts), self.step)


def may_be_blanks(forms: Forms, least: LeastChanges, weight: Callable[[Form], float]) -> MayBeBlanks:
    """Of all items; `weight` is what a form takes of any bar at the least, mm."""
    both = [_both(forms, item) for item in range(len(forms.items))]
    work = tuple(least.within_one(whole)[0] if blanks else 0 for whole, blanks in both)
    units = least.units
    more = tuple(min(map(weight, blanks)) - weight(forms.all[whole[0]]) if blanks else 0.0 for whole, blanks in both)
    groups = tuple(item.group for item in forms.items)
    return MayBeBlanks(groups, work, tuple(one - units.recut for one in work), more, units.step)


def _both(forms: Forms, item: int) -> tuple[list[int], list[Form]]:
    """The numbers of the forms of an item as it is, and its blanks where it may be cut in either way."""
    whole = [number for number in forms.of_item[item] if forms.all[number].recut < 0]
    return whole, [forms.all[number] for number in forms.of_item[item] if forms.all[number].recut >= 0] if whole else []
