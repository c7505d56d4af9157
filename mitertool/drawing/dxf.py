"""A drawing as DXF R2010 in mm, 1:1; several of them in one file, each moved to its place.

A drawing is composed once, as a `Model`, however many files it is written into.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from typing import Final

from attrs import evolve, frozen

from mitertool.base.errors import BadInput
from mitertool.base.faces import MICRO_HEI, runs
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.drawing import Drawing
from mitertool.drawing.dxf_shell import (
    DECIMALS,
    END,
    ENTITIES,
    FIRST_FREE,
    LETTERING,
    MODEL,
    AskedFor,
    Box,
    blocks_section,
    header,
    objects,
    tables,
)
from mitertool.drawing.dxf_tags import (
    ANGULAR,
    SLOT,
    Dimensioned,
    Tags,
    arc_tags,
    dashed,
    dimension_tags,
    ellipse_tags,
    hatch_tags,
    line_tags,
    linear_tags,
    polyline_tags,
    solid_tags,
    text_tags,
    written,
)
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
from mitertool.drawing.explode import text_outside
from mitertool.drawing.layers import DIMENSION, TEXT
from mitertool.drawing.lettering import clean, in_helvetica
from mitertool.drawing.vectors import Point, Similarity, angle_of, direction, shifted
from mitertool.words import phrase

_ROTATED: Final = 0
_ALIGNED: Final = 1
_ANGULAR: Final = 5
_OWN_BLOCK: Final = 32
_TEXT_PLACED: Final = 128
"""Kinds and flags of a DIMENSION: DXF reference, group code 70."""

_BOLD: Final = f"{LETTERING} bold"
_FURTHER: Final = f"{LETTERING} further"
"""The text styles of bold letters, and of those that no Latin face has, which names the face they are measured in."""

Blocks = dict[str, tuple[str, str]]
"""The handle of the record of each anonymous block, and its entities."""


@frozen
class Model:
    """A drawing as it stands in a file: its `parts`, each with what shows it where it is a dimension, and their box."""

    parts: tuple[tuple[Tags, tuple[Tags, ...]], ...]
    box: Box
    named: AskedFor


def write(drawing: Drawing, title: str = "", lettering_scale: float = 1.0) -> bytes:
    """The drawing at 1:1 as DXF R2010, mm; the same drawing gives the same bytes (no dates, no random names).

    `lettering_scale` is how many mm of the model one mm on paper stands for: text, dimension offsets,
    arrowheads and dashes are that many times as large. Dimensions stay dimensions, and measure the model.
    """
    _refuse_scale(lettering_scale)
    return write_models([(_composed(drawing, drawing.scaled(1.0 / lettering_scale), lettering_scale), (0, 0))], title)


def model_of(on_paper: Drawing, lettering_scale: float) -> Model:
    """A drawing in mm of paper as it stands in a file, `lettering_scale` times as large."""
    _refuse_scale(lettering_scale)
    return _composed(on_paper.scaled(lettering_scale), on_paper, lettering_scale)


def write_models(placed: Sequence[tuple[Model, Point]], title: str = "") -> bytes:
    """Models as one DXF file, each moved by a shift in mm; the same models give the same bytes."""
    numbers = count(FIRST_FREE)
    handles = (f"{number:X}" for number in numbers)
    blocks: Blocks = {}
    entities = [  # in bytes at once: a hundred megabytes where marks are thousands
        written(_in_file(model, blocks, handles, shift), MODEL, handles, shift).encode(errors="replace")
        for model, shift in placed
    ]
    records = {name: record for name, (record, _) in blocks.items()}
    named, box = _named_together([model.named for model, _ in placed]), _box_together(placed)
    before = tables(named, records, box, handles), blocks_section(blocks, handles), ENTITIES
    head, tail = "".join((header(clean(title), box, next(numbers)), *before)), f"{END}{objects(box)}"
    return b"".join((head.encode(errors="replace"), *entities, tail.encode(errors="replace")))


def _refuse_scale(lettering_scale: float) -> None:
    if not 0.0 < lettering_scale < math.inf:
        raise BadInput(phrase("drawing.lettering-scale"), lettering_scale, phrase("drawing.is/above-0"))


def _named_together(every: Sequence[AskedFor]) -> AskedFor:
    layers = {layer.name: layer for named in every for layer in named.layers}
    styles = {name: file for named in every for name, file in named.styles.items()}
    return AskedFor(
        tuple(layers.values()), styles, {name: d for named in every for name, d in named.dimension_styles.items()}
    )


def _box_together(placed: Sequence[tuple[Model, Point]]) -> Box:
    """The box of all models in their places; a file without any shows a point at the origin."""
    boxes = [(model.box, shift) for model, shift in placed] or [((0.0, 0.0, 0.0, 0.0), (0.0, 0.0))]
    left, low = (min(box[i] + shift[i] for box, shift in boxes) for i in (0, 1))
    right, high = (max(box[i + 2] + shift[i] for box, shift in boxes) for i in (0, 1))
    return left, low, right, high


def _in_file(model: Model, blocks: Blocks, handles: Iterator[str], shift: Point) -> Iterator[Tags]:
    """Every entity of the model; what shows a dimension goes into `blocks`."""
    for tags, picture in model.parts:
        if not picture:
            yield tags
            continue
        name, record = f"*D{len(blocks) + 1}", next(handles)
        blocks[name] = (record, written(picture, record, handles, shift))
        yield tags._replace(text=tags.text.replace(SLOT, name, 1))


def _composed(drawing: Drawing, on_paper: Drawing, scale: float) -> Model:
    x0, y0, x1, y1 = (scale * side for side in on_paper.bounds())
    return Model(tuple(_parts(drawing, on_paper, scale)), (x0, y0, x1, y1), _named(drawing, on_paper, scale))


def _named(drawing: Drawing, on_paper: Drawing, scale: float) -> AskedFor:
    """The layers, text styles and dimension styles that the entities ask for."""
    dimensions = [e for e in drawing.entities if isinstance(e, Dimension | AngleDimension)]
    others = [e.layer for e in drawing.entities if not isinstance(e, Dimension | AngleDimension)]
    layers = {layer.name: layer for layer in (*others, DIMENSION, TEXT)}
    further = any(_style(part) == _FURTHER for part in on_paper.primitives() if isinstance(part, Text))
    styles = {LETTERING: "arial.ttf", _BOLD: "arialbd.ttf", **({_FURTHER: MICRO_HEI.place[-1]} if further else {})}
    return AskedFor(
        tuple(layers.values()), styles, {_style_name(d.height, scale): (d.height, scale) for d in dimensions}
    )


def _style_name(height: float, scale: float) -> str:
    return f"dimension {height:g} at {scale:g}"


def _parts(drawing: Drawing, on_paper: Drawing, scale: float) -> Iterator[tuple[Tags, tuple[Tags, ...]]]:
    """Every entity of the model; a dimension with what shows it on paper."""
    back = Similarity(scale=scale)
    for entity, small, shown in zip(drawing.entities, on_paper.entities, on_paper.pictures, strict=True):
        if isinstance(entity, Dimension | AngleDimension):
            picture = [_enlarged(part.under(back), scale) for part in shown]
            outside = text_outside(small)  # type: ignore[arg-type]
            yield _dimension(entity, picture, scale, outside), tuple(_shown(picture))
        else:
            long = scale if entity.layer.dashes else 1.0
            yield from ((dashed(tags, long), ()) for tags in _tags(_enlarged(entity, scale)))


def _shown(picture: Iterable[Primitive]) -> Iterator[Tags]:
    """The parts of a dimension, its arrowheads as solids."""
    for part in picture:
        yield from [solid_tags(part.points, DIMENSION.name)] if isinstance(part, Polygon) else _tags(part)


def _tags(part: Primitive) -> Iterator[Tags]:
    match part:
        case Line():
            yield line_tags(part)
        case Arc():
            yield arc_tags(part)
        case EllipseArc():
            yield ellipse_tags(part)
        case Text() if part.says.strip():
            yield text_tags(part, _style(part))
        case Polyline():
            yield polyline_tags(part)
        case Polygon():
            yield from _polygon(part)


def _polygon(polygon: Polygon) -> Iterator[Tags]:
    if polygon.fill is not None:
        yield hatch_tags(polygon.points, polygon.layer.name, polygon.fill)
    if polygon.fill is None or polygon.layer.weight:
        yield polyline_tags(polygon)


def _style(text: Text) -> str:
    plain = in_helvetica(text.says) or all(face != MICRO_HEI for face, _ in runs(text.says, text.bold))
    return (LETTERING, _BOLD)[text.bold] if plain else _FURTHER


def _enlarged(part: Primitive, scale: float) -> Primitive:
    return evolve(part, height=part.height * scale) if isinstance(part, Text) else part


def _dimension(entity: Dimension | AngleDimension, picture: Sequence[Primitive], scale: float, outside: bool) -> Tags:
    measured = _linear(entity, scale) if isinstance(entity, Dimension) else _angular(entity, scale)
    flags = _OWN_BLOCK | (_TEXT_PLACED if outside else 0)
    default = _default(entity.measured) if isinstance(entity, Dimension) else f"{_default(abs(entity.sweep))}°"
    says, middle = _override(entity.says, default), _text_middle(picture)
    with_flags = evolve(measured, kind=measured.kind | flags)
    return dimension_tags(_style_name(entity.height, scale), middle, says, with_flags, DIMENSION.name)


def _text_middle(picture: Iterable[Primitive]) -> Point:
    text = next(part for part in picture if isinstance(part, Text))
    return shifted(text.at, direction(text.turn + 90.0), text.height / 2.0)


def _linear(d: Dimension, scale: float) -> Dimensioned:
    _, end = evolve(d, offset=d.offset * scale).feet
    own = linear_tags(angle_of(d.direction), d.along is None)
    return Dimensioned(_ALIGNED if d.along is None else _ROTATED, end, d.measured, own, (d.a, d.b))


def _angular(d: AngleDimension, scale: float) -> Dimensioned:
    first, last = sorted((d.start, d.start + d.sweep))
    radius = d.radius * scale
    a, b, middle = (shifted(d.apex, direction(angle), radius) for angle in (first, last, (first + last) / 2.0))
    return Dimensioned(_ANGULAR, middle, math.radians(abs(d.sweep)), ANGULAR, (a, b, d.apex))


def _default(measured: float) -> str:
    return f"{measured:.{DECIMALS}f}".rstrip("0").rstrip(".")


def _override(says: str, default: str) -> str:
    """What the dimension must be told to say: nothing where it says so itself; a space keeps it silent."""
    if says == default:
        return ""
    return says.replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}") or " "
