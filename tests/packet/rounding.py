"""Lengths and angles rounded for people by rules written apart from the package, exact in fractions and decimals.

mm to 0.1 and inches to 0.001, halves away from zero; fractions to the nearest 1/16 or 1/32, reduced.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

MM_PER_INCH = Fraction(127, 5)


def length(mm: float, units: str) -> str:
    """A length as the sheet must show it in `units`."""
    if units == "mm":
        return plain(mm, "0.1")
    inches = Fraction(mm) / MM_PER_INCH
    if units == "in":
        return f'{rounded(float(inches), "0.001")}"'
    parts_of_inch = 32 if units.endswith("/32") else 16
    steps = int(inches * parts_of_inch + Fraction(1, 2))
    feet, rest = divmod(steps, 12 * parts_of_inch) if units.startswith("ft") else (0, steps)
    whole, over = divmod(rest, parts_of_inch)
    parts = [f"{whole}"] if whole or feet or not over else []
    parts += [f"{Fraction(over, parts_of_inch)}"] if over else []
    return (f"{feet}'-" if feet else "") + f'{" ".join(parts)}"'


def angle(degrees: float) -> str:
    """An angle to 0.01 degree, zeros at its end left out."""
    return f"{plain(degrees, '0.01')}°"


def plain(value: float, step: str) -> str:
    """A number to a step such as "0.1", zeros at its end left out and without a signed zero."""
    text = rounded(value, step).rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def rounded(value: float, step: str) -> str:
    """A number to a step such as "0.1"; 12 digits are taken as exact, so that 0.1 + 0.2 is 0.3."""
    return str(Decimal(f"{value:.12g}").quantize(Decimal(step), ROUND_HALF_UP))
