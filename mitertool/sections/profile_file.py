"""One file of the catalogue: a family to one standard, its rows and where they come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.quantity.numerals import LARGEST
from mitertool.quantity.tables import read_whole, toml_values
from mitertool.quantity.units import KG_PER_POUND, MM_PER_FOOT, MM_PER_INCH
from mitertool.sections import shapes
from mitertool.sections.designation import Designation, parse
from mitertool.sections.section import Section, Shape
from mitertool.words import phrase

_FORMAT: Final = 1
_NEEDED: Final = ("family", "title", "standard", "shape", "units", "columns", "rows")


@attrs.frozen
class ProfileFile:
    """What a file of `profiles/` says; `facts` holds its head (standard, table, certainty, radii ...)."""

    path: Path
    facts: Mapping[str, Any]

    @property
    def family(self) -> str:
        """The first word of every name in the file."""
        return str(self.facts["family"])

    @property
    def standard(self) -> str:
        """The standard with its edition."""
        return str(self.facts["standard"])

    @cached_property
    def shape(self) -> Shape:
        """The shape that the rows have."""
        return shapes.of(str(self.facts["shape"]))

    @property
    def unit(self) -> str:
        """Unit of the dimensions, "mm" or "in"."""
        return str(self.facts["units"])

    @property
    def mm_per_unit(self) -> float:
        """mm in one of it."""
        return MM_PER_INCH if self.unit == "in" else 1.0

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names of all rows, in order."""
        return tuple(str(row[0]) for row in self.facts["rows"])

    @cached_property
    def by_key(self) -> Mapping[Designation, int]:
        """Row index by the taken-apart name."""
        parts = (parse(name) for name in self.names)
        return {Designation(part.words, part.numbers): i for i, part in enumerate(parts)}

    def row(self, index: int) -> Mapping[str, Any]:
        """A row as column: value."""
        return dict(zip(self.facts["columns"], self.facts["rows"][index], strict=True))

    def dimensions(self, index: int) -> Mapping[str, Any]:
        """The dimensions of a row by the parameter names of its shape, mm."""
        row = self.row(index)
        there = [one for one in self.shape.dimensions if one.needed or one.key in row]
        return {
            one.key: self._number(index, one.key) * self.mm_per_unit if one.is_length else row[one.key] for one in there
        }

    def _number(self, index: int, column: str) -> float:
        """A number of a row. Raises `BadInput` where there is none."""
        found = self.row(index).get(column, "")
        if isinstance(found, bool) or not isinstance(found, int | float) or not abs(found) <= LARGEST:
            raise BadInput(column, found, phrase("refuse.row-number"))
        return found

    def make(self, index: int) -> Section:
        """The section of a row, in mm. Raises `BadInput` naming file and row."""
        try:
            made = self.shape.make(**self.dimensions(index)).named(self.names[index], self.standard)
            return attrs.evolve(made, nominal=self._nominal(index))
        except BadInput as error:
            raise error.at(self.path.name, self.names[index]) from None

    def _nominal(self, index: int) -> float | None:
        """kg/m as the row prints it, else by its nominal wall with radii that grow alike; None where it has neither."""
        row, given = self.row(index), self.dimensions(index)
        if row.get("mass", "") != "":
            return self._number(index, "mass") * (KG_PER_POUND / MM_PER_FOOT * 1000 if self.unit == "in" else 1.0)
        if "nominal_wall" not in row:
            return None
        more = row["nominal_wall"] / row["wall"]
        thicker = {one.key: given[one.key] * more for one in self.shape.dimensions if one.grows and one.key in given}
        return self.shape.make(**{**given, **thicker}).mass_per_metre


def read(path: Path) -> ProfileFile:
    """Read a file of the catalogue. Raises `BadInput` naming the file for anything that is not as it should be."""
    facts = toml_values(path.name, read_whole(path))
    _check(path, facts)
    return ProfileFile(path, facts)


def _check(path: Path, facts: Mapping[str, Any]) -> None:
    for what, found, allowed in _against(facts):
        raise BadInput(what, found, allowed, (path.name,))


def _against(facts: Mapping[str, Any]) -> Iterator[tuple[str, object, str]]:
    """What is refused, what was found, what is allowed."""
    if facts.get("format", _FORMAT) != _FORMAT:
        yield "format", facts["format"], phrase("refuse.format", format=_FORMAT)
    for key in _NEEDED:
        if key not in facts:
            yield (
                phrase("what.key"),
                phrase("found.no", name=key),
                phrase("refuse.needed-are", names=", ".join(_NEEDED)),
            )
    if facts["shape"] not in shapes.words():
        yield "shape", facts["shape"], among(shapes.words())
    if not isinstance(facts["columns"], list):
        yield "columns", facts["columns"], phrase("refuse.lists")
    for row in facts["rows"] if isinstance(facts["rows"], list) else (facts["rows"],):
        if not isinstance(row, list):
            yield "rows", row, phrase("refuse.lists")
        if len(row) != len(facts["columns"]):
            yield phrase("what.row"), str(row[:1]), phrase("refuse.values", count=len(facts["columns"]))
