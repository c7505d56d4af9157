"""How many teeth are in the work, and what that and the time of the cut say to the operator; knows reach."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.saw.reach import Reach

LEAST_IN_WALL: Final = 3.0
"""Teeth that should be in the thinnest wall at once. Bacon, Introduction to Machining (open textbook), chapter 7.4."""

FIRST: Final = "The blade maker's chart goes before this."


@attrs.frozen
class Teeth:
    """Teeth in the work at once: in the mean contact (for choosing a pitch), the thinnest wall and the longest contact.

    `warnings` speak of a wall too thin for the pitch, `notes` of the load and of what goes before.
    """

    pitch: float
    in_mean: float
    in_thinnest: float
    in_longest: float

    @property
    def warnings(self) -> tuple[str, ...]:
        """That the thinnest wall holds too few teeth, or nothing."""
        if self.in_thinnest >= LEAST_IN_WALL:
            return ()
        return (f"{self.in_thinnest:.1f} teeth in the thinnest wall may strip; {LEAST_IN_WALL:g} are usual",)

    @property
    def notes(self) -> tuple[str, ...]:
        """The load at the longest contact, and what goes before."""
        return (f"up to {self.in_longest:.0f} teeth cut at once where the contact is longest", FIRST)


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
    return Teeth(pitch, mean / pitch, wall / pitch, most / pitch)


def pitch_for(reach: Reach) -> float | None:
    """The coarsest pitch, mm, with `LEAST_IN_WALL` teeth in the thinnest wall; None where the wall is not known."""
    return None if reach.thinnest_wall is None else reach.thinnest_wall / LEAST_IN_WALL


def time_says(reach: Reach) -> str:
    """The time of the cut, or why there is none, in a sentence."""
    blade, minutes = reach.setting.saw.blade, reach.minutes
    if blade.area_rate is None and blade.descent is None:
        return "No cutting time: the saw file has no rates of the shop."
    if minutes is None:
        return "No cutting time: the saw file has no [arm] that fits the bar."
    return f"The cut takes {minutes:.1f} min by the shop's rates."
