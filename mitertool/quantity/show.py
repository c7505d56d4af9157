"""Lengths, angles, areas and masses as text for people, and the length such a text stands for; reads no text."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor
from typing import Final, Literal

from mitertool.base.errors import BadInput
from mitertool.quantity.compare import same_length
from mitertool.quantity.units import FRACTIONS, KG_PER_POUND, MM_PER_FOOT, MM_PER_INCH, WITH_FEET, Units
from mitertool.words import phrase

Way = Literal["down", "up"]
"""How a limit is rounded: the most that is allowed down, the least that is needed up; so never looser than it is."""

DENOMINATORS: Final = (2, 4, 8, 16, 32, 64)
"""The fractions of an inch found on a tape or a rule."""

_DECIMALS: Final[dict[Units, int]] = {"mm": 1, "in": 3}
_TIE: Final = 1e-6
"""Steps. A value this close to the middle between two steps lies on it, so that half steps which came through
mm all go away from zero: at 1e6 mm that detour costs up to 2e-8 steps of 0.001 inch."""
_LOST: Final = 0.1
"""The part of itself that a limit may lose as it is rounded to the inside; where more would be lost, it is shown finer:
0.15 stays 0.15, and 4 mm are 5/32 inch."""
_FINEST: Final = 6
"""Decimals that no limit needs more of: a millionth of an inch, of a mm or of a degree."""


def show_length(mm: float, units: Units, denominator: int | None = None, decimals: int | None = None) -> str:
    """A length of `mm` for people: 848.5 in mm, 47.250" in inches, 4'-6 1/2" in feet and inches.

    mm have at most `decimals` (1 where None), inches exactly so many (3 where None); units with fractions go to the
    nearest 1/`denominator` inch (their own where None), reduced. A tie goes away from zero. Raises `BadInput` for a
    denominator that is none of `DENOMINATORS`.
    """
    parts = _parts(units, denominator)
    return _text(_steps(mm, units, parts, decimals), units, parts, decimals)


def show_limit(mm: float, units: Units, way: Way) -> str:
    """A limit of `mm` for people, rounded `way` and never looser than it is.

    In the steps of `show_length`, or in finer ones where these would take more than a tenth of it: fractions to 1/64
    inch, then decimals.
    """
    text = ""
    for unit, parts, decimals in _ladder(units):
        exact = _exact(mm, unit, parts, decimals)
        steps = _to_the(way, exact)
        text = _text(steps, unit, parts, decimals)
        if abs(steps - exact) <= _LOST * abs(exact):
            break
    return text


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


def show_angle_limit(degrees: float, way: Way) -> str:
    """A limit of `degrees` for people, rounded `way`: to two decimals, or finer where these take more than a tenth."""
    decimals, shown = 2, rounded_angle_limit(degrees, way)
    while abs(shown - degrees) > _LOST * abs(degrees) and decimals < _FINEST:
        decimals += 1
        shown = rounded_angle_limit(degrees, way, decimals)
    return show_angle(shown, decimals)


def rounded_angle_limit(degrees: float, way: Way, decimals: int = 2) -> float:
    """A limit of `degrees` rounded `way` to so many decimals."""
    return _to_the(way, degrees * 10.0**decimals) / 10.0**decimals


def show_exact(mm: float, units: Units) -> str:
    """A length of `mm` as it is set or written, not rounded to a tape: mm and inches to four decimals at most.

    Units with fractions have it in their own steps where it is one of them, else in decimal inches.
    """
    if FRACTIONS.get(units) and same_length(rounded_length(mm, units), mm):
        return show_length(mm, units)
    text = show_length(mm, "mm" if units == "mm" else "in", decimals=4)
    return text if units == "mm" else f'{_trimmed(text[:-1])}"'


def show_gap(mm: float, units: Units) -> str:
    """A small length of `mm` for people, finer than a tape: mm to two decimals, inches to three, never fractions."""
    return show_length(mm, "mm", decimals=2) if units == "mm" else show_length(mm, "in")


def show_area(mm2: float, units: Units) -> str:
    """An area of `mm2` for people, to four figures: cm2 beside mm and in2 beside inches."""
    return f"{mm2 / 100:.4g} cm2" if units == "mm" else f"{mm2 / MM_PER_INCH**2:.4g} in2"


def show_mass_per_length(kg_per_metre: float, units: Units) -> str:
    """The mass of a length of bar for people, to four figures: kg/m beside mm and lb/ft beside inches."""
    if units == "mm":
        return f"{kg_per_metre:.4g} kg/m"
    return f"{kg_per_metre * MM_PER_FOOT / 1000 / KG_PER_POUND:.4g} lb/ft"


def show_mass(kg: float, units: Units) -> str:
    """A mass of `kg` for people, in kg beside mm and in lb beside inches: one decimal, three below 1."""
    size, unit = (kg, "kg") if units == "mm" else (kg / KG_PER_POUND, "lb")
    places = 1 if abs(size) >= 1 else 3
    steps = _nearest(size * 10.0**places)
    return f"{'-' if steps < 0 else ''}{_decimal_text(abs(steps), places)} {unit}"


def from_to(*shown: str) -> str:
    """What is shown alone, or from the one to the other."""
    return phrase("range.from-to", least=shown[0], most=shown[1]) if len(shown) > 1 else shown[0]


def _parts(units: Units, denominator: int | None) -> int:
    """Parts of an inch to which a length is shown; 0 for decimals."""
    if denominator is not None and denominator not in DENOMINATORS:
        raise BadInput("denominator", denominator, phrase("refuse.one-of", allowed=", ".join(map(str, DENOMINATORS))))
    own = FRACTIONS.get(units, 0)
    return denominator if own and denominator else own


def _ladder(units: Units) -> Iterator[tuple[Units, int, int | None]]:
    """Unit, parts of an inch and decimals in which a limit is shown, each step finer than the one before."""
    own = FRACTIONS.get(units)
    if own:
        yield from ((units, parts, None) for parts in DENOMINATORS if parts >= own)
    unit: Units = "in" if own else units
    yield from ((unit, 0, decimals) for decimals in range(_DECIMALS[unit], _FINEST + 1))


def _steps(mm: float, units: Units, parts: int, decimals: int | None) -> int:
    """How many of the smallest shown parts `mm` comes to, nearest."""
    return _nearest(_exact(mm, units, parts, decimals))


def _exact(mm: float, units: Units, parts: int, decimals: int | None) -> float:
    """`mm` in the smallest shown parts."""
    if parts:
        return mm / MM_PER_INCH * parts
    return (mm / MM_PER_INCH if units == "in" else mm) * 10.0 ** _places(units, decimals)


def _text(steps: int, units: Units, parts: int, decimals: int | None) -> str:
    """So many of the smallest shown parts as text."""
    sign = "-" if steps < 0 else ""
    if parts:
        return sign + _fraction_text(abs(steps), parts, units in WITH_FEET)
    text = _decimal_text(abs(steps), _places(units, decimals))
    return sign + (f'{text}"' if units == "in" else _trimmed(text))


def _places(units: Units, decimals: int | None) -> int:
    return _DECIMALS[units] if decimals is None else decimals


def _nearest(steps: float) -> int:
    size = int(abs(steps) + 0.5 + _TIE)
    return -size if steps < 0 else size


def _to_the(way: Way, steps: float) -> int:
    """The whole number of steps `way` of it, the next one where it lies on that."""
    return floor(steps + _TIE) if way == "down" else ceil(steps - _TIE)


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
