"""The kinds of values a file may hold: each says how one is read and refused, told to an editor, and shown as read.

An editor holds a text to what every legal one has; what it means only the reader knows, so a schema may let pass what a
reader refuses, never the other way round.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.letters import one_form, unprintable
from mitertool.base.names import among
from mitertool.quantity import angles, lengths, numerals, schema
from mitertool.quantity.schema import Schema
from mitertool.quantity.show import show_angle, show_exact
from mitertool.quantity.units import UNITS, Units, units
from mitertool.words import phrase

LONGEST_TEXT: Final = 1000
"""Characters of a text of a file: half a page of the sheet, and lettering is measured letter by letter."""

_SPACE: Final = r"^\s*"
_BEGINS: Final = r"[0-9.½¼¾⅛⅜⅝⅞][^,]*$"
_SIGNED: Final = _SPACE + r"[+\-−]?" + _BEGINS
_UNSIGNED: Final = _SPACE + r"(\+|[-−](?=[0.]))?" + _BEGINS
"""Minus nothing is nothing, and only the reader knows whether it is."""

_ANGLE_DECIMALS: Final = 4


@attrs.frozen(eq=False)
class Kind:
    """A kind of value.

    `read(value, what, units)` takes a value as TOML gives it, bare lengths in `units`, and gives mm, degrees, a number
    or a text; it raises `BadInput` naming `what`. `schema` says the same to an editor. `show` writes a read value for a
    person who works in given units; None where what is written shows itself.
    """

    read: Callable[[Any, str, Units], Any]
    schema: Schema
    show: Callable[[Any, Units], str] | None = None

    def told(self, *says: str) -> Schema:
        """The schema of a key of this kind, which means what the words of the codes say."""
        return {**self.schema, "description": says}


@attrs.frozen
class Limits:
    """From `least` or from `above`, to `most` or to `below`: these two not reached. None: no limit there."""

    least: float | None = None
    most: float | None = None
    above: float | None = None
    below: float | None = None

    def hold(self, value: float) -> bool:
        """Whether the value lies within them."""
        low = (self.least is None or value >= self.least) and (self.above is None or value > self.above)
        return low and (self.most is None or value <= self.most) and (self.below is None or value < self.below)

    @property
    def says(self) -> str:
        """The limits in words: "more than 0, at most 15", "-5 to 5", "0 or more"."""
        given = {name: limit for name, limit in attrs.asdict(self).items() if limit is not None}
        return phrase(f"limits.{'-'.join(given)}", **given)

    @property
    def schema(self) -> dict[str, float]:
        """The limits for an editor, which hold where the value is a number."""
        names = {"minimum": self.least, "maximum": self.most}
        names |= {"exclusiveMinimum": self.above, "exclusiveMaximum": self.below}
        return {name: limit for name, limit in names.items() if limit is not None}


def choice(words: Sequence[str]) -> Kind:
    """One of the words."""

    def read(value: Any, what: str, _: Units) -> str:
        if value not in words:
            raise BadInput(what, value, among(words))
        return str(value)

    return Kind(read, {"enum": list(words)})


def worded(words: Sequence[str]) -> Kind:
    """One of the words; a text that is another is refused by whoever knows what it is asked for."""
    return Kind(_text, {"enum": list(words)})


def unread(told: Schema) -> Kind:
    """A value that is read by whoever knows what it depends on; `told` says its type to an editor."""
    return Kind(lambda value, _what, _units: value, told)


def several(one: Kind, least: int = 1, most: int | None = None) -> Kind:
    """A list of values; how many there must be is refused by whoever knows what they are."""

    def read(value: Any, what: str, unit: Units) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise BadInput(what, value, phrase("refuse.list"))
        return tuple(one.read(part, what, unit) for part in value)

    return Kind(read, schema.several(one.schema, least, most))


def angle(limits: Limits | None = None, allowed: str = "refuse.degrees") -> Kind:
    """An angle in degrees; the words of `allowed` say the {limits}."""

    def read(value: Any, what: str, _: Units) -> float:
        return _within(angles.angle(value, what), what, limits, allowed)

    examples = [22.5, "22 1/2", "22°30'"]
    return Kind(read, _written(_SIGNED, limits, examples), lambda degrees, _: show_angle(degrees, _ANGLE_DECIMALS))


def number(limits: Limits | None = None) -> Kind:
    """A number without a unit."""

    def read(value: Any, what: str, _: Units) -> float:
        return _within(numerals.plain_number(value, what), what, limits, "refuse.limits")

    return Kind(read, _written(_SIGNED, limits))


def count(least: int = 1, most: int | None = None) -> Kind:
    """A whole number of at least `least`, and of at most `most` where that is given."""

    def read(value: Any, what: str, _: Units) -> int:
        most_of_any = {} if most is None else {"most": most}
        return numerals.count(value, what, least=least, **most_of_any)

    limits = Limits(least=least, most=most).schema
    return Kind(read, {"type": ["integer", "string"], **limits, "pattern": r"^\s*\+?[0-9]+\s*$"})


def length_shown(mm: float, unit: Units) -> str:
    """A length as a file says it, with its unit."""
    return f"{show_exact(mm, unit)}{' mm' if unit == 'mm' else ''}"


def _text(value: Any, what: str, _: Units) -> str:
    if not isinstance(value, str) or not value.strip():
        raise BadInput(what, value, phrase("refuse.text"))
    if len(value) > LONGEST_TEXT:
        raise BadInput(what, value, phrase("refuse.long-text", most=LONGEST_TEXT, found=len(value)))
    return " ".join(value.split())


def _printable(text: str, what: str) -> str:
    found = one_form(text)
    against = unprintable(found)
    if against:
        raise BadInput(what, found, against)
    return found


def _as_written(value: Any, what: str, _: Units) -> str:
    if isinstance(value, bool) or not isinstance(value, str | int | float | date):
        raise BadInput(what, value, phrase("refuse.as-written"))
    return _printable(" ".join(str(value).split()), what)


def _date(value: Any, what: str, _: Units) -> str:
    if not isinstance(value, str | date):
        raise BadInput(what, value, phrase("refuse.date"))
    return " ".join(str(value).split())


def _flag(value: Any, what: str, _: Units) -> bool:
    if not isinstance(value, bool):
        raise BadInput(what, value, phrase("refuse.flag"))
    return value


def _within(value: float, what: str, limits: Limits | None, allowed: str) -> float:
    if limits and not limits.hold(value):
        raise BadInput(what, value, phrase(allowed, limits=limits.says, **attrs.asdict(limits)))
    return value


def _written(pattern: str, limits: Limits | None = None, examples: Sequence[object] = ()) -> Schema:
    shown = {"examples": list(examples)} if examples else {}
    return {"type": ["number", "string"], **(limits.schema if limits else {}), "pattern": pattern, **shown}


def _length(reader: Callable[[Any, Units, str], float], pattern: str, limits: Limits | None = None) -> Kind:
    told = _written(pattern, limits, [1200, "1200 mm", "4'-6 1/2\"", '47-1/4"'])
    return Kind(lambda value, what, unit: reader(value, unit, what), told, length_shown)


TEXT: Final = Kind(_text, {"type": "string", "pattern": r"\S", "maxLength": LONGEST_TEXT})
"""A text without line breaks."""

WORDS: Final = Kind(lambda value, what, unit: _printable(_text(value, what, unit), what), TEXT.schema)
"""A text that is printed: its accents composed, letters refused that cannot be seen or have no shape."""

AS_WRITTEN: Final = Kind(_as_written, {"type": ["string", "number"]})
"""Anything that is printed as it was written: a text, a number or a date."""

DATE: Final = Kind(_date, {"type": "string", "examples": ["2024-05-17"]})
"""A day, as text or as a date of TOML, which an editor takes for text."""

FLAG: Final = Kind(_flag, {"type": "boolean"})
"""true or false."""

UNIT: Final = Kind(lambda value, what, _: units(value, what), {"enum": list(UNITS)})
"""How bare lengths are meant."""

LENGTH: Final = _length(lengths.length, _SIGNED)
LENGTH_FROM_ZERO: Final = _length(lengths.length_from_zero, _UNSIGNED, Limits(least=0))
POSITIVE_LENGTH: Final = _length(lengths.positive_length, _UNSIGNED, Limits(above=0))
