"""What must be set within the pieces of a small job and between neighbours on a bar, at the least; knows forms.

A cut that two pieces share may be set as either of them may, so the ways of all cuts that are parallel count together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.nest.plan import Rates
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import Form, OnSaw, Option, apart

Least = tuple[float, int]
"""Work of set-ups at the least, and set-ups at the least."""

_NONE: Final[Least] = (0.0, 0)


@attrs.frozen(eq=False)
class LeastChanges:
    """Of every item what is set `within` one piece of it, and what `before` it on a bar that holds a piece already.

    `trails` are the ways to set the trailing cut of every form.
    """

    forms: Forms
    rates: Rates
    within: tuple[Least, ...]
    before: tuple[Least, ...]
    trails: tuple[frozenset[Option], ...]

    def of(self, left: Sequence[int], bars: float, on_saw: OnSaw | None, arm: int) -> Least:
        """For all that is left, where `bars` more are begun at the most and one may be on the saw."""
        work, count = self._of(on_saw, arm)
        behind: list[Least] = []
        for number, many in enumerate(left):
            work += many * self.within[number][0]
            count += many * self.within[number][1]
            behind += [self.before[number]] * many
        more = ceil(len(behind) - min(bars, len(behind)))
        if more:
            work += summed(sorted(one for one, _ in behind)[:more])
            count += sum(sorted(one for _, one in behind)[:more])
        return work, count

    def _of(self, on_saw: OnSaw | None, arm: int) -> Least:
        """The trailing cut of the piece on the saw."""
        if on_saw is None:
            return _NONE
        return least(self.forms, self.rates, [Option(arm, on_saw.roll)], self.trails[on_saw.form])


def least_changes(forms: Forms, rates: Rates) -> LeastChanges:
    """All of it, for the forms of a job."""
    leads, trails = _shared(forms)
    of_lead = [frozenset[Option]().union(*(leads[i] for i in of)) for of in forms.of_item]
    of_trail = frozenset[Option]().union(*trails)
    within = [_within(forms, rates, [(leads[i], trails[i]) for i in of]) for of in forms.of_item]
    before = [least(forms, rates, of_trail, options) for options in of_lead]
    return LeastChanges(forms, rates, tuple(within), tuple(before), tuple(trails))


def _within(forms: Forms, rates: Rates, pairs: Iterable[tuple[Iterable[Option], Iterable[Option]]]) -> Least:
    found = [least(forms, rates, lead, trail) for lead, trail in pairs]
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


def least(forms: Forms, rates: Rates, ones: Iterable[Option], others: Iterable[Option]) -> Least:
    """From any of some settings to any of others."""
    if not set(ones).isdisjoint(others):
        return _NONE
    found = [_change(forms, rates, one, other) for one in ones for other in others]
    return min(work for work, _ in found), min(count for _, count in found)


def _change(forms: Forms, rates: Rates, one: Option, other: Option) -> Least:
    here, there = forms.places[one.arm], forms.places[other.arm]
    swings, tilts, rolls = here[0] != there[0], here[1] != there[1], apart(one.roll, other.roll)
    return rates.minutes(swings, rolls, tilts), swings + tilts + rolls
