"""The words of a code with its numbers, shown in the units of whoever reads them; knows how lengths are shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Literal, cast

import attrs

from mitertool.base.names import all_of
from mitertool.quantity.show import Way, rounded_angle_limit, show_exact, show_gap, show_length, show_limit, show_mass
from mitertool.quantity.units import Units
from mitertool.words import phrase

Kind = Literal["length", "angle", "mass", "count", "name", "names", "word"]
"""What a number is: mm, degrees, kg, how many; what a file or a catalogue calls one thing or several; or a code."""

Value = float | int | str | tuple[float, ...] | tuple[str, ...]

As = Literal["down", "up", "fine", "exact", "mass"]
"""How a length in a sentence may ask to be shown: as a limit rounded that way, finer than a tape, or as it is; or that
it is none but a mass, kg."""

ShowAs = Callable[[float, As | None], str]
"""Shows a length, mm, as its place asks for it: None where it asks for nothing."""


@attrs.frozen
class Number:
    """A value that a sentence shows, by its name there, and its kind; several lengths stand side by side."""

    name: str
    value: Value
    kind: Kind


Numbers = tuple[Number, ...]


def renamed(numbers: Numbers, other: Mapping[str, str]) -> Numbers:
    """The numbers with every name that `other` has another for by that one."""
    return tuple(_renamed(one, other) if one.kind in ("name", "names") else one for one in numbers)


def _renamed(one: Number, other: Mapping[str, str]) -> Number:
    each = (one.value,) if isinstance(one.value, str) else one.value
    called = tuple(other.get(str(name), str(name)) for name in cast(tuple[str, ...], each))
    return attrs.evolve(one, value=called[0] if isinstance(one.value, str) else called)


def told(code: str, case: str, numbers: Iterable[Number], show: ShowAs) -> str:
    """The words of a code and its case, each number in them as its place there asks for it.

    A place asks by what stands behind its name: up and down, for limits rounded that way, the most that is allowed
    down and the least that is needed up; away, for one rounded away from 0; below, for how far one lies below 0; fine,
    for a small length that a tape's step would show as nothing; exact, for one that is not rounded to any step;
    numbered, for lengths counted from 1; and, for names joined by it; next, for a name after a space, or nothing where
    there is none.
    """
    of = code if "." in code else f"problem.{code}"
    return phrase(f"{of}/{case}" if case else of, **{number.name: _Shown(number, show) for number in numbers})


def in_units(units: Units) -> ShowAs:
    """Lengths as a person reads them, and the unit behind bare mm."""
    unit = " mm" if units == "mm" else ""
    return lambda value, asked: show_mass(value, units) if asked == "mass" else _shown_as(value, units, asked) + unit


def _shown_as(length: float, units: Units, asked: As | None) -> str:
    if asked is None:
        return show_length(length, units)
    if asked == "exact":
        return show_exact(length, units)
    return show_limit(length, units, asked) if asked in ("down", "up") else show_gap(length, units)


@attrs.frozen
class _Shown:
    """A number on its way into a sentence, as its place there asks for it."""

    number: Number
    show: ShowAs

    def __format__(self, asked: str) -> str:
        kind, value = self.number.kind, self.number.value
        if kind == "word":
            return phrase(str(value))
        if isinstance(value, str):
            return f" {value}" if asked == "next" and value else value
        if kind == "count":
            return str(value)
        if kind == "mass":
            return self.show(cast(float, value), "mass")
        if isinstance(value, tuple):
            shown = list(self._several(value, asked))
            return all_of(shown) if asked == "and" else ", ".join(shown)
        return self._angle(value, asked) if kind == "angle" else self._length(value, asked)

    def _several(self, values: Sequence[float | str], asked: str) -> Iterator[str]:
        for number, value in enumerate(values, 1):
            if isinstance(value, str):
                yield value
            elif asked == "numbered":
                yield phrase("note.numbered", number=number, place=self._length(value, ""))
            else:
                yield self._length(value, asked)

    def _angle(self, value: float, asked: str) -> str:
        if not asked or asked.startswith("."):
            return format(value, asked or "g")
        shown, way = _limit(value, asked)
        return phrase("unit.degrees", number=f"{rounded_angle_limit(shown, cast(Way, way)):.2f}")

    def _length(self, value: float, asked: str) -> str:
        shown, way = _limit(value, asked)
        return self.show(shown, cast(As, way) or None)


def _limit(value: float, asked: str) -> tuple[float, str]:
    """A number and how it is rounded: up, down or, where nothing is asked, not as a limit."""
    if asked == "below":
        return -value, "up"
    if asked == "away":
        return value, "up" if value > 0 else "down"
    return value, asked
