"""The sections that a job may name: its own first, then the catalogue; knows sections and the file format."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, Self

import attrs

from mitertool import sections
from mitertool.base.errors import BadInput, UnknownName
from mitertool.base.letters import one_form
from mitertool.quantity.tables import Table
from mitertool.sections import Section, shapes
from mitertool.sections.dimension import Dimension
from mitertool.sections.own import as_measured, from_dxf
from mitertool.sections.section import Shape

DRAWN: Final = ("file", "layer", "units")
"""What a section drawn in a DXF file takes."""


def measurable() -> tuple[str, ...]:
    """What may be measured on a catalogue size; each shape refuses those that it has not."""
    return tuple(dict.fromkeys(one.key for one in shapes.dimensions() if one.is_length))


@attrs.frozen
class Rack:
    """Sections by the names that a job gives its own."""

    own: Mapping[str, Section] = attrs.field(factory=dict)

    @classmethod
    def read(cls, top: Table, folder: Path) -> Self:
        """The [[section]] tables of a job that stands in `folder`."""
        own: dict[str, Section] = {}
        for table in top.tables("section"):
            name = table.words("name")
            if name in own:
                raise BadInput("name", name, "another section of this job has this name", table.where)
            own[name] = _own(table, name, folder)
        return cls(own)

    def find(self, table: Table, key: str) -> Section:
        """The section that a key of a table names."""
        with table.place():
            return self.named(table.text(key), key)

    def named(self, name: str, key: str) -> Section:
        """The section of a name; the job's own go before the catalogue's. `key` is what asked for it."""
        given = one_form(name)
        if given in self.own:
            return self.own[given]
        try:
            return sections.section(name)
        except UnknownName as error:
            raise UnknownName(key, error.found, error.allowed, choices=error.choices) from None


def _own(table: Table, name: str, folder: Path) -> Section:
    """A section by shape and dimensions, from a DXF outline, or a catalogue size as measured."""
    if table.has("as_measured"):
        return _as_measured(table, name)
    shape = table.choice("shape", (*shapes.words(), "dxf"))
    return _drawn(table, name, folder) if shape == "dxf" else _dimensioned(table, name, shapes.of(shape))


def _as_measured(table: Table, name: str) -> Section:
    table.only("name", "as_measured", *measurable())
    size = table.text("as_measured")
    measured = {key: table.positive_length(key) for key in measurable() if table.has(key)}
    with table.place():
        section = as_measured(size, measured)
    return section.named(name, f"{section.name}, as measured")


def _drawn(table: Table, name: str, folder: Path) -> Section:
    table.only("name", "shape", *DRAWN)
    unit = table.choice("units", ("mm", "in")) if table.has("units") else None
    layer = table.text("layer") if table.has("layer") else None
    with table.place():
        return from_dxf(folder / table.text("file"), unit, layer, name)


def _dimensioned(table: Table, name: str, shape: Shape) -> Section:
    table.only("name", "shape", *(one.key for one in shape.dimensions))
    given = {one.key: _value(table, one) for one in shape.dimensions if one.needed or table.has(one.key)}
    with table.place():
        return shape.make(**given).named(name, "given in the job")


def _value(table: Table, one: Dimension) -> float | str:
    readers: Mapping[str, Callable[[str], float | str]] = {
        "length": table.positive_length,
        "length from zero": table.length_from_zero,
        "percent": table.number,
        "angle": table.angle,
        "word": table.text,
    }
    return readers[one.kind](one.key)
