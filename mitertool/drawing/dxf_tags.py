"""What a drawing consists of as the tags of a DXF R2010 file; knows the DXF reference, no library.

Each function gives the type of an entity and what follows its handle and owner: the group codes of its subclasses in
the order of the DXF reference, group codes in three places.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from attrs import frozen

from mitertool.drawing.entities import Arc, EllipseArc, Line, Text
from mitertool.drawing.vectors import Point

Tags = tuple[str, str]
"""The type of an entity, and its tags from the subclass AcDbEntity on."""

_PLACES: Final = 12
_ANGLE_PLACES: Final = 14
"""Decimals of a coordinate in mm; of an angle or a ratio."""

BLACK_OR_WHITE: Final = 7
"""The color index that shows black on white and white on black."""

_THINNEST: Final = 1e-6
"""The least ratio of the axes of an ellipse (group code 40)."""

_ANCHORS: Final = {"left": 0, "center": 1, "right": 2}
_SITS: Final = {"baseline": 0, "middle": 2, "top": 3}
"""Group codes 72 and 73 of a text; 0, the usual, is left out."""


def line_tags(line: Line) -> Tags:
    """A LINE."""
    return "LINE", f"{_entity(line.layer.name)}100\nAcDbLine\n{at(10, line.a)}{at(11, line.b)}"


def arc_tags(arc: Arc) -> Tags:
    """A CIRCLE, or an ARC counter-clockwise."""
    circle = f"{_entity(arc.layer.name)}100\nAcDbCircle\n{at(10, arc.center)} 40\n{number(arc.radius)}\n"
    if arc.curve.closed:
        return "CIRCLE", circle
    first, last = span(arc)
    return "ARC", f"{circle}100\nAcDbArc\n 50\n{_angle(first)}\n 51\n{_angle(last)}\n"


def ellipse_tags(arc: EllipseArc) -> Tags:
    """An ELLIPSE, whole or in part, counter-clockwise."""
    # A whole turn must stay within 2 pi to its last place: these are written as they are.
    first, last = map(math.radians, span(arc))
    axes = f"{at(10, arc.center)}{at(11, arc.major)} 40\n{_angle(max(_THINNEST, arc.ratio))}\n"
    return "ELLIPSE", f"{_entity(arc.layer.name)}100\nAcDbEllipse\n{axes} 41\n{first!r}\n 42\n{last!r}\n"


def text_tags(text: Text, style: str) -> Tags:
    """A TEXT in a style, placed by its anchor."""
    turn = f" 50\n{_angle(text.turn)}\n" if text.turn else ""
    anchor, sits = _code(72, _ANCHORS[text.anchor]), _code(73, _SITS[text.sits])
    says = f" 40\n{number(text.height)}\n  1\n{_escaped(text.says)}\n{turn}  7\n{style}\n"
    aligned = at(11, text.at) if anchor or sits else ""
    places = f"100\nAcDbText\n{at(10, text.at)}{says}{anchor}{aligned}100\nAcDbText\n{sits}"
    return "TEXT", _entity(text.layer.name) + places


def solid_tags(corners: Sequence[Point], layer: str) -> Tags:
    """A SOLID of three corners, the last of them given twice."""
    a, b, c = corners
    return "SOLID", f"{_entity(layer)}100\nAcDbTrace\n{at(10, a)}{at(11, b)}{at(12, c)}{at(13, c)}"


def span(arc: Arc | EllipseArc) -> tuple[float, float]:
    """Where a counter-clockwise arc starts and ends, degrees from 0 to 360."""
    if arc.curve.closed:
        return 0.0, 360.0
    first = min(arc.start, arc.start + arc.sweep) % 360.0
    last = first + abs(arc.sweep)
    return first, last if last <= 360.0 else last - 360.0


def polyline_tags(corners: Sequence[Point], layer: str) -> Tags:
    """A closed LWPOLYLINE."""
    return "LWPOLYLINE", f"{_entity(layer)}100\nAcDbPolyline\n 90\n{len(corners)}\n 70\n1\n{_flat(corners)}"


def hatch_tags(corners: Sequence[Point], layer: str, grey: float) -> Tags:
    """A solid HATCH, black on white and white on black, or grey."""
    color = f" 62\n{BLACK_OR_WHITE}\n" + (f"420\n{rgb(grey)}\n" if grey else "")
    return "HATCH", f"{_entity(layer)}{color}{_HATCH}{len(corners)}\n{_flat(corners)}{_HATCH_END}"


@frozen
class Dimensioned:
    """What a dimension measures: its `kind` (group code 70), where its line ends, the value, the tags of its subclass.

    The value is in mm or radians.
    """

    kind: int
    at: Point
    value: float
    own: str


def dimension_tags(block: str, style: str, middle: Point, says: str, measured: Dimensioned, layer: str) -> Tags:
    """A DIMENSION that a block shows, its text about a middle; it says what it measures where `says` is empty."""
    head = f"{_entity(layer)}100\nAcDbDimension\n280\n0\n  2\n{block}\n  3\n{style}\n"
    told = f"  1\n{says}\n" if says else ""
    value = f" 70\n{measured.kind}\n 71\n5\n 42\n{measured.value!r}\n{told}"
    return "DIMENSION", f"{head}{at(10, measured.at)}{at(11, middle)}{value}{measured.own}"


def linear_tags(a: Point, b: Point, angle: float, aligned: bool) -> str:
    """The subclass of a linear dimension between two points, along an angle in degrees, or along both points."""
    # An aligned dimension needs no angle, but some readers measure along it all the same.
    rotated = "" if aligned else "100\nAcDbRotatedDimension\n"
    return f"100\nAcDbAlignedDimension\n{at(13, a)}{at(14, b)} 50\n{_angle(angle)}\n{rotated}"


def angular_tags(first: Point, last: Point, apex: Point) -> str:
    """The subclass of an angle at an apex between two points."""
    return f"100\nAcDb3PointAngularDimension\n{at(13, first)}{at(14, last)}{at(15, apex)}{at(16, (0.0, 0.0))}"


def template(compact: str) -> str:
    """Group codes and values, "0 LINE|8 outline", as they stand in a file; what has no space is filled in as it is."""
    return "".join(_two_lines(part) if " " in part else part for part in compact.split("|"))


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


def at(code: int, p: Point) -> str:
    """A point of the plane as three coordinates from a group code on."""
    return f" {code}\n{number(p[0])}\n {code + 10}\n{number(p[1])}\n {code + 20}\n0.0\n"


def _flat(points: Sequence[Point]) -> str:
    return "".join(f" 10\n{number(x)}\n 20\n{number(y)}\n" for x, y in points)


def _angle(value: float) -> str:
    """Degrees or a ratio: at a metre its last place is less than that of a coordinate."""
    return repr(round(float(value), _ANGLE_PLACES) + 0.0)


def _code(code: int, value: int) -> str:
    return f" {code}\n{value}\n" if value else ""


def _escaped(says: str) -> str:
    # A caret starts a control character and two per cent signs a symbol, unless they are written like this.
    return says.replace("%%", "%%%%%%").replace("^", "^ ")
