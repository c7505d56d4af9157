"""Figures of a saw file that no saw is likely to have, asked about and never refused; knows the saw's values only."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from mitertool.base.names import either
from mitertool.quantity.kinds import length_shown
from mitertool.quantity.rates import show_area_rate, show_way_rate
from mitertool.quantity.show import from_to
from mitertool.quantity.units import MM_PER_INCH, Units
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.saw.file.machine import Bed, Machine


class Question(NamedTuple):
    """A key of a saw file with a figure that is asked about, what it is read as, what is usual, and a hint.

    All but the first two are in the units of the file; `rate` is the unit of a bare rate where that is not theirs.
    """

    table: str
    key: str
    found: str
    usual: str
    rate: str = ""

    @property
    def says(self) -> str:
        """The question."""
        code = "question.rate" if self.rate else "question.figure"
        return phrase(code, table=self.table, key=self.key, found=self.found, usual=self.usual, rate=self.rate)


_KERFS: Final = (0.5, 3.0)
_TEETH: Final = (0.75, 24.0)
_AREA_RATES: Final = (100.0, 60_000.0)
_DESCENTS: Final = (2.0, 2000.0)
"""mm, teeth an inch, mm2/min and mm/min within which band saws for metal are: common practice, no source."""


def questions(saw: Machine) -> tuple[Question, ...]:
    """What is asked about a saw file, in the units of the file; empty where every figure is a usual one."""
    return tuple(_asked(saw))


def _asked(saw: Machine) -> Iterator[Question]:
    blade, units = saw.blade, saw.units
    if not _KERFS[0] <= saw.kerf <= _KERFS[1]:
        yield Question(
            "saw", "kerf", length_shown(saw.kerf, units), from_to(*(length_shown(kerf, units) for kerf in _KERFS))
        )
    yield from _axis(saw.bed, units)
    if blade.pitch is not None:
        coarse, fine = MM_PER_INCH / blade.pitch, MM_PER_INCH / (blade.finest or blade.pitch)
        if coarse < _TEETH[0] or fine > _TEETH[1]:
            found = from_to(*(f"{teeth:.3g}" for teeth in dict.fromkeys((coarse, fine))))
            usual = from_to(*(f"{teeth:g}" for teeth in _TEETH))
            yield Question("blade", either(("pitch", "teeth_per_inch")), phrase("teeth.an-inch", teeth=found), usual)
    yield from _rate("area_rate", blade.area_rate, _AREA_RATES, units, show_area_rate, "mm2/min")
    yield from _rate("descent", blade.descent, _DESCENTS, units, show_way_rate, "mm/min")


def _axis(bed: Bed, units: Units) -> Iterator[Question]:
    """A swing axis that stands not over the bar: a minus puts it behind the fixed jaw, where it can be, but seldom."""
    axis, widest = bed.swing_axis, bed.width
    if axis is None or 0.0 <= axis <= (axis if widest is None else widest):
        return
    usual = phrase("limits.least", least=0) if widest is None else from_to("0", length_shown(widest, units))
    yield Question("bed", "swing_axis", length_shown(axis, units), usual)


def _rate(
    key: str, rate: float | None, usual: tuple[float, float], units: Units, show: Callable[..., str], unit: str
) -> Iterator[Question]:
    """A rate of the blade; its bare unit is told where that is not what the file's lengths are in."""
    if rate is not None and not usual[0] <= rate <= usual[1]:
        yield Question("blade", key, show(units, rate), show(units, *usual), "" if units == "mm" else unit)
