"""The settings of the saw that a job asks for, numbered in the order in which the bars call for them; knows saw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import attrs

from mitertool.saw import Reach

_SAME: Final = 1e-9
"""degrees. Swings and tilts that differ by less are one setting."""


@attrs.frozen
class Use:
    """What a setting makes: an `end` ("left" or "right", as drawn) of a mark, with the bar rolled by `roll` degrees."""

    mark: str
    end: str
    roll: float


@attrs.frozen
class JobSetting:
    """A setting of the saw for one section and grade: its number, counted from 1, and every end that it makes."""

    number: int
    reach: Reach
    grade: str
    uses: tuple[Use, ...]

    def makes(self, mark: str, end: str) -> bool:
        """Whether it makes that end."""
        return any((use.mark, use.end) == (mark, end) for use in self.uses)


def same_setting(one: Reach, other: Reach) -> bool:
    """Whether nothing must be set between two cuts but how the bar is rolled: same section as it lies, swing, tilt."""
    return (
        abs(one.swing - other.swing) <= _SAME
        and abs(one.tilt - other.tilt) <= _SAME
        and one.section.name == other.section.name
        and one.section.looks_like(other.section)
    )


def numbered(cuts: Iterable[tuple[Use, str, Reach]]) -> tuple[JobSetting, ...]:
    """The settings of cuts, each given as what it makes, its grade and its reach, in the order of work."""
    found: list[JobSetting] = []
    for use, grade, reach in cuts:
        at = next((i for i, one in enumerate(found) if one.grade == grade and same_setting(one.reach, reach)), None)
        if at is None:
            found.append(JobSetting(len(found) + 1, reach, grade, (use,)))
        elif use not in found[at].uses:
            found[at] = attrs.evolve(found[at], uses=(*found[at].uses, use))
    return tuple(found)


def numbers_of(settings: Sequence[JobSetting], mark: str, end: str) -> Iterator[int]:
    """The numbers of the settings that make an end of a mark."""
    return (one.number for one in settings if one.makes(mark, end))
