"""What a drawing consists of as the tags of a DXF R2010 file; knows the DXF reference, no library.

Each function gives an entity as what follows its handle and owner: the group codes of its subclasses in the order of
the DXF reference, group codes in three places. Its coordinates stand apart, so that it can be moved when it is written.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from typing import Final, NamedTuple

from attrs import frozen

from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Text
from mitertool.drawing.vectors import Point


class Tags(NamedTuple):
    """The type of an entity, its tags from the subclass AcDbEntity on, and the points that belong in their slots."""

    kind: str
    text: str
    points: tuple[Point, ...]


SLOT: Final = "\0"
"""Where a handle, a name or a coordinate belongs: no text of a drawing has this sign."""

_PLACES: Final = 12
_ANGLE_PLACES: Final = 14
"""Decimals of a coordinate in mm; of an angle or a ratio."""

BLACK_OR_WHITE: Final = 7
"""The color index that shows black on white and white on black."""

_THINNEST: Final = 1e-6
"""The least ratio of the axes of an ellipse (group code 40)."""

_NUMBERS: Final = 4096
"""Numbers whose text is kept: lines that meet have the same ends."""

_LAYERS: Final = 64
"""Texts of lines and solids that are kept, one a layer."""

_ANCHORS: Final = {"left": 0, "center": 1, "right": 2}
_SITS: Final = {"baseline": 0, "middle": 2, "top": 3}
"""Group codes 72 and 73 of a text; 0, the usual, is left out."""


def line_tags(line: Line) -> Tags:
    """A LINE."""
    return Tags("LINE", _of_layer(line.layer.name, _LINE), (line.a, line.b))


def arc_tags(arc: Arc) -> Tags:
    """A CIRCLE, or an ARC counter-clockwise."""
    circle = f"{_entity(arc.layer.name)}100\nAcDbCircle\n{_at(10)} 40\n{number(arc.radius)}\n"
    if arc.curve.closed:
        return Tags("CIRCLE", circle, (arc.center,))
    first, last = span(arc)
    return Tags("ARC", f"{circle}100\nAcDbArc\n 50\n{_angle(first)}\n 51\n{_angle(last)}\n", (arc.center,))


def ellipse_tags(arc: EllipseArc) -> Tags:
    """An ELLIPSE, whole or in part, counter-clockwise."""
    # A whole turn must stay within 2 pi to its last place: these are written as they are.
    first, last = map(math.radians, span(arc))
    axes = f"{_at(10)}{_vector(11, arc.major)} 40\n{_angle(max(_THINNEST, arc.ratio))}\n"
    text = f"{_entity(arc.layer.name)}100\nAcDbEllipse\n{axes} 41\n{first!r}\n 42\n{last!r}\n"
    return Tags("ELLIPSE", text, (arc.center,))


def text_tags(text: Text, style: str) -> Tags:
    """A TEXT in a style, placed by its anchor."""
    turn = f" 50\n{_angle(text.turn)}\n" if text.turn else ""
    anchor, sits = _code(72, _ANCHORS[text.anchor]), _code(73, _SITS[text.sits])
    says = f" 40\n{number(text.height)}\n  1\n{_escaped(text.says)}\n{turn}  7\n{style}\n"
    aligned = bool(anchor or sits)
    places = f"100\nAcDbText\n{_at(10)}{says}{anchor}{_at(11) if aligned else ''}100\nAcDbText\n{sits}"
    return Tags("TEXT", _entity(text.layer.name) + places, (text.at, text.at) if aligned else (text.at,))


def solid_tags(corners: Sequence[Point], layer: str) -> Tags:
    """A SOLID of three corners, the last of them given twice."""
    a, b, c = corners
    return Tags("SOLID", _of_layer(layer, _SOLID), (a, b, c, c))


def span(arc: Arc | EllipseArc) -> tuple[float, float]:
    """Where a counter-clockwise arc starts and ends, degrees from 0 to 360."""
    if arc.curve.closed:
        return 0.0, 360.0
    first = min(arc.start, arc.start + arc.sweep) % 360.0
    last = first + abs(arc.sweep)
    return first, last if last <= 360.0 else last - 360.0


def polyline_tags(line: Polygon | Polyline) -> Tags:
    """An LWPOLYLINE, closed where it goes round a polygon."""
    closed, corners = int(isinstance(line, Polygon)), line.points
    head = f"{_entity(line.layer.name)}100\nAcDbPolyline\n 90\n{len(corners)}\n 70\n{closed}\n"
    return Tags("LWPOLYLINE", head + _FLAT * len(corners), corners)


def hatch_tags(corners: Sequence[Point], layer: str, grey: float) -> Tags:
    """A solid HATCH, black on white and white on black, or grey."""
    color = f" 62\n{BLACK_OR_WHITE}\n" + (f"420\n{rgb(grey)}\n" if grey else "")
    body = f"{_HATCH}{len(corners)}\n{_FLAT * len(corners)}{_HATCH_END}"
    return Tags("HATCH", f"{_entity(layer)}{color}{body}", tuple(corners))


@frozen
class Dimensioned:
    """What a dimension measures: its `kind` (group code 70), where its line ends, the value, the tags of its subclass.

    The value is in mm or radians; the points are those of the subclass.
    """

    kind: int
    at: Point
    value: float
    own: str
    points: tuple[Point, ...]


def dimension_tags(style: str, middle: Point, says: str, measured: Dimensioned, layer: str) -> Tags:
    """A DIMENSION, its text about a middle; it says what it measures where `says` is empty.

    Its first slot is for the name of the block that shows it.
    """
    head = f"{_entity(layer)}100\nAcDbDimension\n280\n0\n  2\n{SLOT}\n  3\n{style}\n"
    told = f"  1\n{says}\n" if says else ""
    value = f" 70\n{measured.kind}\n 71\n5\n 42\n{measured.value!r}\n{told}"
    text = f"{head}{_at(10)}{_at(11)}{value}{measured.own}"
    return Tags("DIMENSION", text, (measured.at, middle, *measured.points))


def linear_tags(angle: float, aligned: bool) -> str:
    """The subclass of a linear dimension between two points, along an angle in degrees, or along both points."""
    # An aligned dimension needs no angle, but some readers measure along it all the same.
    rotated = "" if aligned else "100\nAcDbRotatedDimension\n"
    return f"100\nAcDbAlignedDimension\n{_at(13)}{_at(14)} 50\n{_angle(angle)}\n{rotated}"


def dashed(tags: Tags, scale: float) -> Tags:
    """The entity with dashes so many times as long as those of its layer (group code 48)."""
    if scale == 1.0:
        return tags
    *head, rest = tags.text.split("\n", 4)
    return tags._replace(text="\n".join((*head, f" 48\n{number(scale)}", rest)))


def written(every: Iterable[Tags], owner: str, handles: Iterator[str], shift: Point = (0.0, 0.0)) -> str:
    """Entities in a block, with a handle each, moved by a shift in mm."""
    dx, dy = shift
    texts, fills = [], []
    for kind, text, points in every:
        texts.append(f"  0\n{kind}\n  5\n{SLOT}\n330\n{owner}\n{text}")
        fills.append(next(handles))
        for x, y in points:
            fills += (number(x + dx), number(y + dy))
    return filled("".join(texts), fills)


def filled(text: str, fills: Iterable[str]) -> str:
    """A text with one of `fills` in each slot."""
    return "".join(chain.from_iterable(zip(text.split(SLOT), chain(fills, ("",)), strict=True)))


def template(compact: str) -> str:
    """Group codes and values, "0 LINE|8 outline", as they stand in a file; what has no space is filled in as it is."""
    return "".join(_two_lines(part) if " " in part else part for part in compact.split("|"))


@lru_cache(_NUMBERS)
def number(mm: float) -> str:
    """A length or a coordinate, rounded to where the noise of floating point begins: lines meet where they did."""
    return repr(round(float(mm), _PLACES) + 0.0)


def rgb(grey: float) -> int:
    """A grey, 0 black to 1 white, as a true color (group code 420)."""
    return round(255 * min(1.0, max(0.0, grey))) * 0x010101


def _two_lines(part: str) -> str:
    code, _, value = part.partition(" ")
    return f"{code:>3}\n{value}\n"


_HATCH: Final = (
    template(
        "100 AcDbHatch|10 0.0|20 0.0|30 0.0|210 0.0|220 0.0|230 1.0|2 SOLID|70 1|71 0|91 1|92 3|72 0|73 1|93 "
    ).rstrip("\n")
    + "\n"
)
_HATCH_END: Final = template("97 0|75 0|76 1|98 0")


def _entity(layer: str) -> str:
    return f"100\nAcDbEntity\n  8\n{layer}\n"


@lru_cache(_LAYERS)
def _of_layer(layer: str, rest: str) -> str:
    """The tags of an entity of which its layer is all that varies, one text for all of them."""
    return _entity(layer) + rest


def _at(code: int) -> str:
    """A point of the plane as three coordinates from a group code on, the first two as slots."""
    return f" {code}\n{SLOT}\n {code + 10}\n{SLOT}\n {code + 20}\n0.0\n"


def _vector(code: int, v: Point) -> str:
    """The same of a direction, which a move leaves as it is."""
    return filled(_at(code), map(number, v))


_LINE: Final = f"100\nAcDbLine\n{_at(10)}{_at(11)}"
_SOLID: Final = f"100\nAcDbTrace\n{_at(10)}{_at(11)}{_at(12)}{_at(13)}"
ANGULAR: Final = f"100\nAcDb3PointAngularDimension\n{_at(13)}{_at(14)}{_at(15)}{_vector(16, (0.0, 0.0))}"
"""The subclass of an angle between two points at an apex."""

_FLAT: Final = f" 10\n{SLOT}\n 20\n{SLOT}\n"


def _angle(value: float) -> str:
    """Degrees or a ratio: at a metre its last place is less than that of a coordinate."""
    return repr(round(float(value), _ANGLE_PLACES) + 0.0)


def _code(code: int, value: int) -> str:
    return f" {code}\n{value}\n" if value else ""


def _escaped(says: str) -> str:
    # A caret starts a control character and two per cent signs a symbol, unless they are written like this.
    return says.replace("%%", "%%%%%%").replace("^", "^ ")
