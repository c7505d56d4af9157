"""Points and commas of a list: which of them parts whole and fraction, told by the list as a whole; knows text.

1,200 is a thousand to one customer and a little more than one to another. A single cell does not say; all cells of a
list together nearly always do, and where they do not the list is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.words import phrase

DECIMAL: Final = {"point": ".", "comma": ","}

_NUMERAL: Final = re.compile(r"\d[\d.,]*")
_GROUPED: Final = re.compile(r"(\d{1,3})((?:[.,]\d{3})+)")
_SPACED: Final = re.compile(r"(?<=\d)[ \u00a0\u202f](?=\d{3}(?![\d/]))")
"""A space that parts thousands: three digits follow it, and no stroke of a fraction."""


@attrs.frozen
class Numeral:
    """A numeral of a list as it is written, and where; `short`: no thousands are expected, as in an angle."""

    text: str
    where: str
    short: bool = False


def decimal_of(numerals: Iterable[Numeral], said: str = "") -> str:
    """The sign before the fraction, "." or ",". Raises `BadInput` where the cells differ, or none of them tells."""
    if said:
        return DECIMAL[said]
    proofs: dict[str, Numeral] = {}
    unclear: Numeral | None = None
    for one in numerals:
        for found in map(str, _NUMERAL.findall(_closed(one.text))):
            sign = _told(found, one.short)
            if sign == "?":
                unclear = unclear or one
            elif sign:
                proofs.setdefault(sign, one)
    if len(proofs) > 1:
        point, comma = proofs["."], proofs[","]
        found_in = f"{point.text} ({point.where}), {comma.text} ({comma.where})"
        raise BadInput("decimal", found_in, phrase("list.two-decimals"))
    if not proofs and unclear:
        raise BadInput("decimal", f"{unclear.text} ({unclear.where})", phrase("list.which-decimal"))
    return next(iter(proofs), ".")


def with_point(text: str, decimal: str) -> str:
    """A cell's text with thousands closed up and a point before the fraction."""

    def one(match: re.Match[str]) -> str:
        other = "," if decimal == "." else "."
        return match[0].replace(other, "").replace(decimal, ".")

    return _NUMERAL.sub(one, _closed(text))


def _closed(text: str) -> str:
    return _SPACED.sub("", text)


def _told(numeral: str, short: bool) -> str:
    """The sign that this numeral proves to be the decimal one; "?" where it may be either, "" where it has none."""
    signs = [one for one in numeral if one in ".,"]
    if not signs:
        return ""
    if len(set(signs)) == 2:
        return signs[-1]
    other = "," if signs[0] == "." else "."
    if len(signs) > 1:
        return other
    grouped = _GROUPED.fullmatch(numeral)
    return "?" if grouped and grouped[1] != "0" and not short else signs[0]
