"""The units a person may work in and the exact factors between them and mm, degrees and kg; knows no text."""

from __future__ import annotations

from typing import Final, Literal, get_args

from mitertool.base.errors import BadInput
from mitertool.words import phrase

Units = Literal["mm", "in", "ft-in", "in/16", "in/32", "ft-in/32"]
"""How a bare number is meant and how lengths are shown: mm, decimal inches, feet with inches and sixteenths, inches
with sixteenths or with 32nds, feet with inches and 32nds."""

UNITS: Final[tuple[Units, ...]] = get_args(Units)

MM_PER_INCH: Final = 25.4
"""Exact by definition: international yard and pound agreement of 1959, 1 yd = 0.9144 m."""

MM_PER_FOOT: Final = 304.8
"""Exact by the same agreement; a literal, because 12 * 25.4 in double precision is 304.79999999999995."""

KG_PER_POUND: Final = 0.45359237
"""Exact by the same agreement."""

LONGEST: Final = 1e6
"""mm. No length is longer: 1 km is far beyond any bar, so more is a slip of the unit, and below it a double
still resolves a nanometre."""

MM_PER_UNIT: Final[dict[Units, float]] = {unit: 1.0 if unit == "mm" else MM_PER_INCH for unit in UNITS}
"""mm in one of what a bare number counts; in feet and inches a bare number counts inches."""

FRACTIONS: Final[dict[Units, int]] = {"ft-in": 16, "in/16": 16, "in/32": 32, "ft-in/32": 32}
"""Parts of an inch to which lengths are shown; decimals in all other units."""

WITH_FEET: Final[tuple[Units, ...]] = ("ft-in", "ft-in/32")


def said(units: Units) -> str:
    """The units in words."""
    return phrase(f"units.{units.replace('/', '.')}")


def units(text: object, what: str = "units") -> Units:
    """`text` as one of `UNITS`. Raises `BadInput` with the allowed words otherwise."""
    for known in UNITS:
        if text == known:
            return known
    raise BadInput(what, text, phrase("write.units", units=", ".join(UNITS[:-1]), last=UNITS[-1]))
