"""Figures of a saw file that no saw is likely to have, asked about and never refused; knows the saw's values only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from mitertool.quantity.kinds import length_shown
from mitertool.quantity.rates import show_area_rate, show_way_rate
from mitertool.quantity.units import MM_PER_INCH, Units

if TYPE_CHECKING:
    from mitertool.saw.file.machine import Machine


class Question(NamedTuple):
    """A key of a saw file with a figure that is asked about, and the sentence."""

    table: str
    key: str
    says: str


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
        yield _question(
            "saw", "kerf", length_shown(saw.kerf, units), " to ".join(length_shown(kerf, units) for kerf in _KERFS)
        )
    if blade.pitch is not None:
        coarse, fine = MM_PER_INCH / blade.pitch, MM_PER_INCH / (blade.finest or blade.pitch)
        if coarse < _TEETH[0] or fine > _TEETH[1]:
            found = f"{coarse:.3g}" if coarse == fine else f"{coarse:.3g} to {fine:.3g}"
            usual = " to ".join(f"{teeth:g}" for teeth in _TEETH)
            yield _question("blade", "pitch or teeth_per_inch", f"{found} teeth an inch", usual)
    if blade.area_rate is not None and not _AREA_RATES[0] <= blade.area_rate <= _AREA_RATES[1]:
        yield _question(
            "blade",
            "area_rate",
            show_area_rate(units, blade.area_rate),
            show_area_rate(units, *_AREA_RATES),
            _bare("mm2/min", units),
        )
    if blade.descent is not None and not _DESCENTS[0] <= blade.descent <= _DESCENTS[1]:
        yield _question(
            "blade",
            "descent",
            show_way_rate(units, blade.descent),
            show_way_rate(units, *_DESCENTS),
            _bare("mm/min", units),
        )


def _question(table: str, key: str, found: str, usual: str, hint: str = "") -> Question:
    return Question(table, key, f"[{table}] {key} is read as {found}; usual is {usual}. Is it right?{hint}")


def _bare(unit: str, units: Units) -> str:
    """What a rate without a unit means, where that is not what the file's lengths are in."""
    return "" if units == "mm" else f" A rate without a unit is {unit}."
