"""A drawing as SVG, plain XML text; knows no library."""

from __future__ import annotations

from itertools import groupby
from operator import attrgetter
from typing import Final
from xml.sax.saxutils import escape

from mitertool.drawing.drawing import Drawing
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
from mitertool.drawing.layers import Layer
from mitertool.drawing.lettering import font_size
from mitertool.drawing.vectors import Point, angle_of

_SPACE: Final = 'xmlns="http://www.w3.org/2000/svg"'

_QUOTE: Final = {'"': "&quot;"}

_FONTS: Final = "Helvetica, Arial, 'DejaVu Sans', 'WenQuanYi Micro Hei', sans-serif"


def write(drawing: Drawing, margin: float = 5.0) -> bytes:
    """The drawing with `margin` mm around it as one SVG element, UTF-8, 1 unit = 1 mm, y turned to run down.

    Every text states its length, so that a viewer with another font neither overlaps nor overflows.
    """
    return f"{_element(drawing, margin, _SPACE)}\n".encode()


def inline(drawing: Drawing, says: str, margin: float = 5.0) -> str:
    """The same for the inside of an HTML page, as a picture of which is read aloud what it `says`; nothing for ""."""
    named = f'role="img" aria-label="{escape(says, _QUOTE)}"' if says else 'aria-hidden="true"'
    return _element(drawing, margin, named)


def _element(drawing: Drawing, margin: float, named: str) -> str:
    x0, y0, x1, y1 = drawing.bounds()
    width, height = x1 - x0 + 2 * margin, y1 - y0 + 2 * margin
    box = " ".join(map(_number, (x0 - margin, -y1 - margin, width, height)))
    size = f'width="{_number(width)}mm" height="{_number(height)}mm" viewBox="{box}"'
    runs = groupby(drawing.primitives(), key=attrgetter("layer"))
    body = "\n".join(_group(layer, "\n".join(map(_shape, run))) for layer, run in runs)
    lettering = f'font-family="{_FONTS}" xml:space="preserve"'
    return f"<svg {named} {size} {lettering}>\n{body}\n</svg>"


def _group(layer: Layer, body: str) -> str:
    stroke = f'stroke="{_grey(layer.grey)}"' if layer.weight else 'stroke="none"'
    pen = f'{stroke} stroke-width="{_number(layer.weight)}" stroke-linejoin="round"'
    dashes = " ".join(map(_number, layer.dashes))
    line = f'stroke-dasharray="{dashes}"' if dashes else 'stroke-linecap="round"'
    return f'<g class="{escape(layer.name, _QUOTE).replace(" ", "-")}" fill="none" {pen} {line}>\n{body}\n</g>'


def _shape(part: Primitive) -> str:
    match part:
        case Line((x1, y1), (x2, y2)):
            ends = zip(("x1", "y1", "x2", "y2"), (x1, -y1, x2, -y2), strict=True)
            return f"<line {_attributes(*ends)}/>"
        case Arc():
            return _arc(part, part.radius, part.radius, 0.0)
        case EllipseArc():
            long = (part.major[0] ** 2 + part.major[1] ** 2) ** 0.5
            return _arc(part, long, long * part.ratio, -angle_of(part.major))
        case Polygon(points, _, fill):
            shade = "" if fill is None else f' fill="{_grey(fill)}"'
            return f'<polygon points="{" ".join(map(_at, points))}"{shade}/>'
        case Polyline(points):
            return f'<polyline points="{" ".join(map(_at, points))}"/>'
        case Text():
            return _text(part)


def _arc(arc: Arc | EllipseArc, rx: float, ry: float, turn: float) -> str:
    if arc.curve.closed:
        (x, y), spin = arc.center, f' transform="rotate({_number(turn)} {_at(arc.center)})"'
        places = zip(("cx", "cy", "rx", "ry"), (x, -y, rx, ry), strict=True)
        return f"<ellipse {_attributes(*places)}{spin if turn else ''}/>"
    start, end = arc.curve.ends()
    flags = f"{int(abs(arc.sweep) > 180)} {int(arc.sweep < 0)}"
    return f'<path d="M {_at(start)} A {_number(rx)} {_number(ry)} {_number(turn)} {flags} {_at(end)}"/>'


def _text(text: Text) -> str:
    x, y = text.origin
    sizes = (("x", x), ("y", -y), ("font-size", font_size(text.height)), ("textLength", text.width))
    turn = f' transform="rotate({_number(-text.turn)} {_at(text.origin)})"' if text.turn else ""
    weight = ' font-weight="bold"' if text.bold else ""
    look = f'lengthAdjust="spacingAndGlyphs" fill="{_grey(text.layer.grey)}" stroke="none"{weight}{turn}'
    return f"<text {_attributes(*sizes)} {look}>{escape(text.says)}</text>"


def _attributes(*pairs: tuple[str, float]) -> str:
    return " ".join(f'{name}="{_number(value)}"' for name, value in pairs)


def _at(p: Point) -> str:
    return f"{_number(p[0])} {_number(-p[1])}"


def _number(value: float) -> str:
    """A number to a tenth of a micrometre, without zeros at its end and without a signed zero."""
    shown = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def _grey(level: float) -> str:
    return "#" + f"{round(255 * min(1.0, max(0.0, level))):02x}" * 3
