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
from mitertool.sections import Section
from mitertool.sections.own import as_measured, from_dxf

DIMENSIONS: Final = (
    *("width", "height", "diameter", "wall", "thickness", "web", "flange"),
    *("outer_radius", "inner_radius", "root_radius", "toe_radius"),
)
"""What may be measured on a catalogue size; each shape refuses those that it has not."""

DRAWN: Final = ("file", "layer", "units")
"""What a section drawn in a DXF file takes."""

SHAPES: Final[Mapping[str, tuple[Callable[..., Section], tuple[str, ...], tuple[str, ...]]]] = {
    "rect-tube": (sections.rect_tube, ("width", "height", "wall"), ("outer_radius", "inner_radius")),
    "round-tube": (sections.round_tube, ("diameter", "wall"), ()),
    "round-bar": (sections.round_bar, ("diameter",), ()),
    "flat": (sections.flat, ("width", "height"), ()),
    "angle": (sections.angle, ("width", "height", "thickness"), ("root_radius", "toe_radius")),
    "channel": (
        sections.channel,
        ("width", "height", "web", "flange"),
        ("root_radius", "toe_radius", "taper", "flange_at"),
    ),
    "i-section": (
        sections.i_section,
        ("width", "height", "web", "flange"),
        ("root_radius", "toe_radius", "taper"),
    ),
    "tee": (sections.tee, ("width", "height", "web", "flange"), ("root_radius",)),
}
"""Shape to its maker, the dimensions it needs and the ones it may have."""


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
    shape = table.choice("shape", (*SHAPES, "dxf"))
    return _drawn(table, name, folder) if shape == "dxf" else _dimensioned(table, name, shape)


def _as_measured(table: Table, name: str) -> Section:
    table.only("name", "as_measured", *DIMENSIONS)
    size = table.text("as_measured")
    measured = {key: table.positive_length(key) for key in DIMENSIONS if table.has(key)}
    with table.place():
        section = as_measured(size, measured)
    return section.named(name, f"{section.name}, as measured")


def _drawn(table: Table, name: str, folder: Path) -> Section:
    table.only("name", "shape", *DRAWN)
    unit = table.choice("units", ("mm", "in")) if table.has("units") else None
    layer = table.text("layer") if table.has("layer") else None
    with table.place():
        return from_dxf(folder / table.text("file"), unit, layer, name)


def _dimensioned(table: Table, name: str, shape: str) -> Section:
    maker, needed, optional = SHAPES[shape]
    table.only("name", "shape", *needed, *optional)
    given: dict[str, float | str] = {key: table.positive_length(key) for key in needed}
    given |= {key: _optional(table, key) for key in optional if table.has(key)}
    with table.place():
        return maker(**given).named(name, "given in the job")


def _optional(table: Table, key: str) -> float | str:
    if key == "flange_at":
        return table.text(key)
    return table.number(key) if key == "taper" else table.length_from_zero(key)
