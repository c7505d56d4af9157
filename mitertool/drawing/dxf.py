"""A drawing as DXF R2010 in mm, 1:1; the one module of the drawing that knows ezdxf."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from io import StringIO
from typing import Any, Final

from attrs import evolve
from ezdxf import options, units  # type: ignore[attr-defined]
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.filemanagement import new
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

from mitertool.base.errors import BadInput
from mitertool.base.faces import MICRO_HEI, runs
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.drawing import Drawing
from mitertool.drawing.dxf_tags import Tags, arc_tags, ellipse_tags, line_tags, solid_tags, text_tags
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Primitive, Text
from mitertool.drawing.explode import ARROW, GAP, OVERRUN, text_outside
from mitertool.drawing.layers import DIMENSION, TEXT, Layer
from mitertool.drawing.lettering import in_helvetica
from mitertool.drawing.vectors import Point, Similarity, angle_of, direction, shifted
from mitertool.words import phrase

_DECIMALS: Final = 2
"""Decimals of a measured value that a viewer writes by itself, zeros at the end left out."""

_ROTATED: Final = 0
_ALIGNED: Final = 1
_ANGULAR: Final = 5
_OWN_BLOCK: Final = 32
_TEXT_PLACED: Final = 128
"""Kinds and flags of a DIMENSION: DXF reference, group code 70."""

_LETTERING: Final = ("lettering", "lettering bold")
"""The text styles, plain and bold."""

_FURTHER: Final = "lettering further"
"""The text style of letters that no Latin face has: it names the face that they are measured in."""

_BLACK_OR_WHITE: Final = 7
"""The color index that shows black on white and white on black."""


def write(drawing: Drawing, title: str = "", lettering_scale: float = 1.0) -> bytes:
    """The drawing at 1:1 as DXF R2010, mm; the same drawing gives the same bytes (no dates, no random names).

    `lettering_scale` is how many mm of the model one mm on paper stands for: text, dimension offsets,
    arrowheads and dashes are that many times as large. Dimensions stay dimensions, and measure the model.
    """
    if not 0.0 < lettering_scale < math.inf:
        raise BadInput(phrase("drawing.lettering-scale"), lettering_scale, phrase("drawing.is/above-0"))
    with _fixed_metadata():
        file = new("R2010", units=units.MM)
        on_paper = drawing.scaled(1.0 / lettering_scale)
        _set_up(file, drawing, on_paper, title, lettering_scale)
        _open_on(file, tuple(lettering_scale * side for side in on_paper.bounds()))
        _add_entities(file, drawing, on_paper, lettering_scale)
        _register_classes(file)
        stream = StringIO()
        file.write(stream)
        return stream.getvalue().encode(file.output_encoding, errors="dxfreplace")


def _register_classes(file: Any) -> None:
    # Left to itself, the library registers them in the order of a set, which changes from process to process.
    for name in sorted(file.entitydb.dxf_types_in_use()):
        file.classes.add_class(name)


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    # The switch must stand before a file is made and until it is written: both put the time and a random
    # identifier into it.
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _set_up(file: Any, drawing: Drawing, on_paper: Drawing, title: str, scale: float) -> None:
    file.header["$LTSCALE"] = scale
    file.header["$LWDISPLAY"] = 1
    if title:
        file.header.custom_vars.append("Title", title)
    for style, font in zip(_LETTERING, ("arial.ttf", "arialbd.ttf"), strict=True):
        file.styles.add(style, font=font)
    if any(_style(part) == _FURTHER for part in on_paper.primitives() if isinstance(part, Text)):
        file.styles.add(_FURTHER, font=MICRO_HEI.place[-1])
    dimensions = [e for e in drawing.entities if isinstance(e, Dimension | AngleDimension)]
    others = [e.layer for e in drawing.entities if not isinstance(e, Dimension | AngleDimension)]
    _add_layers(file, [*others, DIMENSION, TEXT])
    for height in {_style_name(d.height): d.height for d in dimensions}.values():
        _add_dimension_style(file, height, scale)


def _open_on(file: Any, bounds: tuple[float, ...]) -> None:
    x0, y0, x1, y1 = bounds
    file.modelspace().reset_extents((x0, y0, 0.0), (x1, y1, 0.0))
    file.set_modelspace_vport(max(y1 - y0, x1 - x0, 1.0) * 1.1, ((x0 + x1) / 2.0, (y0 + y1) / 2.0))


def _add_layers(file: Any, layers: Iterable[Layer]) -> None:
    for layer in dict.fromkeys(layers):
        if not file.layers.has_entry(layer.name):
            made = file.layers.add(layer.name, color=_BLACK_OR_WHITE, lineweight=_line_weight(layer.weight))
            made.dxf.linetype = _line_type(file, layer)
            if layer.grey:
                made.rgb = _rgb(layer.grey)


def _line_type(file: Any, layer: Layer) -> str:
    if not layer.dashes:
        return "Continuous"
    signed = [length if place % 2 == 0 else -length for place, length in enumerate(layer.dashes)]
    file.linetypes.add(layer.name, [sum(layer.dashes), *signed])
    return layer.name


def _line_weight(weight: float) -> int:
    """The width in hundredths of a mm that is nearest among those the format knows."""
    return min(VALID_DXF_LINEWEIGHTS, key=lambda known: abs(int(known) - 100.0 * weight))


def _rgb(grey: float) -> tuple[int, int, int]:
    level = round(255 * min(1.0, max(0.0, grey)))
    return (level, level, level)


def _style_name(height: float) -> str:
    return f"dimension {height:g}"


def _add_dimension_style(file: Any, height: float, scale: float) -> None:
    arrows = {"dimasz": ARROW, "dimexo": GAP, "dimexe": OVERRUN, "dimgap": GAP}
    text = {"dimtxt": height, "dimtad": 1, "dimtih": 0, "dimtoh": 0, "dimtxsty": "lettering"}
    value = {"dimdec": _DECIMALS, "dimzin": 8, "dimadec": _DECIMALS, "dimazin": 2, "dimdsep": ord(".")}
    file.dimstyles.new(_style_name(height), {"dimscale": scale, **arrows, **text, **value})


def _add_entities(file: Any, drawing: Drawing, on_paper: Drawing, scale: float) -> None:
    """Every entity of the model, a dimension with what shows it on paper."""
    space, back, to_paper = file.modelspace(), Similarity(scale=scale), Similarity(scale=1.0 / scale)
    for entity, shown in zip(drawing.entities, on_paper.pictures, strict=True):
        if isinstance(entity, Dimension | AngleDimension):
            picture = [_enlarged(part.under(back), scale) for part in shown]
            _add_dimension(file, space, entity, picture, scale, outside=text_outside(entity.under(to_paper)))
        else:
            _add(space, _enlarged(entity, scale))


def _add_dimension(
    file: Any,
    space: Any,
    entity: Dimension | AngleDimension,
    picture: Sequence[Primitive],
    scale: float,
    outside: bool,
) -> None:
    block = file.blocks.new_anonymous_block(type_char="D")
    for part in picture:
        if isinstance(part, Polygon):
            block.add_entity(_ready(solid_tags(part.points, DIMENSION.name)))
        else:
            _add(block, part)
    measured = _linear(entity, scale) if isinstance(entity, Dimension) else _angular(entity, scale)
    kind = measured["dimtype"] | _OWN_BLOCK | (_TEXT_PLACED if outside else 0)
    look = {"geometry": block.name, "layer": DIMENSION.name, "dimstyle": _style_name(entity.height)}
    text = {"text_midpoint": _text_middle(picture)}
    space.new_entity("DIMENSION", {**measured, **look, **text, "dimtype": kind})


def _enlarged(part: Primitive, scale: float) -> Primitive:
    return evolve(part, height=part.height * scale) if isinstance(part, Text) else part


def _text_middle(picture: Iterable[Primitive]) -> Point:
    text = next(part for part in picture if isinstance(part, Text))
    return shifted(text.at, direction(text.turn + 90.0), text.height / 2.0)


def _linear(d: Dimension, scale: float) -> dict[str, Any]:
    _, end = evolve(d, offset=d.offset * scale).feet
    points = {"defpoint": end, "defpoint2": d.a, "defpoint3": d.b, "actual_measurement": d.measured}
    # An aligned dimension needs no angle, but some readers measure along it all the same.
    kind = {"dimtype": _ALIGNED if d.along is None else _ROTATED, "angle": angle_of(d.direction)}
    return {**points, **kind, "text": _override(d.says, _default(d.measured))}


def _angular(d: AngleDimension, scale: float) -> dict[str, Any]:
    first, last = sorted((d.start, d.start + d.sweep))
    radius = d.radius * scale
    sides = (shifted(d.apex, direction(angle), radius) for angle in (first, last, (first + last) / 2.0))
    points = dict(zip(("defpoint2", "defpoint3", "defpoint"), sides, strict=True))
    says = _override(d.says, f"{_default(abs(d.sweep))}°")
    size = {"actual_measurement": math.radians(abs(d.sweep)), "text": says}
    return {**points, **size, "defpoint4": d.apex, "dimtype": _ANGULAR}


def _default(measured: float) -> str:
    return f"{measured:.{_DECIMALS}f}".rstrip("0").rstrip(".")


def _override(says: str, default: str) -> str:
    """What the dimension must be told to say: nothing where it says so itself; a space keeps it silent."""
    if says == default:
        return ""
    return says.replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}") or " "


def _add(space: Any, part: Primitive) -> None:
    match part:
        case Line():
            space.add_entity(_ready(line_tags(part)))
        case Arc():
            space.add_entity(_ready(arc_tags(part)))
        case EllipseArc():
            space.add_entity(_ready(ellipse_tags(part)))
        case Text() if part.says.strip():
            space.add_entity(_ready(text_tags(part, _style(part))))
        case Polygon():
            _add_polygon(space, part, {"layer": part.layer.name})


def _style(text: Text) -> str:
    plain = in_helvetica(text.says) or all(face != MICRO_HEI for face, _ in runs(text.says, text.bold))
    return _LETTERING[text.bold] if plain else _FURTHER


class _Ready(DXFGraphic):
    """An entity whose tags are written already."""

    kind = tags = ""

    def export_dxf(self, tagwriter: Any) -> None:
        """Write it, with the number and the owner that the library gave it."""
        tagwriter.write_str(f"  0\n{self.kind}\n  5\n{self.dxf.handle}\n330\n{self.dxf.owner}\n{self.tags}")


def _ready(tags: Tags) -> Any:
    """An entity that the library numbers and keeps like any other, and writes as these tags."""
    made = _Ready.new()
    made.kind, made.tags = tags
    return made


def _add_polygon(space: Any, polygon: Polygon, on: dict[str, str]) -> None:
    if polygon.fill is not None:
        hatch = space.add_hatch(_BLACK_OR_WHITE, on)
        hatch.paths.add_polyline_path(polygon.points, is_closed=True)
        if polygon.fill:
            hatch.rgb = _rgb(polygon.fill)
    if polygon.fill is None or polygon.layer.weight:
        space.add_lwpolyline(polygon.points, close=True, dxfattribs=on)
