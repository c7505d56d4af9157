"""A measured piece worked through: the error of each end, of the arm and of the length as it was set; knows making.

The work is done at the width that was measured. An angle put right turns the end about a line of the bar that keeps its
length; what is left of the error of the length after that is the error of the stop or of the length keyed.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from math import atan, cos, degrees, radians, tan
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.base.totals import summed
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.saw.proof.making import PARALLEL, ROLLED, SWUNG, Making
from mitertool.saw.proof.measured import Finding, Measured, Readings, Taken, taken
from mitertool.saw.setting.reach import ENDS

Errors = dict[str, float]
"""The error of each end that is known, degrees."""

SIDE: Final = "side"
CENTERLINE: Final = "centerline"
OVER_AXIS: Final = "over-axis"
STOP: Final = "stop"
KEYED: Final = "keyed"
"""Where a length is told: on a line of the piece, or at what it was set by where that is no one line of it."""

PROTRACTOR: Final = "protractor"
AXIS: Final = "axis"
AGREEMENT: Final = "agreement"
"""What the length may hang on: the angle of one end, the swing axis, or readings that go together."""


@attrs.frozen
class Judged:
    """A measured piece worked through; every value follows from the piece, the readings and how it was made."""

    piece: Piece
    measured: Measured
    readings: Readings
    made: Making

    @cached_property
    def taken(self) -> Taken:
        """The readings, each with its plus or minus."""
        return taken(self.piece, self.measured, self.readings)

    @property
    def alike(self) -> bool:
        """Whether long and short point are drawn alike, so that they cannot tell an angle."""
        return abs(self.piece.p) <= SAME_SLOPE

    @cached_property
    def slope_sum(self) -> Finding:
        """The error of tan left + tan right, from long less short over the width."""
        return self.taken.finding("both", self._sum)

    def _sum(self, taken: Taken) -> float:
        apart = taken.long - taken.short
        return (apart if self.piece.p >= 0 else -apart) / taken.width - self.piece.p

    @cached_property
    def _ends(self) -> Callable[[Taken], Errors]:
        """The surest way to the errors of the ends."""
        by_angle = bool(self.measured.by_protractor)
        if self.made.way == SWUNG:
            return self._one_by_one
        ways = [self._by_sum] if self.made.way == ROLLED and not self.alike else []
        ways += [self._by_angle] if by_angle else []
        return min(ways, key=lambda way: self._of_end(way, "right").uncertainty, default=lambda _: {})

    def _one_by_one(self, taken: Taken) -> Errors:
        """An arm swung between the ends: each by protractor, one that was not from the sum less the other."""
        known = self._known(taken)
        if len(known) != 1 or self.alike:
            return known
        ((end, error),) = known.items()
        other = OTHER_END[end]
        return {**known, other: self._beyond(other, self._sum(taken) - self._slope(end, error))}

    def _by_sum(self, taken: Taken) -> Errors:
        """An arm left alone while the bar was rolled: half of the sum each."""
        return {end: self._beyond(end, self._sum(taken) / 2) for end in ENDS}

    def _by_angle(self, taken: Taken) -> Errors:
        """An arm left alone: what the protractor told, the mean of both ends where both were measured."""
        known = self._known(taken)
        arm = summed(self.made.sense(end) * error for end, error in known.items()) / len(known)
        return {end: self.made.sense(end) * arm for end in ENDS}

    def _known(self, taken: Taken) -> Errors:
        return {end: getattr(taken, end) - getattr(self.piece, end).miter for end in self.measured.by_protractor}

    def _beyond(self, end: str, slope: float) -> float:
        """The error of an end whose slope is so much past its own, degrees."""
        cut = getattr(self.piece, end)
        return degrees(atan(cut.p + slope)) - float(cut.miter)

    def _slope(self, end: str, error: float) -> float:
        """How much the slope of an end is past its own."""
        cut = getattr(self.piece, end)
        return tan(radians(cut.miter + error)) - float(cut.p)

    def _of_end(self, ends: Callable[[Taken], Errors], end: str) -> Finding:
        return self.taken.finding(end, lambda taken: ends(taken)[end])

    @cached_property
    def angles(self) -> tuple[Finding, ...]:
        """The errors of the ends that are known, left first."""
        known = self._ends(self.taken)
        return tuple(self._of_end(self._ends, end) for end in ENDS if end in known)

    @property
    def by_protractor(self) -> dict[str, Finding]:
        """The errors that a protractor told."""
        return {end: self._of_end(self._known, end) for end in self.measured.by_protractor}

    @cached_property
    def contradict(self) -> bool:
        """Whether the readings cannot go together, within all of them: the angles, or they and long less short."""
        found = self.by_protractor
        if self.made.way != SWUNG:
            alike = self.made.sense("left") * self.made.sense("right")
            if len(found) == 2 and _apart(found["left"], found["right"], alike):
                return True
            found = {**{OTHER_END[end]: one.times(alike) for end, one in found.items()}, **found}
        if len(found) < 2:
            return self.made.way == PARALLEL and self.slope_sum.sure
        return self._against_sum(found)

    def _against_sum(self, found: dict[str, Finding]) -> bool:
        """Whether long less short cannot go with the angles of both ends; unsigned where those are alike."""
        slope = summed(self._slope(end, one.error) for end, one in found.items())
        nominal = {end: radians(getattr(self.piece, end).miter) for end in ENDS}
        slack = summed(radians(one.uncertainty) / cos(nominal[end]) ** 2 for end, one in found.items())
        apart = abs(self.slope_sum.error) - abs(slope) if self.alike else self.slope_sum.error - slope
        return abs(apart) > self.slope_sum.uncertainty + slack

    @cached_property
    def arm(self) -> Finding | None:
        """How far the arm stood too far to the feed side, degrees, where that is one error of it.

        Where the arm was swung between the ends, they may differ by no more than the readings can make them, and by so
        little that both surely err to the same side: miters that err alike on either side of square are no error of the
        scale.
        """
        if len(self.angles) < 2 or self.contradict or not self.made.sided:
            return None
        parts = [self.swing_of(end) for end in ENDS]
        if self.made.way != SWUNG:
            return parts[1]
        apart = self.taken.finding("arm", lambda taken: self._swings(taken)["right"] - self._swings(taken)["left"])
        mean = self.taken.finding("arm", lambda taken: summed(self._swings(taken).values()) / 2)
        best = min(mean, *parts, key=lambda one: one.uncertainty)
        same_side = abs(apart.error) + apart.uncertainty < 2 * abs(best.error)
        return best if same_side and not apart.sure else None

    def _swings(self, taken: Taken) -> Errors:
        """How far the arm stood too far to the feed side for each end, degrees."""
        return {end: self.made.sense(end) * error for end, error in self._ends(taken).items()}

    def swing_of(self, end: str) -> Finding:
        """How far the arm stood too far to the feed side for an end, degrees."""
        return self.taken.finding("arm", lambda taken: self._swings(taken)[end])

    @property
    def out(self) -> Errors:
        """The errors of the ends that are surely out, degrees."""
        return {one.on: one.error for one in self.angles if one.sure}

    @cached_property
    def hangs_on(self) -> str:
        """What must be known before the length can be put right; "" where it is."""
        if self.contradict:
            return AGREEMENT
        if self.made.way == SWUNG and len(self.angles) < 2 and self.slope_sum.sure and self._lines_differ:
            return PROTRACTOR
        sure = bool(self.out) or (self.made.way == SWUNG and self.slope_sum.sure)
        return AXIS if sure and self.made.axis is None and self._moves_with_axis else ""

    @property
    def _lines_differ(self) -> bool:
        left, right = (self._still(end, {}, self.taken) for end in ENDS)
        return abs(left - right) > SAME_SLOPE

    @property
    def _moves_with_axis(self) -> bool:
        near, far = (attrs.evolve(self, made=attrs.evolve(self.made, axis=y)) for y in (0.0, self.taken.width))
        return abs(near._set_out(near.taken) - far._set_out(far.taken)) > SAME_SLOPE

    @cached_property
    def length(self) -> Finding:
        """What the stop or the length keyed is out; where that is not known, the error of the centerline, mm."""
        if self.hangs_on:
            return self.taken.finding(CENTERLINE, lambda taken: self._apart(taken, taken.width / 2))
        ways = [self._set_out, *([self._set_out_from_middle] if len(self.angles) == len(ENDS) else [])]
        return min((self.taken.finding(self._line, way) for way in ways), key=lambda one: one.uncertainty)

    @property
    def _line(self) -> str:
        """The line that an angle put right leaves alone."""
        if self.made.tip:
            return STOP
        if self.made.way == PARALLEL or self.alike:
            return SIDE
        if self.made.way == ROLLED or self.made.axis is None:
            return CENTERLINE
        return KEYED if len(self.made.turned) == 1 else OVER_AXIS

    def _set_out(self, taken: Taken) -> float:
        """How far the length is out once every angle is right."""
        errors = self._ends(taken)
        at = summed(self._still(end, errors, taken) for end in ENDS) / 2
        return self._apart(taken, at) - self._turned_by(errors, taken, at)

    def _set_out_from_middle(self, taken: Taken) -> float:
        """The same from the middle of the bar, surer where the lines that keep their length lie off the steel."""
        at = taken.width / 2
        return self._apart(taken, at) - self._turned_by(self._ends(taken), taken, at)

    def _still(self, end: str, errors: Errors, taken: Taken) -> float:
        return self.made.still(end, getattr(self.piece, end).miter + errors.get(end, 0.0), taken.width)

    def _turned_by(self, errors: Errors, taken: Taken, y: float) -> float:
        """What the errors of the ends add to the length at y."""
        slopes = summed(
            self._slope(end, error) * (y - self._still(end, errors, taken)) for end, error in errors.items()
        )
        drawn = {end: getattr(self.piece, end).miter for end in ENDS}
        off = {end: miter + errors.get(end, 0.0) for end, miter in drawn.items()}
        return slopes - self.made.along(off) + self.made.along(drawn)

    def _apart(self, taken: Taken, y: float) -> float:
        """Measured less drawn at y: the drawing's length stands where it is measured, on a bar of this width."""
        scale = taken.width / self.piece.section.width
        drawn = self.piece.length - scale * (self.piece.length - self.piece.s) + self.piece.p * y
        if self.alike:
            return (taken.long + taken.short) / 2 - drawn
        share = y / taken.width if self.piece.p > 0 else 1 - y / taken.width
        return taken.short + share * (taken.long - taken.short) - drawn

    @cached_property
    def angle_right(self) -> tuple[float, float] | None:
        """Long and short point once the angles that are surely out are put right, mm; None where none is or it is not
        known."""
        if not self.out or self.hangs_on:
            return None
        far = self.taken.width if self.piece.p > 0 else 0.0
        ends = ((self.measured.long, far), (self.measured.short, self.taken.width - far))
        long, short = (found - self._turned_by(self.out, self.taken, y) for found, y in ends)
        return (max(long, short), min(long, short))

    @cached_property
    def lead(self) -> Finding | None:
        """How far the blade leads from top to bottom, degrees."""
        if self.measured.out_of_square is None:
            return None
        over = self.measured.over or self.piece.section.height
        angle = degrees(atan(self.measured.out_of_square / over))
        return Finding("height", angle, degrees(self.readings.by_tape / over))


def _apart(left: Finding, right: Finding, sense: float) -> bool:
    """Whether the errors of two ends differ for sure, one of them taken with its sense."""
    return abs(right.error - sense * left.error) > left.uncertainty + right.uncertainty
