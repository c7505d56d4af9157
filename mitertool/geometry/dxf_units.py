"""The unit of a DXF drawing: what its header states, held against the word beside it; knows numbers and words only.

The codes are those of the header variable $INSUNITS in the published DXF reference (header section, "default drawing
units"). The US survey foot is 1200/3937 m.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.quantity import Units
from mitertool.quantity.problem import Remark, names, words
from mitertool.words import phrase


@attrs.frozen
class DxfUnit:
    """A unit of drawings: its name, its length in mm, whether it is metric. A length of 0: no steel is drawn in it."""

    name: str
    length: float
    metric: bool = False

    @property
    def says(self) -> str:
        """Its name in words."""
        return phrase(f"dxf-unit.{self.name}")


_SURVEY: Final = 1200000 / 3937
"""mm in a US survey foot."""

_UNITS: Final[Mapping[int, DxfUnit]] = {
    1: DxfUnit("inches", 25.4),
    2: DxfUnit("feet", 304.8),
    3: DxfUnit("miles", 1609344.0),
    4: DxfUnit("millimetres", 1.0, True),
    5: DxfUnit("centimetres", 10.0, True),
    6: DxfUnit("metres", 1000.0, True),
    7: DxfUnit("kilometres", 1e6, True),
    8: DxfUnit("microinches", 25.4e-6),
    9: DxfUnit("mils", 0.0254),
    10: DxfUnit("yards", 914.4),
    11: DxfUnit("angstroms", 0.0, True),
    12: DxfUnit("nanometres", 0.0, True),
    13: DxfUnit("microns", 1e-3, True),
    14: DxfUnit("decimetres", 100.0, True),
    15: DxfUnit("decametres", 1e4, True),
    16: DxfUnit("hectometres", 1e5, True),
    17: DxfUnit("gigametres", 0.0, True),
    18: DxfUnit("astronomical", 0.0),
    19: DxfUnit("light-years", 0.0),
    20: DxfUnit("parsecs", 0.0),
    21: DxfUnit("survey-feet", _SURVEY),
    22: DxfUnit("survey-inches", _SURVEY / 12),
    23: DxfUnit("survey-yards", 3 * _SURVEY),
    24: DxfUnit("survey-miles", 5280 * _SURVEY),
}

_WORDS: Final[Mapping[str, DxfUnit]] = {"mm": _UNITS[4], "in": _UNITS[1]}
"""What may stand beside a drawing."""


def unit_of(code: int, word: str | None, name: str) -> DxfUnit:
    """The unit of a drawing whose header has `code` (0: none), with "mm", "in" or nothing said beside it.

    `name` is that of the file. Raises `BadInput` where neither says a unit, where they say different ones, and for a
    unit that is none of the reference or that no steel is drawn in.
    """
    if word is not None and word not in _WORDS:
        raise BadInput(phrase("what.dxf-units"), word, among(_WORDS))
    if code == 0:
        if word is None:
            raise BadInput(phrase("what.dxf-units"), name, phrase("refuse.no-unit"))
        return _WORDS[word]
    stated = _stated(code, name)
    if word is not None and _WORDS[word] is not stated:
        raise BadInput(phrase("what.dxf-units"), word, phrase("refuse.other-unit", file=name, unit=stated.says))
    return stated


def other_units(unit: DxfUnit, name: str, units: Units) -> Iterator[Remark]:
    """That a drawing is metric by its header and the job beside it is not, or the other way."""
    if unit.metric != (units == "mm"):
        yield Remark(
            "note.drawn-in", words(unit=f"dxf-unit.{unit.name}") + names(file=name), "mm" if units == "mm" else "in"
        )


def _stated(code: int, name: str) -> DxfUnit:
    unit = _UNITS.get(code)
    if unit is None:
        raise BadInput(phrase("what.insunits"), code, phrase("refuse.unknown-unit", file=name))
    if not unit.length:
        allowed = ", ".join(one.says for one in _UNITS.values() if one.length)
        found = phrase("found.header-unit", unit=unit.says, file=name)
        raise BadInput(phrase("what.dxf-units"), found, phrase("refuse.allowed", allowed=allowed))
    return unit
