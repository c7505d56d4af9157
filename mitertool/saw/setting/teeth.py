"""How many teeth are in the work, and what that and the time of the cut say to the operator; knows reach."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.base.names import all_of
from mitertool.quantity.show import from_to
from mitertool.saw.file.questions import questions
from mitertool.saw.setting.reach import Reach
from mitertool.words import phrase

LEAST_IN_WALL: Final = 3.0
"""Teeth that should be in the thinnest wall at once. Bacon, Introduction to Machining (open textbook), chapter 7.4."""


@attrs.frozen
class Teeth:
    """Teeth in the work at once: in the mean contact (for choosing a pitch), the thinnest wall and the longest contact.

    Of a blade of variable pitch these are its coarse teeth, `pitch` mm apart, the fewest that are ever at work; its
    fine ones are `finest` mm apart (None: all are alike). `warnings` speak of a wall too thin for the pitch, by the
    coarse teeth, `notes` of the load, by the fine ones, and of what goes before.
    """

    pitch: float
    in_mean: float
    in_thinnest: float
    in_longest: float
    finest: float | None = None

    @property
    def most(self) -> float:
        """By how much the fine teeth of a variable pitch are more than its coarse ones; 1 where all are alike."""
        return self.pitch / (self.finest or self.pitch)

    def says(self, coarse: float) -> str:
        """A number of coarse teeth as text, with that of the fine ones where the pitch varies."""
        return f"{coarse:.1f}" if self.finest is None else from_to(f"{coarse:.1f}", f"{coarse * self.most:.1f}")

    @property
    def warnings(self) -> tuple[str, ...]:
        """That the thinnest wall holds too few teeth, or nothing."""
        if self.in_thinnest >= LEAST_IN_WALL:
            return ()
        return (phrase("teeth.may-strip", teeth=self.says(self.in_thinnest), usual=LEAST_IN_WALL),)

    @property
    def notes(self) -> tuple[str, ...]:
        """The load at the longest contact, and what goes before."""
        return (phrase("teeth.at-once", most=self.in_longest * self.most), phrase("teeth.chart"))


def teeth(reach: Reach) -> Teeth | None:
    """The teeth in a cut; None where the saw file gives no pitch, or no arm to know the contact from."""
    pitch, mean, wall, most = (
        reach.setting.saw.blade.pitch,
        reach.mean_contact,
        reach.thinnest_wall,
        reach.largest_contact,
    )
    if pitch is None or mean is None or wall is None or most is None:
        return None
    return Teeth(pitch, mean / pitch, wall / pitch, most / pitch, reach.setting.saw.blade.finest)


def pitch_for(reach: Reach) -> float | None:
    """The coarsest pitch, mm, with `LEAST_IN_WALL` teeth in the thinnest wall; None where the wall is not known."""
    return None if reach.thinnest_wall is None else reach.thinnest_wall / LEAST_IN_WALL


def time_says(reach: Reach) -> str:
    """The time of the cut, or why there is none, in a sentence."""
    blade, minutes = reach.setting.saw.blade, reach.minutes
    if blade.area_rate is None and blade.descent is None:
        return phrase("time.no-rates")
    if minutes is None:
        return phrase("time.no-arm")
    odd = [one.key for one in questions(reach.setting.saw) if one.key in ("area_rate", "descent")]
    return phrase("time.odd" if odd else "time.takes", minutes=minutes, keys=all_of(odd))
