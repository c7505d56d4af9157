"""What an exercise is made from: a saw, a section and the lot, with cuts and lengths of a shop; knows reach."""

from __future__ import annotations

from math import cos, radians, tan
from typing import Final

import attrs

from mitertool.cut import Cut
from mitertool.practice.lot import ByLot
from mitertool.quantity.problem import Remark, angles, words
from mitertool.quantity.telling import Numbers
from mitertool.quantity.units import MM_PER_INCH
from mitertool.saw.saw import Saw
from mitertool.saw.setting.reach import ENDS, Reach
from mitertool.sections import Section

_SWINGS: Final = (45.0, 30.0, 60.0, 22.5, 40.0, 35.0, 25.0, 15.0, 50.0, 37.5, 18.0, 52.0)
"""degrees from square that are asked, usual ones among them."""

_MM: Final = 5.0
_QUARTER: Final = MM_PER_INCH / 4


@attrs.frozen
class SwungCut:
    """A cut with the arm swung and the bar as it lies: at which `end` of a piece, and what the saw answers."""

    end: str
    cut: Cut
    reach: Reach

    @property
    def slant(self) -> float:
        """tan of the swing, without its sign."""
        return abs(tan(radians(self.reach.swing)))

    @property
    def longer(self) -> float:
        """1 / cos of the swing."""
        return 1 / cos(radians(self.reach.swing))

    @property
    def stands(self) -> Numbers:
        """What the scale reads and to which side the arm is swung."""
        reach = self.reach
        return angles(reading=reach.scale, swing=abs(reach.swing)) + words(side=f"practice.side/{reach.side}")


@attrs.frozen
class Case:
    """A saw with a section in its vise, and the lot."""

    saw: Saw
    section: Section
    lot: ByLot

    def swung(self, excused: tuple[str, ...] = ()) -> SwungCut | None:
        """A mitered cut by lot that needs no roll; None where the saw does not make it, `excused` reasons aside."""
        end, long = self.lot.one_of(ENDS), self.lot.one_of((1.0, -1.0))
        cut = Cut(long * self.lot.one_of(_SWINGS))
        answer = self.saw.reach(self.section, cut, end)
        if answer.roll or any(reason.code not in excused for reason in answer.reasons):
            return None
        return SwungCut(end, cut, answer)

    def length(self, low: float, high: float) -> float:
        """A length by lot as a drawing has it, mm: in steps of 5 mm or of a quarter of an inch."""
        return self.lot.between(low, high, _MM if self.saw.units == "mm" else _QUARTER)

    @property
    def step(self) -> float:
        """What a tape tells apart, mm: half a millimetre, or half of a sixteenth of an inch."""
        return 0.5 if self.saw.units == "mm" else MM_PER_INCH / 32


def long_at(cut: Cut) -> str:
    """The side of the bar on which a mitered cut has its long point."""
    return "moving" if cut.miter > 0 else "fixed"


def without_correction(saw: Saw, swing: float) -> float:
    """What the scale would read for a swing if no correction were kept, degrees."""
    return attrs.evolve(saw.scale, offset=0.0).reading(swing)


def corrected(saw: Saw, swing: float) -> tuple[Remark, ...]:
    """That a kept correction is in a reading; nothing where there is none."""
    if not saw.scale.offset:
        return ()
    reading = saw.scale.reading(swing)
    return (Remark("practice.corrected", angles(by=reading - without_correction(saw, swing), reading=reading)),)
