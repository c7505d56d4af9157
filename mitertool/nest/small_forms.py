"""How each piece of a small job, or its blank, may lie on a bar, and how its cuts may be set; knows whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import Final

from mitertool.bar import Angles
from mitertool.bar.spacing import behind
from mitertool.nest.blanks import Arm, BlankWay, BySetting, arm_of, blanked
from mitertool.nest.lie import may_lie_over
from mitertool.nest.lots import Frame, frames, lay_of, on_bar
from mitertool.nest.plan import Group, Item
from mitertool.nest.setups import odd_rolls
from mitertool.nest.small_states import Form, Option, Waits
from mitertool.nest.still import Still
from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING
from mitertool.nest.whole import Means
from mitertool.piece.poses import OTHER_END, end_in

_DIGITS: Final = 6
"""Decimals to which slopes and turns are one: those of a cut half a turn over round to far less."""


class Forms:
    """All forms of the items where each group is cut in one of `ways`, and the numbers of those of each item.

    `arms` numbers the settings of arm and blade, `waits` are the kinds of blanks that wait for a recut; those that the
    same settings recut are of one sort, `sorts` has the bit of each.
    """

    def __init__(
        self, items: Sequence[Item], shop: Means, by_setting: BySetting | None, ways: Mapping[Group, str]
    ) -> None:
        self.items, self.shop, self.by_setting, self.ways = items, shop, by_setting, ways
        self.arms: dict[Arm, int] = {}
        self.all: list[Form] = []
        self.waits: list[Waits] = []
        self.sorts: dict[frozenset[int], int] = {}
        self.of_item: list[list[int]] = []
        by_group: dict[Group, list[Item]] = {}
        for item in items:
            by_group.setdefault(item.group, []).append(item)
        self.frames = {group: frames(own, shop.rolls(group[0])) for group, own in by_group.items()}
        self.stood = {group: self._stood(own) for group, own in by_group.items()}
        for number, item in enumerate(items):
            start = len(self.all)
            self._add_forms(number, item)
            self.of_item.append(list(range(start, len(self.all))))

    @cached_property
    def behind(self) -> list[int]:
        """Of every form the first with the same trailing cut, set alike: what may come behind it is the same too."""
        first: dict[tuple[object, ...], int] = {}
        keys = ((id(one.piece.section), one.piece.trail.plane, one.trail, one.tail) for one in self.all)
        return [first.setdefault(key, number) for number, key in enumerate(keys)]

    @cached_property
    def recut_by(self) -> dict[int, int]:
        """Of every setting that recuts blanks the bits of their sorts."""
        arms = sorted({arm for sort in self.sorts for arm in sort})
        return {arm: sum(bit for sort, bit in self.sorts.items() if arm in sort) for arm in arms}

    @cached_property
    def twinned(self) -> frozenset[Group]:
        """The groups of which every form has another, its piece half a turn over on a bar that looks the same so."""
        lying = {_lying(form, 0.0) for form in self.all}
        alone = {form.item.group for form in self.all if not form.over or _lying(form, 180.0) not in lying}
        return frozenset(self.ways) - alone

    @cached_property
    def places(self) -> dict[int, Arm]:
        """How arm and blade stand, by the number of the setting."""
        return {number: arm for arm, number in self.arms.items()}

    def _stood(self, items: Sequence[Item]) -> tuple[float, ...]:
        """The rolls that a square cut may keep."""
        found = [0.0]
        for item in items:
            frame = self._frame(item)
            roll = frame.rolls[lay_of(item)]
            found.append(roll)
            for pose in item.poses:
                own = on_bar(item, pose, self.shop.allowance)
                found += odd_rolls(self.shop.settings.made(cut, frame.section, roll) for cut in (own.lead, own.trail))
        return tuple(dict.fromkeys(found))

    def _frame(self, item: Item) -> Frame:
        return self.frames[item.group][lay_of(item)]

    def _add_forms(self, number: int, item: Item) -> None:
        seen: set[tuple[object, ...]] = set()
        for part, pose, recut in self._laid(item):
            form = self._form(number, part, pose, recut, item)
            key = (form.piece.lead.plane, form.piece.trail.plane, form.piece.centerline, form.over, form.waits)
            if key not in seen:
                seen.add(key)
                self.all.append(form)

    def _laid(self, item: Item) -> Iterator[tuple[Item, str, int]]:
        """The piece as it is in each pose, then its blanks: the part, its pose, the number of the blank (-1: none)."""
        if self._as_it_is(item):
            yield from self._whole(item)
        if self._may_be_blank(item):
            yield from self._blanks(item)

    def _may_be_blank(self, item: Item) -> bool:
        by_setting = self.by_setting
        return self.ways[item.group] != BAR_BY_BAR and by_setting is not None and bool(by_setting.ways.get(item.mark))

    def _as_it_is(self, item: Item) -> bool:
        return self.ways[item.group] != BY_SETTING or not self._may_be_blank(item)

    def _whole(self, item: Item) -> Iterator[tuple[Item, str, int]]:
        return ((item, pose, -1) for pose in item.poses)

    def _blanks(self, item: Item) -> Iterator[tuple[Item, str, int]]:
        assert self.by_setting is not None
        ways = self.by_setting.ways[item.mark]
        for finished in dict.fromkeys(way.finished for way in ways):
            same = [way for way in ways if way.finished == finished]
            part = blanked(item, finished, [way.pose for way in same], self.shop.allowance.kerf)
            self.waits.append(self._waiting(part, same[0]))
            yield from ((part, way.pose, len(self.waits) - 1) for way in same)

    def _waiting(self, part: Item, way: BlankWay) -> Waits:
        arms = dict.fromkeys(self._arm(one.angles) for one in way.recuts)
        return Waits(part, way.recuts, tuple(arms))

    def _arm(self, angles: Angles) -> int:
        return self.arms.setdefault(arm_of(angles), len(self.arms))

    def _form(self, number: int, part: Item, pose: str, recut: int, item: Item) -> Form:
        frame = self._frame(item)
        section, roll = frame.section, frame.rolls[lay_of(item)]
        own = on_bar(part, pose, self.shop.allowance)
        piece = own.lying(section, roll)
        stood = self.stood[item.group]
        lead, trail = (
            tuple(
                dict.fromkeys(
                    Option(self._arm(one), one.roll) for one in self.shop.settings.of(cut, section, roll, stood)
                )
            )
            for cut in (own.lead, own.trail)
        )
        reach = piece.lead.half_reach(section)
        tail = behind(piece.trail, section, self.shop.allowance.kerf)
        over = may_lie_over(part, pose, section)
        waits = self._sort(self.waits[recut]) if recut >= 0 else 0
        return Form(part, number, piece, own, pose, roll, over, lead, trail, reach, tail, recut, waits)

    def _sort(self, waits: Waits) -> int:
        return self.sorts.setdefault(frozenset(waits.arms), 1 << len(self.sorts))

    def still(self) -> Still:
        """What is still to be set, as its ends and blanks tell."""
        return Still(
            tuple(self._ends(number) for number in range(len(self.items))),
            tuple(self.sorts),
            tuple(not self._as_it_is(item) for item in self.items),
        )

    def _ends(self, number: int) -> tuple[frozenset[int], ...]:
        """The settings that cut the left and the right end of an item, as drawn, in any of its forms."""
        found: dict[str, set[int]] = {"left": set(), "right": set()}
        for form in (self.all[i] for i in self.of_item[number]):
            lead = end_in(form.pose, self.shop.allowance.leads)
            found[lead].update(option.arm for option in form.lead)
            if form.recut < 0:
                found[OTHER_END[lead]].update(option.arm for option in form.trail)
            else:
                found[form.item.recut].update(self.waits[form.recut].arms)
        return tuple(frozenset(arms) for arms in found.values())


def _lying(form: Form, turn: float) -> tuple[object, ...]:
    """What is laid and how it is set, on a bar that is turned over by so many degrees: none or 180."""
    cuts = (form.piece.lead, form.piece.trail)
    slopes = [(round(cut.p, _DIGITS) + 0.0, round(cut.q, _DIGITS) + 0.0) for cut in (one.rolled(turn) for one in cuts)]
    ways = [frozenset((one.arm, round(one.roll + turn, _DIGITS) % 360) for one in of) for of in (form.lead, form.trail)]
    return form.number, form.waits, round(form.piece.centerline, _DIGITS), *slopes, *ways
