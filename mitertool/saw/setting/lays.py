"""The lays in which a saw makes one and the same cut of a bar; knows reach and sections."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from mitertool.bar import BarCut, short_way
from mitertool.base.tolerances import SAME_SETTING
from mitertool.cut import Cut
from mitertool.quantity.problem import Remark, names
from mitertool.saw.file.machine import Machine
from mitertool.saw.setting.asked import Asked
from mitertool.saw.setting.reach import Reach, reach
from mitertool.sections import Section, lies_safely
from mitertool.words import phrase

_QUARTERS: Final = (0.0, 90.0, 180.0, 270.0)


@attrs.frozen
class WorkingLay:
    """A lay in which the saw makes the cut, and the settings there; a cut turns with its bar, so the piece is the same.

    The bar is turned by `rotation` from how it lay, degrees, counter-clockwise seen against x; `word` is the word by
    which it then lies, "" where it has none.
    """

    rotation: float
    word: str
    cut: Cut
    reach: Reach

    @property
    def says(self) -> str:
        """How the bar is turned, in words."""
        return phrase(f"turned.{self.rotation:g}") if not self.word else phrase("turned.laid", lay=self.word)


def turned_cut(cut: Cut, rotation: float) -> Cut:
    """The same cut of a bar that has been turned about its axis by degrees, counter-clockwise seen against x."""
    return BarCut(cut).rolled(-rotation).plane


def lays_that_work(
    saw: Machine, section: Section, cut: Cut, end: str = "right", count: int = 1
) -> tuple[WorkingLay, ...]:
    """Every lay in which the saw makes the cut, `count` bars side by side: quarter turns and the worded lays.

    The section must lie safely as it is cut, rolled where the saw asks for a roll. A lay that comes to the same
    setting as an earlier one is left out: `reach` rolls the bar by itself.
    """
    found: list[WorkingLay] = []
    for rotation, word in _turns(section).items():
        laid, there = section.lay(rotation), turned_cut(cut, rotation)
        answer = reach(saw, laid, there, end, count)
        if answer.ok and lies_safely(answer.section) and not _seen(answer, found):
            found.append(WorkingLay(rotation, word, there, answer))
    return tuple(found)


def laid_over(saw: Asked, section: Section, cuts: Sequence[tuple[Cut, str]]) -> tuple[Reach, ...]:
    """The settings of all cuts of a piece, each given with its end, the bar laid half a turn over before the first.

    Their rolls are told from how it lies. Empty where the saw does not make every cut so. Turning the bar end for end
    besides changes no setting: the slope of a cut across the bed stays.
    """
    laid = section.lay(180)
    over = tuple(saw.reach(laid, cut.reversed, end) for cut, end in cuts)
    if not all(answer.ok for answer in over):
        return ()
    return tuple(attrs.evolve(answer, roll=short_way(answer.roll + 180)) for answer in over)


def lays_told(lays: Sequence[WorkingLay]) -> Remark:
    """The lays that work, or that none does."""
    if not lays:
        return Remark("no-lay")
    return Remark("lays", names(lays=[lay.says for lay in lays]))


def _turns(section: Section) -> dict[float, str]:
    """Rotations from the present lay, each with its word; worded lays are told from how the catalogue gives it."""
    worded = {} if section.turned else section.shape.lays(section)
    words = {(rotation - section.rotation) % 360: word for word, rotation in worded.items()}
    return {**dict.fromkeys(_QUARTERS, ""), **words}


def _seen(answer: Reach, found: list[WorkingLay]) -> bool:
    """Whether an earlier lay is set the same, or the same on the other side with the bar half over."""
    return any(
        abs(abs(answer.swing) - abs(one.reach.swing)) + abs(abs(answer.tilt) - abs(one.reach.tilt)) <= SAME_SETTING
        and answer.section.looks_like(one.reach.section.lay(rotation))
        for one in found
        for rotation in (0, 180)
    )
