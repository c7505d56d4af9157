"""The units a person may work in and the exact factors between them and mm, degrees and kg; knows no text."""

from __future__ import annotations

from typing import Final, Literal, get_args

from mitertool.base.errors import BadInput

Units = Literal["mm", "in", "ft-in"]
"""How a bare number is meant and how lengths are shown: mm, decimal inches, or feet, inches and fractions."""

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

MM_PER_UNIT: Final[dict[Units, float]] = {"mm": 1.0, "in": MM_PER_INCH, "ft-in": MM_PER_INCH}
"""mm in one of what a bare number counts; in feet and inches a bare number counts inches."""


def units(text: object, what: str = "units") -> Units:
    """`text` as one of `UNITS`. Raises `BadInput` with the allowed words otherwise."""
    for known in UNITS:
        if text == known:
            return known
    raise BadInput(what, text, f"write {', '.join(UNITS[:-1])} or {UNITS[-1]}")
