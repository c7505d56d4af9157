"""The settings of the saw that a job asks for, numbered in the order in which the bars call for them; knows saw."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import Self

import attrs

from mitertool.bar import short_way
from mitertool.base.tolerances import SAME_SETTING
from mitertool.piece.poses import ROLLED, TURNED, end_in
from mitertool.saw import Reach
from mitertool.saw.setting.reach import same_setting
from mitertool.words import phrase


@attrs.frozen
class Use:
    """What a setting makes: an `end` ("left" or "right") of a mark, the bar rolled by `roll` degrees, both as drawn.

    `cut` is 1 for the cut that parts the bar there, and the number of a further one.
    `turned` says that the bar is laid end for end before it is rolled; only of a cut to which that makes a difference.
    """

    mark: str
    end: str
    roll: float
    cut: int = 1
    turned: bool = False

    @property
    def words(self) -> str:
        """The end, and which cut of it where that is a further one."""
        end = phrase(f"end.{self.end}")
        return end if self.cut == 1 else phrase("end.cut", end=end, cut=self.cut)

    @classmethod
    def of(cls, mark: str, end: str, reach: Reach, pose: str, lay: float = 0.0) -> Self:
        """The use of a cut at the `end` of a piece as it lies on its bar in a pose; `lay` as `nest.Placed` has it.

        Turned end for end the ends change places, a rolled pose is half a turn more. A cut without a bevel is the
        same plane end for end, and a square one also however the bar is rolled.
        """
        drawn = end_in(pose, end)
        if reach.side == "square" and not reach.tilt:
            return cls(mark, drawn, 0.0)
        roll = short_way(reach.roll - lay + (180.0 if pose in ROLLED else 0.0))
        return cls(mark, drawn, roll, turned=pose in TURNED and bool(reach.tilt or roll % 180))


@attrs.frozen
class JobSetting:
    """A setting of the saw for one section and grade: its number, counted from 1, and every end that it makes."""

    number: int
    reach: Reach
    grade: str
    uses: tuple[Use, ...]

    def makes(self, mark: str, end: str, cut: int = 1) -> bool:
        """Whether it makes that cut of that end."""
        return any((use.mark, use.end, use.cut) == (mark, end, cut) for use in self.uses)


@attrs.frozen(eq=False)
class ByCut:
    """Settings by what they are set for, so that one of thousands is found without comparing it with all."""

    _kept: dict[tuple[str, str, int], list[tuple[int, Reach]]] = attrs.field(factory=dict)

    @classmethod
    def of(cls, settings: Iterable[JobSetting]) -> Self:
        """All of a job's settings."""
        made = cls()
        for one in settings:
            made.keep(one.number, one.reach, one.grade)
        return made

    def keep(self, number: int, reach: Reach, grade: str) -> None:
        """Take in a setting, under its number."""
        self._kept.setdefault((grade, reach.section.name, _cell(reach)), []).append((number, reach))

    def number_of(self, reach: Reach, grade: str) -> int:
        """The lowest number of a setting that makes a cut of a bar of this grade; 0 for none."""
        at, name = _cell(reach), reach.section.name
        near = (one for cell in (at - 1, at, at + 1) for one in self._kept.get((grade, name, cell), ()))
        return min((number for number, one in near if same_setting(one, reach)), default=0)


def _cell(reach: Reach) -> int:
    """Settings that are the same stand in the same cell or in two that touch."""
    return floor(reach.swing / (2 * SAME_SETTING))


def numbered(cuts: Iterable[tuple[Use, str, Reach]]) -> tuple[JobSetting, ...]:
    """The settings of cuts, each given as what it makes, its grade and its reach, in the order of work."""
    found: list[tuple[Reach, str, dict[Use, None]]] = []
    known = ByCut()
    for use, grade, reach in cuts:
        number = known.number_of(reach, grade)
        if not number:
            number = len(found) + 1
            known.keep(number, reach, grade)
            found.append((reach, grade, {}))
        found[number - 1][2][use] = None
    return tuple(JobSetting(number, reach, grade, tuple(uses)) for number, (reach, grade, uses) in enumerate(found, 1))
