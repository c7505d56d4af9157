"""Text or a bare number to an angle in degrees, a slope among them; knows no cut and no limit of any saw."""

from __future__ import annotations

import math
import re
from typing import Final

from mitertool.quantity.lengths import amount
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

_DEGREE: Final = r"(?:°|(?:degrees|degree|deg)\.?)"
_DECIMAL_ANGLE: Final = rf"(?P<sign>[+-]?)(?P<degrees>{NUMERAL}) ?(?P<unit>{_DEGREE})?"
_FRACTION: Final = r"[0-9]+/[0-9]+"
_MINUTE_ANGLE: Final = (
    rf"(?P<sign>[+-]?)(?P<degrees>[0-9]+) ?{_DEGREE} ?(?P<minutes>{NUMERAL}) ?'"
    rf"(?: ?(?P<seconds>{NUMERAL}) ?(?:\"|''))?"
)
_FLAGS: Final = re.IGNORECASE | re.ASCII


def angle(value: object, what: str) -> float:
    """An angle in degrees, of either sign, from a number or text such as 22.5, 22 1/2, 22.5° or 22°30'15".

    A fraction alone may be meant as a slope: it is refused unless it is less than one and bears its unit, 1/2°.
    Raises `BadInput` naming `what` for anything else.
    """
    with refusing(what, value, "write.angle"):
        return _angle(tidy(value)) if isinstance(value, str) else given_number(value)


def angle_from_zero(value: object, what: str) -> float:
    """An angle in degrees, read as `angle` reads it and not less than 0. Raises `BadInput` otherwise."""
    with refusing(what, value, "write.angle"):
        return from_zero(angle(value, what))


def slope_angle(text: object, what: str) -> float:
    """The angle of a slope "rise:run" in degrees, atan2(rise, run), between -90 and 90.

    Both sides are plain numbers, or both are lengths with a unit; run is more than 0. Raises `BadInput`
    naming `what` for anything else.
    """
    with refusing(what, text, "write.slope"):
        if not isinstance(text, str):
            raise UnreadableError("text")
        sides = tidy(text).split(":")
        if len(sides) != 2:
            raise UnreadableError("colon")
        return _slope(*(amount(side.strip()) for side in sides))


def _slope(rise: tuple[float, float | None], run: tuple[float, float | None]) -> float:
    if (rise[1] is None) != (run[1] is None):
        raise UnreadableError("unit-on-both")
    up, along = (finite(number * (mm_per_one or 1.0)) for number, mm_per_one in (rise, run))
    if along <= 0:
        raise UnreadableError("run")
    return math.degrees(math.atan2(up, along))


def _angle(text: str) -> float:
    match = re.fullmatch(_DECIMAL_ANGLE, text, _FLAGS)
    if match:
        degrees = numeral(match["degrees"])
        if re.fullmatch(_FRACTION, match["degrees"]) and (degrees >= 1 or not match["unit"]):
            raise UnreadableError("fraction-alone", slope=match["degrees"].replace("/", ":"))
    else:
        match = re.fullmatch(_MINUTE_ANGLE, text, _FLAGS)
        if match is None:
            raise complaint(text)
        degrees = _from_minutes(match)
    return finite(-degrees if match["sign"] == "-" else degrees)


def _from_minutes(match: re.Match[str]) -> float:
    minutes, seconds = numeral(match["minutes"]), numeral(match["seconds"] or "0")
    if match["seconds"] and not match["minutes"].isdigit():
        raise UnreadableError("whole-minutes")
    if minutes >= 60 or seconds >= 60:
        raise UnreadableError("less-than-60")
    return finite((numeral(match["degrees"]) * 3600 + minutes * 60 + seconds) / 3600)
