"""Text or a bare number to a length in mm; knows the ways a length is written, not what it measures."""

from __future__ import annotations

import re
from typing import Final

from mitertool.base.tolerances import SAME_LENGTH
from mitertool.quantity.numerals import (
    NUMERAL,
    UnreadableError,
    complaint,
    finite,
    from_zero,
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

_ALLOWED: Final[dict[Units, str]] = {
    unit: "write.mm" if unit == "mm" else "write.feet" if unit in WITH_FEET else "write.inches" for unit in UNITS
}
"""What may be written, by the code of its words."""


def length(value: object, units: Units, what: str) -> float:
    """A length in mm, of either sign, at most `LONGEST`.

    `value` is a number in `units` or text: a decimal, a fraction or a mixed number, bare or followed by mm,
    cm, m, in or ft, or whole feet with inches below 12. Raises `BadInput` naming `what` for anything else.
    """
    with refusing(what, value, _ALLOWED[units]):
        return _length(value, units)


def positive_length(value: object, units: Units, what: str) -> float:
    """A length in mm, read as `length` reads it and more than 0, which is no nanometre. Raises `BadInput` otherwise."""
    with refusing(what, value, _ALLOWED[units]):
        mm = _length(value, units)
        if mm < SAME_LENGTH:
            raise UnreadableError("positive")
        return mm


def length_from_zero(value: object, units: Units, what: str) -> float:
    """A length in mm, read as `length` reads it and not less than 0. Raises `BadInput` otherwise."""
    with refusing(what, value, _ALLOWED[units]):
        return from_zero(_length(value, units))


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
        raise UnreadableError("longest", most=LONGEST)
    return mm


def _feet_and_inches(match: re.Match[str]) -> float:
    if not match["foot"] or match["other"] or not match["number"].isdigit():
        raise UnreadableError("feet")
    inches = numeral(match["inches"])
    if inches >= _INCHES_PER_FOOT:
        raise UnreadableError("inches", most=_INCHES_PER_FOOT)
    return numeral(match["number"]) * MM_PER_FOOT + inches * MM_PER_INCH
