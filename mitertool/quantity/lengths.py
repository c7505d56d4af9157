"""Text or a bare number to a length in mm; knows the ways a length is written, not what it measures."""

from __future__ import annotations

import re
from typing import Final

from mitertool.quantity.numerals import (
    NUMERAL,
    UnreadableError,
    complaint,
    finite,
    given_number,
    numeral,
    refusing,
    tidy,
)
from mitertool.quantity.units import LONGEST, MM_PER_FOOT, MM_PER_INCH, MM_PER_UNIT, UNITS, WITH_FEET, Units

_INCH: Final = r"\"|''|(?:inches|inch|in)\.?"
_FOOT: Final = r"'|(?:feet|foot|ft)\.?"
_LENGTH: Final = (
    rf"(?P<sign>[+-]?)(?P<number>{NUMERAL}) ?"
    rf"(?:(?P<mm>mm)|(?P<cm>cm)|(?P<m>m)|(?P<inch>{_INCH})|(?P<foot>{_FOOT}))?"
    rf"(?P<more> ?-? ?(?P<inches>{NUMERAL}) ?(?:{_INCH}|(?P<other>mm|cm|m|{_FOOT}))?)?"
)
_MM_PER_SUFFIX: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": MM_PER_INCH, "foot": MM_PER_FOOT}
_INCHES_PER_FOOT: Final = 12

_IN_MM: Final = 'write a length in mm such as 1200 or 848.5, or with its unit such as 1.2 m or 47-1/4"'
_IN_INCHES: Final = "write a length in inches such as 47.25 or 47-1/4, or with its unit such as 4'-6 1/2\" or 1200 mm"
_IN_FEET: Final = "write a length such as 4'-6 1/2\", or in inches such as 54-1/2, or with its unit as in 1200 mm"
_ALLOWED: Final[dict[Units, str]] = {
    unit: _IN_MM if unit == "mm" else _IN_FEET if unit in WITH_FEET else _IN_INCHES for unit in UNITS
}


def length(value: object, units: Units, what: str) -> float:
    """A length in mm, of either sign, at most `LONGEST`.

    `value` is a number in `units` or text: a decimal, a fraction or a mixed number, bare or followed by mm,
    cm, m, in or ft, or whole feet with inches below 12. Raises `BadInput` naming `what` for anything else.
    """
    with refusing(what, value, _ALLOWED[units]):
        return _length(value, units)


def positive_length(value: object, units: Units, what: str) -> float:
    """A length in mm, read as `length` reads it and more than 0. Raises `BadInput` otherwise."""
    with refusing(what, value, _ALLOWED[units]):
        mm = _length(value, units)
        if mm <= 0:
            raise UnreadableError("it must be more than 0")
        return mm


def length_from_zero(value: object, units: Units, what: str) -> float:
    """A length in mm, read as `length` reads it and not less than 0. Raises `BadInput` otherwise."""
    with refusing(what, value, _ALLOWED[units]):
        mm = _length(value, units)
        if mm < 0:
            raise UnreadableError("it must be 0 or more")
        return mm


def amount(text: str) -> tuple[float, float | None]:
    """A tidy text as (number, mm in one of its unit), None where it has no unit; feet with inches come as mm.

    Raises `UnreadableError` where the text is no length.
    """
    match = re.fullmatch(_LENGTH, text, re.IGNORECASE | re.ASCII)
    mm_per_one = next((mm for suffix, mm in _MM_PER_SUFFIX.items() if match and match[suffix]), None)
    if match is None or (match["more"] and mm_per_one is None):
        raise complaint(text)
    number = numeral(match["number"])
    if match["more"]:
        number, mm_per_one = _feet_and_inches(match), 1.0
    return finite(-number if match["sign"] == "-" else number), mm_per_one


def _length(value: object, units: Units) -> float:
    number, mm_per_one = amount(tidy(value)) if isinstance(value, str) else (given_number(value), None)
    mm = finite(number * (MM_PER_UNIT[units] if mm_per_one is None else mm_per_one))
    if abs(mm) > LONGEST:
        raise UnreadableError(f"it must be at most {LONGEST:.0f} mm")
    return mm


def _feet_and_inches(match: re.Match[str]) -> float:
    if not match["foot"] or match["other"] or not match["number"].isdigit():
        raise UnreadableError("only whole feet and inches combine")
    inches = numeral(match["inches"])
    if inches >= _INCHES_PER_FOOT:
        raise UnreadableError(f"inches after feet must be less than {_INCHES_PER_FOOT}")
    return numeral(match["number"]) * MM_PER_FOOT + inches * MM_PER_INCH
