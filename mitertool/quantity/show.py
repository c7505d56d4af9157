"""Lengths, angles and masses as text for people, and the length such a text stands for; reads no text."""

from __future__ import annotations

from typing import Final

from mitertool.base.errors import BadInput
from mitertool.quantity.units import FRACTIONS, KG_PER_POUND, MM_PER_FOOT, MM_PER_INCH, WITH_FEET, Units

DENOMINATORS: Final = (2, 4, 8, 16, 32, 64)
"""The fractions of an inch found on a tape or a rule."""

_DECIMALS: Final[dict[Units, int]] = {"mm": 1, "in": 3}
_TIE: Final = 1e-6
"""Steps. A value this close to the middle between two steps lies on it, so that half steps which came through
mm all go away from zero: at 1e6 mm that detour costs up to 2e-8 steps of 0.001 inch."""


def show_length(mm: float, units: Units, denominator: int | None = None, decimals: int | None = None) -> str:
    """A length of `mm` for people: 848.5 in mm, 47.250" in inches, 4'-6 1/2" in feet and inches.

    mm have at most `decimals` (1 where None), inches exactly so many (3 where None); units with fractions go to the
    nearest 1/`denominator` inch (their own where None), reduced. A tie goes away from zero. Raises `BadInput` for a
    denominator that is none of `DENOMINATORS`.
    """
    parts = _parts(units, denominator)
    steps = _steps(mm, units, parts, decimals)
    sign = "-" if steps < 0 else ""
    if parts:
        return sign + _fraction_text(abs(steps), parts, units in WITH_FEET)
    text = _decimal_text(abs(steps), _places(units, decimals))
    return sign + (f'{text}"' if units == "in" else _trimmed(text))


def rounded_length(mm: float, units: Units, denominator: int | None = None, decimals: int | None = None) -> float:
    """The length in mm that the text of `show_length` stands for: what `length` reads from it, exactly."""
    parts = _parts(units, denominator)
    steps = _steps(mm, units, parts, decimals)
    if parts:
        feet, rest = divmod(abs(steps), 12 * parts) if units in WITH_FEET else (0, abs(steps))
        size = feet * MM_PER_FOOT + rest / parts * MM_PER_INCH
        return -size if steps < 0 else size
    return steps / 10.0 ** _places(units, decimals) * (MM_PER_INCH if units == "in" else 1.0)


def show_angle(degrees: float, decimals: int = 2) -> str:
    """An angle of `degrees` for people, at most `decimals`: 45°, 22.5°, -10.53°; a tie goes away from 0."""
    steps = _nearest(degrees * 10.0**decimals)
    return f"{'-' if steps < 0 else ''}{_trimmed(_decimal_text(abs(steps), decimals))}°"


def show_mass(kg: float, units: Units) -> str:
    """A mass of `kg` for people, in kg beside mm and in lb beside inches: one decimal, three below 1."""
    size, unit = (kg, "kg") if units == "mm" else (kg / KG_PER_POUND, "lb")
    places = 1 if abs(size) >= 1 else 3
    steps = _nearest(size * 10.0**places)
    return f"{'-' if steps < 0 else ''}{_decimal_text(abs(steps), places)} {unit}"


def _parts(units: Units, denominator: int | None) -> int:
    """Parts of an inch to which a length is shown; 0 for decimals."""
    if denominator is not None and denominator not in DENOMINATORS:
        raise BadInput("denominator", denominator, f"write one of {', '.join(map(str, DENOMINATORS))}")
    own = FRACTIONS.get(units, 0)
    return denominator if own and denominator else own


def _steps(mm: float, units: Units, parts: int, decimals: int | None) -> int:
    """How many of the smallest shown parts `mm` comes to, nearest."""
    if parts:
        return _nearest(mm / MM_PER_INCH * parts)
    return _nearest((mm / MM_PER_INCH if units == "in" else mm) * 10.0 ** _places(units, decimals))


def _places(units: Units, decimals: int | None) -> int:
    return _DECIMALS[units] if decimals is None else decimals


def _nearest(steps: float) -> int:
    size = int(abs(steps) + 0.5 + _TIE)
    return -size if steps < 0 else size


def _decimal_text(steps: int, places: int) -> str:
    return f"{steps / 10.0**places:.{places}f}"


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _fraction_text(steps: int, denominator: int, with_feet: bool) -> str:
    inches, over = divmod(steps, denominator)
    feet, inches = divmod(inches, 12) if with_feet else (0, inches)
    parts = [str(inches)] if inches or feet or not over else []
    if over:
        shared = over & -over  # the largest power of two in the numerator; the denominator is a power of two
        parts.append(f"{over // shared}/{denominator // shared}")
    text = f'{" ".join(parts)}"'
    return f"{feet}'-{text}" if feet else text
