"""Numerals in text (decimal, fraction, mixed) and numbers without a unit; knows nothing of mm or degrees."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.words import phrase

NUMERAL: Final = r"(?>[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
"""Pattern of one numeral, without a sign. Atomic, so that text of any length is refused in linear time."""

_SAME_SIGN: Final = str.maketrans("′’″“”º−", '\'\'"""°-')
_ONE_CHARACTER_FRACTIONS: Final = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}

LARGEST: Final = 1e12
"""No price, time or rate of a shop in any money comes near, and what is added and multiplied of them stays finite."""


class UnreadableError(ValueError):
    """Why a value is no number of the kind asked for, by its code; `refusing` makes it a `BadInput`."""

    def __init__(self, why: str, **parts: object) -> None:
        super().__init__(phrase(f"unreadable.{why}", **parts))


@contextmanager
def refusing(what: str, value: object, allowed: str, **parts: object) -> Iterator[None]:
    """Turn an `UnreadableError` met inside into the `BadInput` for `value`: cause, then the words of `allowed`."""
    try:
        yield
    except UnreadableError as cause:
        raise BadInput(what, _printable(value), f"{cause}; {phrase(allowed, **parts)}") from None


def tidy(text: str) -> str:
    """`text` with single spaces, and with typographic marks and fractions as the ASCII ones."""
    plain = re.sub("([0-9]?)([½¼¾⅛⅜⅝⅞])", _spelled_out, text.translate(_SAME_SIGN))
    return " ".join(plain.split())


def numeral(text: str) -> float:
    """The value of a text that `NUMERAL` matches. Raises `UnreadableError` where it is not finite."""
    whole, _, fraction = text.replace("-", " ").rpartition(" ") if "/" in text else ("", "", text)
    over, _, under = fraction.partition("/")
    top, bottom = float(over), float(under or 1)
    if bottom == 0:
        raise UnreadableError("over-0")
    if whole and top >= bottom:
        raise UnreadableError("fraction")
    return finite((float(whole or 0) * bottom + top) / bottom)


def finite(value: float) -> float:
    """`value` itself, with the sign of zero dropped. Raises `UnreadableError` for nan and infinity."""
    if not math.isfinite(value):
        raise UnreadableError("finite")
    return value + 0.0


def given_number(value: object) -> float:
    """A number given as a number. Raises `UnreadableError` for anything else, true and false among it."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise UnreadableError("number-or-text")
    try:
        return finite(float(value))
    except OverflowError:
        raise UnreadableError("finite") from None


def complaint(text: str) -> UnreadableError:
    """Why `text`, which matches no legal form, cannot be read."""
    if not text:
        return UnreadableError("empty")
    if "," in text:
        return UnreadableError("comma")
    if any(one.isnumeric() and not one.isascii() for one in text):
        return UnreadableError("digits")
    if text.lstrip("+-").casefold() in {"nan", "inf", "infinity"}:
        return UnreadableError("finite")
    return UnreadableError("form")


def at_most(number: float, most: float = LARGEST) -> float:
    """The number, where it lies within `most` on either side of 0. Raises `UnreadableError` otherwise."""
    if abs(number) > most:
        raise UnreadableError("largest", most=most)
    return number


def from_zero(number: float) -> float:
    """The number, where it is not less than 0. Raises `UnreadableError` otherwise."""
    if number < 0:
        raise UnreadableError("from-0")
    return number


def plain_number(value: object, what: str) -> float:
    """A number without a unit, such as teeth per inch or a taper in per cent. Raises `BadInput` otherwise."""
    with refusing(what, value, "write.number"):
        return at_most(_plain(tidy(value)) if isinstance(value, str) else given_number(value))


def number_from_zero(value: object, what: str) -> float:
    """A number without a unit and not less than 0. Raises `BadInput` otherwise."""
    with refusing(what, value, "write.number"):
        return from_zero(plain_number(value, what))


def count(value: object, what: str, least: int = 1, most: int = 100_000) -> int:
    """A whole number from `least` to `most`, given as an int or as digits. Raises `BadInput` otherwise."""
    example = max(least, min(4, most))
    with refusing(what, value, "write.count", least=least, most=most, example=example):
        whole = _whole(value)
        if not least <= whole <= most:
            raise UnreadableError("below" if whole < least else "above")
        return whole


def _plain(text: str) -> float:
    match = re.fullmatch(f"([+-]?)({NUMERAL})", text)
    if match is None:
        raise complaint(text)
    value = numeral(match[2])
    return finite(-value if match[1] == "-" else value)


def _whole(value: object) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and re.fullmatch("[+-]?[0-9]{1,300}", value.strip()):
        return int(value)
    raise UnreadableError("whole")


def _spelled_out(match: re.Match[str]) -> str:
    digit, fraction = match[1], _ONE_CHARACTER_FRACTIONS[match[2]]
    return f"{digit} {fraction} " if digit else f"{fraction} "


def _printable(value: object) -> object:
    """`value`, or infinity for an int of more digits than the interpreter agrees to print."""
    if isinstance(value, int) and value.bit_length() > 1024:
        return math.inf if value > 0 else -math.inf
    return value
