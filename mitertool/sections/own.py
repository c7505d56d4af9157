"""Sections of a shop's own: an outline from a drawing, or a catalogue size as it was measured; knows the catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Final

import attrs

from mitertool import geometry
from mitertool.base.errors import BadInput
from mitertool.base.names import refuse_unknown_keys
from mitertool.base.tolerances import CHORD_ERROR
from mitertool.geometry import Region
from mitertool.quantity.problem import Remark, lengths, names
from mitertool.sections.catalogue import find
from mitertool.sections.lay import BOX_WORDS, alike, box_lines
from mitertool.sections.section import Section, Shape
from mitertool.words import phrase


def from_dxf(path: str | Path, unit: str | None = None, layer: str | None = None, name: str | None = None) -> Section:
    """The section whose outline is drawn in a DXF file: x of the drawing across the bed, y up from it.

    `unit` ("mm" or "in") serves where the file states none, `layer` picks one layer. Raises `BadInput` naming the
    place where an outline is open, crosses, or is nested twice.
    """
    path = Path(path)
    return outlined(geometry.read_outline(path, unit, layer), path.name, name or path.stem)


def outlined(region: Region, file: str, name: str) -> Section:
    """The section of a region that was drawn in a file. Raises `BadInput` where no vise holds it."""
    left, low, right, high = region.bounds
    geometry.refuse_huge(max(right - left, high - low), file)
    source = Remark("source.drawn", names(file=file) + lengths(chord=CHORD_ERROR))
    return Section(name, OUTLINE, region, (), source)


OUTLINE: Final = Shape("outline", from_dxf, (), alike, BOX_WORDS, box_lines)
"""The shape of a section that is drawn: it has no dimensions but those of its picture."""


def as_measured(name: str, measured: Mapping[str, float]) -> Section:
    """A catalogue size with some dimensions (mm, by the names of its shape) replaced by measured ones.

    Radii that the catalogue gives stay, unless they are measured too. Raises `BadInput` for a dimension that the
    shape has not.
    """
    entry = find(name)
    given = entry.file.dimensions(entry.index)
    refuse_unknown_keys(phrase("what.dimension", section=entry.section.name), measured, tuple(given))
    if not measured:
        raise BadInput(
            phrase("what.measured"), phrase("found.nothing"), phrase("refuse.none-measured", names=", ".join(given))
        )
    made = entry.file.shape.make(**{**given, **measured})
    section = made.named(entry.section.name, Remark("source.measured", names(of=entry.file.standard)))
    laid = section.lay(entry.section.rotation, entry.section.turned)
    return attrs.evolve(laid, dimensions=made.dimensions)
