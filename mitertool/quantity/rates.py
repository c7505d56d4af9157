"""Text or a bare number to what a blade does in a minute: an area or a way; knows no saw."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from mitertool.quantity.numerals import (
    NUMERAL,
    UnreadableError,
    at_most,
    complaint,
    finite,
    given_number,
    numeral,
    refusing,
    tidy,
)
from mitertool.quantity.show import from_to
from mitertool.quantity.units import MM_PER_FOOT, MM_PER_INCH, Units

_AREAS: Final[Mapping[str, float]] = {"mm2/min": 1.0, "cm2/min": 100.0, "in2/min": MM_PER_INCH**2}
_WAYS: Final[Mapping[str, float]] = {"mm/min": 1.0, "m/min": 1000.0, "in/min": MM_PER_INCH, "ft/min": MM_PER_FOOT}

_LEAST: Final = 1e-3
"""mm or mm2 a minute: a blade so slow takes years for a bar, and a time that is divided by it stays finite."""


def area_rate(value: object, what: str) -> float:
    """mm2/min, more than 0: a bare number, or text with mm2/min, cm2/min or in2/min. Raises `BadInput` otherwise."""
    return _rate(value, what, _AREAS, "write.area-rate")


def way_rate(value: object, what: str) -> float:
    """mm/min, more than 0: a bare number, or text with mm/min, m/min, in/min or ft/min. Raises `BadInput` otherwise."""
    return _rate(value, what, _WAYS, "write.way-rate")


def show_area_rate(units: Units, *mm2: float) -> str:
    """An area of `mm2` a minute for people, in mm2/min or in2/min; of two, the least and the most."""
    return f"{_shown(units, mm2, MM_PER_INCH**2)}2/min"


def show_way_rate(units: Units, *mm: float) -> str:
    """A way of `mm` a minute for people, in mm/min or in/min; of two, the least and the most."""
    return f"{_shown(units, mm, MM_PER_INCH)}/min"


def _shown(units: Units, rates: Sequence[float], inch: float) -> str:
    """The numbers and the unit of length; six figures of mm and three of inches are more than a rate is known to."""
    told = [f"{rate:.6g}" if units == "mm" else f"{rate / inch:.3g}" for rate in rates]
    return f"{from_to(*told)} {'mm' if units == 'mm' else 'in'}"


def _rate(value: object, what: str, known: Mapping[str, float], allowed: str) -> float:
    with refusing(what, value, allowed):
        rate = _read(tidy(value).replace("²", "2"), known) if isinstance(value, str) else given_number(value)
        if rate <= 0:
            raise UnreadableError("positive")
        if rate < _LEAST:
            raise UnreadableError("least", least=_LEAST)
        return at_most(rate)


def _read(text: str, known: Mapping[str, float]) -> float:
    match = re.fullmatch(rf"([+-]?)({NUMERAL}) ?([a-z0-9]+ ?/ ?min)?", text, re.IGNORECASE | re.ASCII)
    if match is None:
        raise complaint(text)
    unit = (match[3] or "").replace(" ", "").casefold()
    if unit and unit not in known:
        raise UnreadableError("unit", known=", ".join(known))
    return finite(numeral(match[2]) * known.get(unit, 1.0) * (-1 if match[1] == "-" else 1))
