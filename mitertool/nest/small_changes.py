"""What must be set within the pieces of a small job and between neighbours on a bar, at the least; knows forms.

A cut that two pieces share may be set as either of them may, so the ways of all cuts that are parallel count together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate
from math import ceil
from typing import Final

import attrs

from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import Form, OnSaw, Option, Units, apart

Least = tuple[int, int]
"""Work of set-ups at the least, and set-ups at the least."""

_NONE: Final[Least] = (0, 0)


@attrs.frozen(eq=False)
class LeastChanges:
    """Of every item what is set `within` one piece of it, and what `before` it on a bar that holds a piece already.

    `leads` and `trails` are the ways to set the leading and the trailing cut of every form.
    """

    forms: Forms
    units: Units
    within: tuple[Least, ...]
    before: tuple[Least, ...]
    leads: tuple[frozenset[Option], ...]
    trails: tuple[frozenset[Option], ...]
    _known: dict[tuple[int, ...], tuple[list[int], list[int]]] = attrs.field(factory=dict, init=False)
    _trailing: dict[tuple[int, float, int], Least] = attrs.field(factory=dict, init=False)

    def within_one(self, of: Sequence[int]) -> Least:
        """What is set within a piece in one of some forms."""
        return _within(self.forms, self.units, [(self.leads[i], self.trails[i]) for i in of])

    def of(self, left: tuple[int, ...], bars: float, on_saw: OnSaw | None, arm: int) -> Least:
        """For all that is left, where `bars` more are begun at the most and one may be on the saw."""
        if left not in self._known:
            self._known[left] = self._of_pieces(left)
        works, counts = self._known[left]
        most = len(works) - 1
        more = ceil(most - max(0, min(bars, most)))
        work, count = self._of(on_saw, arm)
        return work + works[more], count + counts[more]

    def _of_pieces(self, left: Sequence[int]) -> tuple[list[int], list[int]]:
        """Work and set-ups within pieces that are left, and before none, one, two, ... of them."""
        behind = [self.before[number] for number, many in enumerate(left) for _ in range(many)]
        within = [self.within[number] for number, many in enumerate(left) for _ in range(many)]
        works, counts = ([sum(one[i] for one in within), *sorted(one[i] for one in behind)] for i in range(2))
        return list(accumulate(works)), list(accumulate(counts))

    def _of(self, on_saw: OnSaw | None, arm: int) -> Least:
        """The trailing cut of the piece on the saw."""
        if on_saw is None:
            return _NONE
        key = on_saw.form, on_saw.roll, arm
        if key not in self._trailing:
            stands = [Option(arm, on_saw.roll)]
            self._trailing[key] = least(self.forms, self.units, stands, self.trails[on_saw.form])
        return self._trailing[key]


def least_changes(forms: Forms, units: Units) -> LeastChanges:
    """All of it, for the forms of a job."""
    leads, trails = _shared(forms)
    of_lead = [frozenset[Option]().union(*(leads[i] for i in of)) for of in forms.of_item]
    of_trail = frozenset[Option]().union(*trails)
    within = [_within(forms, units, [(leads[i], trails[i]) for i in of]) for of in forms.of_item]
    before = [least(forms, units, of_trail, options) for options in of_lead]
    return LeastChanges(forms, units, tuple(within), tuple(before), tuple(leads), tuple(trails))


def _within(forms: Forms, units: Units, pairs: Iterable[tuple[Iterable[Option], Iterable[Option]]]) -> Least:
    found = [least(forms, units, lead, trail) for lead, trail in pairs]
    return min(work for work, _ in found), min(count for _, count in found)


def _shared(forms: Forms) -> tuple[list[frozenset[Option]], list[frozenset[Option]]]:
    """The ways to set the leading and the trailing cut of every form, also where it is shared with a neighbour."""
    leads, trails = [set(one.lead) for one in forms.all], [set(one.trail) for one in forms.all]
    for i, j in _parallel(forms.all):
        leads[j] |= set(forms.all[i].trail)
        trails[i] |= set(forms.all[j].lead)
    return [frozenset(one) for one in leads], [frozenset(one) for one in trails]


def _parallel(every: Sequence[Form]) -> Iterator[tuple[int, int]]:
    """The forms of which one may lie before the other with a shared cut."""
    for i, one in enumerate(every):
        for j, other in enumerate(every):
            if one.piece.section is other.piece.section and one.piece.trail.parallel(other.piece.lead):
                yield i, j


def least(forms: Forms, units: Units, ones: Iterable[Option], others: Iterable[Option]) -> Least:
    """From any of some settings to any of others."""
    if not set(ones).isdisjoint(others):
        return _NONE
    found = [_change(forms, units, one, other) for one in ones for other in others]
    return min(work for work, _ in found), min(count for _, count in found)


def _change(forms: Forms, units: Units, one: Option, other: Option) -> Least:
    here, there = forms.places[one.arm], forms.places[other.arm]
    swings, tilts, rolls = here[0] != there[0], here[1] != there[1], apart(one.roll, other.roll)
    return units.of(swings, rolls, tilts), swings + tilts + rolls
