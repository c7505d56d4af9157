"""A formula as a sympy expression whose symbols have words and units, and its printing for a pocket calculator.

Angles are radians inside an expression and degrees in words; `RIGHT` stands for 90 degrees.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import degrees, pi, radians
from typing import Any, Final

import attrs
import sympy
from sympy.printing.str import StrPrinter

from mitertool.quantity.units import MM_PER_INCH, Units
from mitertool.words import phrase

_POWER: Final[Mapping[str, int]] = {"mm": 1, "mm2": 2, "mm3": 3}
"""Which power of the length a unit is."""
RIGHT: Final = sympy.Symbol("90°")
_FIGURES: Final = 6
"""Significant figures of a number put in: a pocket calculator keeps more, a person copies no more."""


@attrs.frozen
class Quantity:
    """A symbol with its meaning, by a code, and its unit: "mm", "mm2", "mm3", "deg" or "" for a plain number."""

    symbol: str
    means: str
    unit: str = "mm"

    @property
    def words(self) -> str:
        """What it means."""
        return phrase(f"quantity.{self.means}")

    @property
    def name(self) -> sympy.Symbol:
        """The symbol as it stands in an expression."""
        return sympy.Symbol(self.symbol)

    def inside(self, value: float) -> float:
        """A value as an expression takes it: angles in radians."""
        return radians(value) if self.unit == "deg" else value

    def outside(self, value: float) -> float:
        """A value as a person reads it: angles in degrees."""
        return degrees(value) if self.unit == "deg" else value

    def read_in(self, units: Units, value: float) -> float:
        """A value in mm, mm2 or mm3 as a reader of `units` has it: in decimal inches, square or cubic, for inches."""
        return value if units == "mm" else value / MM_PER_INCH ** _POWER.get(self.unit, 0)

    def shown(self, value: float, units: Units) -> str:
        """A value that is read in `units`, with its unit."""
        text = f"{value + 0.0:.{_FIGURES}g}"
        unit = self.unit if units == "mm" else self.unit.replace("mm", "in")
        return {"deg": f"{text}°", "": text}.get(self.unit, f"{text} {unit}")


@attrs.frozen
class Formula:
    """`result` = `expression` of the quantities `given`. `key` names it, in the tests and in the table of words."""

    key: str
    result: Quantity
    expression: Any
    given: tuple[Quantity, ...]

    @property
    def says(self) -> str:
        """What it gives, in words."""
        return phrase(f"formula.{self.key}")

    def value(self, **given: float) -> float:
        """The result for given values by symbol, as a person writes them (angles in degrees)."""
        put_in = {q.name: q.inside(given[q.symbol]) for q in self.given}
        return self.result.outside(float(self.expression.subs({**put_in, RIGHT: pi / 2}).evalf()))

    def step(self, units: Units, **given: float) -> Step:
        """The formula with numbers put in, lengths given in mm and shown in `units`.

        Every formula holds in any unit of length, for its sides have the same power of it.
        """
        read = {q.symbol: q.read_in(units, given[q.symbol]) for q in self.given}
        shown = {q.symbol: _bare(q, read[q.symbol]) for q in self.given}
        return Step(
            says=self.says,
            formula=f"{self.result.symbol} = {_text(self.expression, {})}",
            numbers=f"{self.result.symbol} = {_text(self.expression, shown)}",
            result=f"{self.result.words} {self.result.symbol} = {self.result.shown(self.value(**read), units)}",
            where=tuple(f"{q.symbol}: {q.words}, {q.shown(read[q.symbol], units)}" for q in self.given),
        )


@attrs.frozen
class Step:
    """One line of working: what it is for, the formula, the numbers put in, the result, and what the symbols are."""

    says: str
    formula: str
    numbers: str
    result: str
    where: tuple[str, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The step as it is printed."""
        return (self.says, *(f"    {line}" for line in (*self.where, self.formula, self.numbers, self.result)))


def _bare(quantity: Quantity, value: float) -> str:
    text = f"{value + 0.0:.{_FIGURES}g}"  # no minus before a zero
    text = f"{text}°" if quantity.unit == "deg" else text
    return f"({text})" if value < 0 else text


def _text(expression: Any, shown: Mapping[str, str]) -> str:
    text: str = _Plain({"order": "none"}, shown).doprint(expression)
    return text.replace("**", "^").replace("*", " x ").replace("atan", "arctan").replace("asin", "arcsin")


class _Plain(StrPrinter):  # type: ignore[misc]
    """Prints symbols by their shown numbers."""

    def __init__(self, settings: Mapping[str, Any], shown: Mapping[str, str]) -> None:
        super().__init__(dict(settings))
        self._shown = shown

    def _print_Symbol(self, symbol: Any) -> str:  # noqa: N802
        return self._shown.get(symbol.name, symbol.name)

    def _print_ceiling(self, expression: Any) -> str:
        return phrase("formula.round-up", of=self._print(expression.args[0]))
