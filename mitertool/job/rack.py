"""The sections that a job may name: its own first, then the catalogue; knows sections and the file format."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Self

import attrs

from mitertool import sections
from mitertool.base.errors import BadInput
from mitertool.quantity.tables import Table
from mitertool.sections import Section

_LENGTHS: Final = ("length", "positive")

_SHAPES: Final[Mapping[str, tuple[Callable[..., Section], tuple[str, ...], tuple[str, ...]]]] = {
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

    own: Mapping[str, Section]

    @classmethod
    def read(cls, top: Table) -> Self:
        """The [[section]] tables of a job."""
        own: dict[str, Section] = {}
        for table in top.tables("section"):
            name = table.text("name")
            if name in own:
                raise BadInput("name", name, "another section of this job has this name", table.where)
            own[name] = _make(table, name)
        return cls(own)

    def find(self, table: Table, key: str) -> Section:
        """The section that a key of a table names."""
        return self.named(table.text(key), table, key)

    def named(self, name: str, table: Table, key: str) -> Section:
        """The section of a name, as the key of a table asks for it."""
        if name in self.own:
            return self.own[name]
        with table.place():
            try:
                return sections.section(name)
            except BadInput as error:
                raise error if error.what == key else error.at() from None


def _make(table: Table, name: str) -> Section:
    shape = table.choice("shape", tuple(_SHAPES))
    maker, needed, optional = _SHAPES[shape]
    table.only("name", "shape", *needed, *optional)
    given: dict[str, float | str] = {key: table.positive_length(key) for key in needed}
    given |= {key: _optional(table, key) for key in optional if table.has(key)}
    with table.place():
        return maker(**given).named(name, "given in the job")


def _optional(table: Table, key: str) -> float | str:
    if key == "flange_at":
        return table.text(key)
    return table.number(key) if key == "taper" else table.length_from_zero(key)
