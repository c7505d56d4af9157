"""A [[frame]] table of a job to a solved assembly; knows the file format and frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool import geometry
from mitertool.base.errors import BadInput
from mitertool.frame import Assembly, Joint, Resolution, laid, planar, rectangle
from mitertool.frame.braces import corner_to_corner, knee, rise_and_run
from mitertool.frame.infills import infill
from mitertool.frame.joints import FIRST_THROUGH, KINDS, MITER, SECOND_THROUGH
from mitertool.frame.polygons import REGULAR_SIZES, by_sides_and_angles, regular
from mitertool.frame.rectangles import CORNERS, THROUGH
from mitertool.geometry.dxf_units import DxfUnit
from mitertool.job.model import FrameOrder
from mitertool.job.pieces import lay_of, mark_of
from mitertool.job.rack import Rack
from mitertool.quantity import angle, length, positive_length
from mitertool.quantity.sentence import Sentence
from mitertool.quantity.tables import Table
from mitertool.sections import Section, shapes
from mitertool.sections.grades import density

FRAME_WORDS: Final = tuple(word.key for word in shapes.frame_words())

COMMON: Final = ("mark", "shape", "section", "grade", "quantity", "lay", *FRAME_WORDS)
_JOINED: Final = ("root_gap", "measured", "corners")


@attrs.frozen
class Shop:
    """What reading a frame needs besides its table: the sections, the job's folder, what the floor can read."""

    rack: Rack
    folder: Path
    resolution: Resolution


def frame_order(table: Table, shop: Shop) -> FrameOrder:
    """The frame that a [[frame]] table asks for."""
    shape = table.choice("shape", tuple(SHAPES))
    keys, solve = SHAPES[shape]
    table.only(*COMMON, *keys)
    mark_of(table)
    with table.place():
        assembly = solve(table, shop)
    return FrameOrder(assembly, table.count("quantity", 1))


def _rectangle(table: Table, shop: Shop) -> Assembly:
    return rectangle(
        _sections(table, shop.rack),
        table.positive_length("width"),
        table.positive_length("height"),
        table.choice("measured", shapes.tape_words()),
        table.length_from_zero("root_gap", 0.0),
        mark_of(table),
        shop.resolution,
        table.choice("corners", CORNERS, "miter"),
        table.choice("through", THROUGH, "width"),
    )


def _polygon(table: Table, shop: Shop) -> Assembly:
    closed = table.flag("closed", True)
    lines = _lines(table)
    return _planar(table, shop, "polygon", lines, table.choice("measured", shapes.tape_words()), closed)


def _drawing(table: Table, shop: Shop) -> Assembly:
    layer = table.text("layer") if table.has("layer") else None
    unit = table.choice("units", ("mm", "in")) if table.has("units") else None
    node = table.positive_length("node", 0.5)
    file = shop.folder / table.text("file")
    drawn = geometry.read_polygon(file, layer, node, unit)
    solved = _planar(table, shop, "drawing", drawn.corners, table.choice("line", shapes.tape_words()), True)
    return attrs.evolve(solved, notes=(*_other_units(table, file.name, drawn.unit), *solved.notes))


def _other_units(table: Table, name: str, unit: DxfUnit) -> Iterator[Sentence]:
    """That a drawing is metric by its header and the job is not, or the other way, where nobody said so beside it."""
    if unit.metric != (table.units == "mm") and not table.has("units"):
        job = "mm" if table.units == "mm" else "inches"
        yield Sentence.words(f"{name} is drawn in {unit.name} by its header, and read so, beside other sizes in {job}")


def _planar(table: Table, shop: Shop, shape: str, lines: Sequence[complex], measured: str, closed: bool) -> Assembly:
    count = len(lines) if closed else len(lines) - 1
    sections = _sections(table, shop.rack)
    joints = _joints(table, count if closed else count - 1)
    if closed and table.has("deduct"):
        raise BadInput("deduct", table.raw("deduct"), "is taken off free ends; a closed frame has none")
    deduct = (table.length_from_zero("deduct", 0.0),) * 2
    sides = sections * count if len(sections) == 1 else sections
    return planar(shape, lines, sides, measured, joints, closed, mark_of(table), shop.resolution, deduct)


def _brace(table: Table, shop: Shop) -> Assembly:
    section, mark = _sections(table, shop.rack)[0], mark_of(table)
    ways = [keys for keys in (("inside_width", "inside_height"), ("rise", "run"), ("legs",)) if table.has(keys[0])]
    if len(ways) != 1:
        raise BadInput("brace", f"{len(ways)} ways", "give inside_width and inside_height, or rise and run, or legs")
    if ways[0] == ("legs",):
        run, rise = _pair(table, "legs")
        return knee(section, run, rise, mark, shop.resolution)
    a, b = (table.positive_length(key) for key in ways[0])
    solve = corner_to_corner if ways[0][0] == "inside_width" else rise_and_run
    return solve(section, a, b, _words(table, "ends"), mark, shop.resolution)


def _infill(table: Table, shop: Shop) -> Assembly:
    return infill(
        _sections(table, shop.rack)[0],
        table.positive_length("opening"),
        table.positive_length("height"),
        table.positive_length("clear_most"),
        table.angle("rake", 0.0),
        mark_of(table),
        shop.resolution,
    )


SHAPES: Final[Mapping[str, tuple[tuple[str, ...], Callable[[Table, Shop], Assembly]]]] = {
    "rectangle": ((*_JOINED, "width", "height", "through"), _rectangle),
    "polygon": ((*_JOINED, "sides", *REGULAR_SIZES, "points", "lengths", "angles", "closed", "deduct"), _polygon),
    "drawing": (("root_gap", "corners", "deduct", "file", "layer", "line", "units", "node"), _drawing),
    "brace": (("inside_width", "inside_height", "rise", "run", "legs", "ends"), _brace),
    "infill": (("opening", "height", "clear_most", "rake"), _infill),
}
"""Shape to the keys it takes besides the common ones, and its reader."""


def _lines(table: Table) -> tuple[complex, ...]:
    """The measured corners of a polygon: regular, by points, or by sides and angles."""
    ways = [key for key in ("sides", "points", "lengths") if table.has(key)]
    if len(ways) != 1:
        raise BadInput("polygon", " and ".join(ways) or "no size", "give sides, or points, or lengths and angles")
    if ways[0] == "points":
        return tuple(complex(x, y) for x, y in _points(table))
    if ways[0] == "lengths":
        lengths = [positive_length(value, table.units, "lengths") for value in _list(table, "lengths")]
        angles = [angle(value, "angles") for value in _list(table, "angles")]
        return by_sides_and_angles(lengths, angles, table.flag("closed", True))
    given = [key for key in REGULAR_SIZES if table.has(key)]
    if len(given) != 1:
        raise BadInput("polygon", " and ".join(given) or "no size", f"give one of {', '.join(REGULAR_SIZES)}")
    return regular(table.count("sides"), given[0], table.positive_length(given[0]))


def _points(table: Table) -> list[tuple[float, float]]:
    found = []
    for i, point in enumerate(_list(table, "points"), 1):
        if not isinstance(point, list) or len(point) != 2:
            raise BadInput(f"points, point {i}", point, "must be two lengths, [x, y]")
        x, y = (length(value, table.units, f"points, point {i}") for value in point)
        found.append((x, y))
    if len(found) < 2 or (table.flag("closed", True) and len(found) < 3):
        raise BadInput("points", f"{len(found)} points", "a closed frame has 3 or more, an open one 2 or more")
    return found


def _joints(table: Table, count: int) -> list[Joint]:
    """One joint a corner: all alike, or a list of words."""
    gap = table.length_from_zero("root_gap", 0.0)
    given = table.raw("corners", "miter")
    words = {"miter": MITER, "butt": FIRST_THROUGH, **{kind: kind for kind in KINDS}}
    kinds = given if isinstance(given, list) else [given] * count
    if len(kinds) != count or any(not isinstance(kind, str) or kind not in words for kind in kinds):
        allowed = f"miter, {FIRST_THROUGH} or {SECOND_THROUGH}"
        raise BadInput("corners", given, f"allowed: {allowed}, one for all or a list of {count}")
    return [Joint(words[kind], gap) for kind in kinds]


def _sections(table: Table, rack: Rack) -> list[Section]:
    grade = density(table.text("grade", ""))
    names = table.raw("section")
    names = names if isinstance(names, list) else [names]
    if not names or not all(isinstance(name, str) for name in names):
        raise BadInput("section", table.raw("section"), "must be a name in quotes, or a list of them")
    words = {key: table.text(key) for key in FRAME_WORDS if table.has(key)}
    lying = (lay_of(table, rack.named(name, "section")) for name in names)
    needs = table.raw("shape") not in ("brace", "infill")
    return [(laid(section, **words) if needs or words else section).of_density(grade) for section in lying]


def _list(table: Table, key: str) -> list[Any]:
    value = table.raw(key)
    if not isinstance(value, list):
        raise BadInput(key, value, "must be a list in square brackets")
    return value


def _pair(table: Table, key: str) -> tuple[float, float]:
    values = [positive_length(value, table.units, key) for value in _list(table, key)]
    if len(values) != 2:
        raise BadInput(key, f"{len(values)} lengths", "give two: along the beam, down the post")
    return values[0], values[1]


def _words(table: Table, key: str) -> list[str]:
    given = table.raw(key)
    words = [given, given] if isinstance(given, str) else given
    if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
        raise BadInput(key, given, "must be a word, or two: lower and upper end")
    return words
