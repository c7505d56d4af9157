"""A [[frame]] table of a job to a solved assembly; knows the file format and frame."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.frame import Assembly, Resolution, laid, rectangle
from mitertool.frame.measured import MEASURED
from mitertool.job.model import FrameOrder
from mitertool.job.pieces import lay_of, mark_of
from mitertool.job.rack import Rack
from mitertool.quantity.tables import Table
from mitertool.sections import Section
from mitertool.sections.grades import density

_COMMON: Final = ("mark", "shape", "section", "grade", "quantity", "root_gap", "lay", "heel", "leg", "toes")


def frame_order(table: Table, rack: Rack) -> FrameOrder:
    """The frame that a [[frame]] table asks for."""
    shape = table.choice("shape", tuple(_SHAPES))
    assembly = _SHAPES[shape](table, rack)
    return FrameOrder(assembly, table.count("quantity", 1))


def _rectangle(table: Table, rack: Rack) -> Assembly:
    table.only(*_COMMON, "width", "height", "measured")
    sides = _sides(table, rack)
    width, height = table.positive_length("width"), table.positive_length("height")
    measured = table.choice("measured", MEASURED)
    gap, mark = table.length_from_zero("root_gap", 0.0), mark_of(table)
    with table.place():
        return rectangle(sides, width, height, measured, gap, mark, Resolution())


_SHAPES: Final[Mapping[str, Callable[[Table, Rack], Assembly]]] = {"rectangle": _rectangle}


def _sides(table: Table, rack: Rack) -> list[Section]:
    given = table.raw("section")
    names = given if isinstance(given, list) else [given]
    if not names or not all(isinstance(name, str) for name in names):
        raise BadInput("section", given, "must be a name in quotes, or a list of them", table.where)
    found = [rack.named(name, table, "section").of_density(density(table.text("grade", ""))) for name in names]
    return [_lies(table, section) for section in found]


def _lies(table: Table, section: Section) -> Section:
    words = {key: table.text(key) for key in ("heel", "leg", "toes") if table.has(key)}
    with table.place():
        return laid(lay_of(table, section), **words)
