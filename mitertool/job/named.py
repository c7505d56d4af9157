"""The sections that a job may name: its own first, then the catalogue; knows sections and the file format."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, Self

import attrs

from mitertool import geometry, sections
from mitertool.base.errors import BadInput, UnknownName
from mitertool.base.letters import one_form
from mitertool.base.names import nearest
from mitertool.geometry.dxf_units import other_units
from mitertool.job.keys import DXF_LAYER, DXF_UNIT
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Variants, keys_of, need
from mitertool.quantity.kinds import (
    LENGTH_FROM_ZERO,
    POSITIVE_LENGTH,
    TEXT,
    WORDS,
    Kind,
    Limits,
    angle,
    choice,
    number,
    worded,
)
from mitertool.quantity.problem import Remark, names
from mitertool.quantity.schema import Schema
from mitertool.quantity.tables import Table
from mitertool.quantity.units import Units
from mitertool.sections import Section, shapes
from mitertool.sections.dimension import Dimension
from mitertool.sections.own import as_measured, outlined
from mitertool.sections.section import Shape
from mitertool.words import phrase


@attrs.frozen
class NamedSections:
    """Sections by the names that a job gives its own, and what must be told of their drawings.

    Each is looked for once, and equal ones are one: what a section knows of itself is worked out once a job.
    """

    own: Mapping[str, Section] = attrs.field(factory=dict)
    notes: tuple[Remark, ...] = ()
    _found: dict[str, Section] = attrs.field(factory=dict, init=False, eq=False, repr=False)
    _kept: dict[Section, Section] = attrs.field(factory=dict, init=False, eq=False, repr=False)

    @classmethod
    def read(cls, top: Table, folder: Path) -> Self:
        """The [[section]] tables of a job that stands in `folder`."""
        own: dict[str, Section] = {}
        notes: list[Remark] = []
        for table in top.tables("section"):
            section, told = _own(table, folder)
            if section.name in own:
                raise BadInput("name", section.name, phrase("refuse.name-twice"), table.where)
            own[section.name] = section
            notes += told
        return cls(own, tuple(notes))

    def named(self, name: str, key: str) -> Section:
        """The section of a name; the job's own go before the catalogue's. `key` is what asked for it."""
        given = one_form(name)
        if given in self.own:
            return self.own[given]
        try:
            if name not in self._found:
                self._found[name] = sections.section(name)
        except UnknownName as error:
            like = nearest(given, self.own, 2)
            choices = (*like, *error.choices)
            hint = phrase("refuse.nearest-names", names=", ".join(choices)) if like else error.allowed
            raise UnknownName(key, error.found, hint, choices=choices) from None
        return self._found[name]

    def once(self, section: Section) -> Section:
        """The section, or the equal one that came before."""
        return self._kept.setdefault(section, section)


_KINDS: Final[Mapping[str, Callable[[Dimension], Kind]]] = {
    "length": lambda _: POSITIVE_LENGTH,
    "length-from-zero": lambda _: LENGTH_FROM_ZERO,
    "percent": lambda _: number(Limits(least=0)),
    "angle": lambda one: angle(Limits(above=0, most=one.most)),
    "word": lambda one: worded(one.words),
}
_NAME: Final = need("own.name", WORDS)
_SAYS: Final = "table.own"


def _shape() -> Key:
    return need("own.shape", choice((*shapes.words(), "dxf")))


def _of_shape(shape: Shape) -> Keys:
    dimensions = {one.key: Key(one.means, _KINDS[one.kind](one), one.needed) for one in shape.dimensions}
    return keys_of(_SAYS, name=_NAME, shape=_shape(), **dimensions)


def _drawn() -> Keys:
    file = need("own.file", TEXT)
    return keys_of(_SAYS, name=_NAME, shape=_shape(), file=file, layer=DXF_LAYER, units=DXF_UNIT)


def made_keys() -> Variants:
    """The keys of a section that is made: by a shape and its dimensions, or from a drawing."""
    return Variants(_SAYS, "shape", {**{word: _of_shape(shapes.of(word)) for word in shapes.words()}, "dxf": _drawn()})


def measured_keys() -> Keys:
    """The keys of a catalogue size as measured: what may be measured on it; each shape refuses what it has not."""
    measured = {one.key: Key(one.means, POSITIVE_LENGTH) for one in shapes.dimensions() if one.is_length}
    size = need("own.as_measured", TEXT)
    return keys_of(_SAYS, name=_NAME, as_measured=size, **measured)


def section_schema() -> Schema:
    """What a [[section]] table may say."""
    measured = measured_keys()
    made = made_keys().schema
    properties = {name: key.schema for name, key in measured.keys.items()} | made["properties"]
    then = {**schema.only(measured.keys), "minProperties": 3}
    way = {"if": {"required": ["as_measured"]}, "then": then, "else": {"required": ["shape"]}}
    return {**made, "properties": properties, "required": ["name"], **way}


def _own(table: Table, folder: Path) -> tuple[Section, tuple[Remark, ...]]:
    """A section by shape and dimensions, from a DXF outline, or a catalogue size as measured; what is told of it."""
    if table.has("as_measured"):
        said = measured_keys().read(table)
        name, size = said.pop("name"), said.pop("as_measured")
        with table.place():
            section = as_measured(size, said)
        return section.named(name, Remark("source.measured", names(of=section.name))), ()
    said = made_keys().read(table)
    name, shape = said.pop("name"), said.pop("shape")
    with table.place():
        if shape == "dxf":
            return _from_drawing(folder / said["file"], said.get("units"), said.get("layer"), name, table.units)
        return shapes.of(shape).make(**said).named(name, Remark("source.job")), ()


def _from_drawing(
    file: Path, unit: str | None, layer: str | None, name: str, units: Units
) -> tuple[Section, tuple[Remark, ...]]:
    """A section that is drawn; the floor is told of a unit that is not the job's and that no one named."""
    found = geometry.drawn_outline(file, unit, layer)
    told = () if unit else tuple(other_units(found.unit, file.name, units))
    return outlined(found.region, file.name, name), told
