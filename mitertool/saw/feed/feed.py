"""What an operator keys into a bar feed, bar by bar, and where a stop stands on a saw without one; knows reach.

Places on a bar count from its leading end along its centerline, which is where the middle of the bounding box lies;
slopes on the bar are those of such places over y and z.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cached_property
from math import ceil, hypot
from typing import Final

import attrs

from mitertool.bar import Angles, Kerf, middle_as_rolled, short_way
from mitertool.base.tolerances import SAME_SETTING
from mitertool.quantity.compare import longer, same_length
from mitertool.quantity.problem import Remark, angles, counts, lengths
from mitertool.saw.file.machine import Machine
from mitertool.saw.setting.reach import Reach
from mitertool.sections import Section

OVER_AXIS: Final = "over-axis"
CENTERLINE: Final = "centerline"
SIDE: Final = "side"
"""The line of a piece on which a length is measured."""

_WHOLE: Final = 1e-9
"""Strokes. A length so little over whole strokes needs no more of them."""


@attrs.frozen
class SetCut:
    """A kerf of a bar of a `section`, and how its cut is set."""

    kerf: Kerf
    section: Section
    reach: Reach

    @property
    def mark(self) -> str:
        """The piece that it finishes, "" for a lead cut and for one that only parts off a wedge."""
        return self.kerf.mark

    @property
    def place(self) -> float:
        """Where the middle of its kerf crosses the centerline, mm."""
        return self.kerf.middle

    @cached_property
    def fed(self) -> float | None:
        """How far the leading end of the bar stands past the swing axis for this cut, mm; None without an axis."""
        setting = self.reach.setting
        axis, offset = setting.saw.bed.swing_axis, setting.saw.bed.blade_offset
        if axis is None and setting.swing:
            return None
        p, q = setting.cut.p, setting.cut.q
        y, z = middle_as_rolled(self.section, self.reach.roll)
        return self.place - p * (y - (axis or 0.0)) - q * z - offset * hypot(1.0, p)

    def same_setting(self, other: SetCut) -> bool:
        """Whether nothing must be set between the two."""
        return not self.changes(other)

    def changes(self, before: SetCut | None) -> tuple[Remark, ...]:
        """What must be set after the cut before, None for the first of a bar as it lies drawn: swing, tilt, roll."""
        stood, ours = before.reach.angles if before else None, self.reach
        new = ours.angles.changes(stood or Angles())
        roll = self.roll(before)
        says = (
            Remark("set.swing", angles(scale=ours.scale)) if stood is None or new.swings else None,
            Remark("set.tilt", angles(tilt=ours.tilt)) if new.tilts else None,
            attrs.evolve(roll, code="set.roll") if roll else None,
        )
        return tuple(filter(None, says))

    def rolled(self, before: SetCut | None) -> str:
        """How the bar is rolled after the cut before, in words; "" where it is not."""
        roll = self.roll(before)
        return roll.in_units("mm") if roll else ""

    def roll(self, before: SetCut | None) -> Remark | None:
        """How the bar is rolled after the cut before, None for as it lies drawn; None where it is not.

        Half a turn is told as such. Any other roll is told by how the bar then stands from how it is drawn, so that
        no rounding adds up from roll to roll.
        """
        stood, stands = short_way(before.reach.roll) if before else 0.0, short_way(self.reach.roll)
        turn = abs(short_way(stands - stood))
        if turn <= SAME_SETTING:
            return None
        return Remark("turn.bar", (), "half") if abs(turn - _HALF) <= SAME_SETTING else _standing(stands)


_HALF: Final = 180.0


def _standing(roll: float) -> Remark:
    """How a bar stands rolled."""
    if abs(roll) <= SAME_SETTING:
        return Remark("turn.bar", (), "back")
    if abs(abs(roll) - _HALF) <= SAME_SETTING:
        return Remark("turn.bar", (), "half-over")
    return Remark("turn.bar", angles(roll=abs(roll)), "moving" if roll > 0 else "fixed")


@attrs.frozen
class FeedLine:
    """A line to key: how many pieces of which mark, and the length, mm.

    `travel` is what the bar moves for each, from kerf to kerf; `key` is what the control must be given for that, less
    the plain kerf where it adds one by itself; `short_by` is what a control that adds the plain kerf to the piece's own
    length comes up short. `on` says which line of the piece the length is measured on, `set_up` what must be set
    before the cut, `manual` why the automatic cycle cannot make it (None where it can), `untaken` why the control does
    not take the length at all, so that the bar is moved by hand. A lead cut and the parting of a wedge are not counted:
    their mark is "". `travel` is None where the saw file gives no swing axis to know it by. `roll` says how the bar is
    rolled before the cut; `cut` is the cut that ends the line, None for the closing one.
    """

    quantity: int
    mark: str
    travel: float | None
    key: float | None
    strokes: int
    on: str
    short_by: float
    set_up: tuple[Remark, ...] = ()
    manual: Remark | None = None
    untaken: Remark | None = None
    roll: Remark | None = None
    cut: SetCut | None = attrs.field(default=None, eq=False, repr=False)

    @property
    def counted(self) -> bool:
        """Whether it makes pieces."""
        return bool(self.mark)


CLOSING: Final = FeedLine(0, "", 0.0, 0.0, 0, "", 0.0)
"""Zeros that end the list of a control whose saw file asks for them."""


@attrs.frozen
class FeedList:
    """The lines of one bar in order, the trim cut first. `count` bars are alike."""

    lines: tuple[FeedLine, ...]
    count: int
    notes: tuple[Remark, ...] = ()

    @property
    def automatic(self) -> bool:
        """Whether the automatic cycle makes every piece of the bar after the lead cut."""
        return not any(line.manual for line in self.lines)


def cuts_as_set(kerfs: Sequence[Kerf], section: Section, chosen: Sequence[Reach]) -> tuple[SetCut, ...]:
    """The cuts of a bar in order; `chosen` is how each kerf is set."""
    return tuple(SetCut(kerf, section, reach) for kerf, reach in zip(kerfs, chosen, strict=True))


def feed_list(
    saw: Machine, cuts: Sequence[SetCut], stock_length: float | None = None, count: int = 1
) -> FeedList | None:
    """The lines for a bar with these cuts in order; None for a saw without a bar feed.

    `stock_length` (mm) tells which cuts lie in the dead length at the tail.
    """
    if saw.feed is None or not cuts:
        return None
    lines = [_lead(saw, cuts[0], stock_length)]
    for before, cut in itertools.pairwise(cuts):
        _add(lines, _line(saw, before, cut, stock_length))
    if saw.feed.ends_with_zero:
        lines.append(CLOSING)
    return FeedList(tuple(lines), count, _notes(saw, lines))


def _key(saw: Machine, travel: float | None) -> float | None:
    """What the control is given for a travel: less the plain kerf where it adds one by itself to every line."""
    counts = saw.kerf if saw.feed and saw.feed.counts_kerf else 0.0
    return None if travel is None else travel - counts


def _lead(saw: Machine, cut: SetCut, stock_length: float | None) -> FeedLine:
    """The trim cut: the raw end goes so far past the swing axis; it makes no piece."""
    key = _key(saw, cut.fed)
    return FeedLine(
        1,
        "",
        cut.fed,
        key,
        _strokes(saw, cut.fed),
        OVER_AXIS,
        0.0,
        cut.changes(None),
        untaken=_untaken(saw, cut, key, stock_length),
        roll=cut.roll(None),
        cut=cut,
    )


def _line(saw: Machine, before: SetCut, cut: SetCut, stock_length: float | None) -> FeedLine:
    travel = _travel(before, cut)
    key = _key(saw, travel)
    short_by = (before.kerf.along + cut.kerf.along) / 2 - saw.kerf
    set_up = cut.changes(before)
    untaken = _untaken(saw, cut, key, stock_length)
    manual = Remark("by-hand.set") if set_up else untaken
    return FeedLine(
        1,
        cut.mark,
        travel,
        key,
        _strokes(saw, travel),
        _on(before, cut),
        short_by,
        set_up,
        manual,
        untaken,
        cut.roll(before),
        cut,
    )


def _travel(before: SetCut, cut: SetCut) -> float | None:
    if cut.same_setting(before):
        return cut.place - before.place
    return None if before.fed is None or cut.fed is None else cut.fed - before.fed


def _on(before: SetCut, cut: SetCut) -> str:
    if cut.same_setting(before):
        return SIDE
    return OVER_AXIS if any(cut.reach.angles.changes(before.reach.angles)[:2]) else CENTERLINE


def _strokes(saw: Machine, travel: float | None) -> int:
    if travel is None or saw.feed is None:
        return 0
    return max(1, ceil(travel / saw.feed.stroke - _WHOLE))


def _untaken(saw: Machine, cut: SetCut, key: float | None, stock_length: float | None) -> Remark | None:
    """Why the control does not take the length of a cut; None where it does."""
    feed = saw.feed
    if feed is None or key is None:
        return Remark("by-hand.no-axis")
    if longer(feed.shortest, key):
        return Remark("by-hand.shorter", lengths(shortest=feed.shortest))
    if feed.longest is not None and longer(key, feed.longest):
        return Remark("by-hand.longer", lengths(longest=feed.longest))
    if stock_length is not None and longer(feed.dead_length, stock_length - cut.place):
        return Remark("by-hand.dead-length", lengths(dead=feed.dead_length))
    return None


def _add(lines: list[FeedLine], line: FeedLine) -> None:
    """Put a line to the list, together with the one before where both are keyed as one."""
    last = lines[-1]
    alike = line.counted and last.mark == line.mark and not line.set_up and line.untaken == last.untaken
    if alike and _near(last.key, line.key) and last.on == line.on:
        lines[-1] = attrs.evolve(last, quantity=last.quantity + 1)
    else:
        lines.append(line)


def _near(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and same_length(one, other)


def _notes(saw: Machine, lines: Sequence[FeedLine]) -> tuple[Remark, ...]:
    notes = []
    short = max(line.short_by for line in lines)
    if longer(short, 0.0):
        notes.append(Remark("keyed.own-length", lengths(more=short)))
    if saw.feed and saw.feed.lines is not None and len(lines) > saw.feed.lines:
        notes.append(Remark("keyed.lines", counts(most=saw.feed.lines, has=len(lines))))
    return tuple(notes)
