"""Lines, arcs, text and arrowheads as the tags of a DXF R2010 file; knows the DXF reference, no library.

Each function gives the type of an entity and what follows its handle and owner: the group codes of its subclasses in
the order of the DXF reference, group codes in three places. These kinds are nearly all of a sketch; a library that asks
each of them for every attribute it might have takes a third of the time of a sketch for that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from mitertool.drawing.entities import Arc, EllipseArc, Line, Text
from mitertool.drawing.vectors import Point

Tags = tuple[str, str]
"""The type of an entity, and its tags from the subclass AcDbEntity on."""

_THINNEST: Final = 1e-6
"""The least ratio of the axes of an ellipse (group code 40)."""

_ANCHORS: Final = {"left": 0, "center": 1, "right": 2}
_SITS: Final = {"baseline": 0, "middle": 2, "top": 3}
"""Group codes 72 and 73 of a text; 0, the usual, is left out."""


def line_tags(line: Line) -> Tags:
    """A LINE."""
    return "LINE", f"{_entity(line.layer.name)}100\nAcDbLine\n{_at(10, line.a)}{_at(11, line.b)}"


def arc_tags(arc: Arc) -> Tags:
    """A CIRCLE, or an ARC counter-clockwise."""
    circle = f"{_entity(arc.layer.name)}100\nAcDbCircle\n{_at(10, arc.center)} 40\n{float(arc.radius)}\n"
    if arc.curve.closed:
        return "CIRCLE", circle
    first, last = span(arc)
    return "ARC", f"{circle}100\nAcDbArc\n 50\n{first}\n 51\n{last}\n"


def ellipse_tags(arc: EllipseArc) -> Tags:
    """An ELLIPSE, whole or in part, counter-clockwise."""
    first, last = map(math.radians, span(arc))
    axes = f"{_at(10, arc.center)}{_at(11, arc.major)} 40\n{max(_THINNEST, float(arc.ratio))}\n"
    return "ELLIPSE", f"{_entity(arc.layer.name)}100\nAcDbEllipse\n{axes} 41\n{first}\n 42\n{last}\n"


def text_tags(text: Text, style: str) -> Tags:
    """A TEXT in a style, placed by its anchor."""
    turn = f" 50\n{float(text.turn)}\n" if text.turn else ""
    anchor, sits = _code(72, _ANCHORS[text.anchor]), _code(73, _SITS[text.sits])
    says = f" 40\n{float(text.height)}\n  1\n{_escaped(text.says)}\n{turn}  7\n{style}\n"
    places = f"100\nAcDbText\n{_at(10, text.at)}{says}{anchor}{_at(11, text.at)}100\nAcDbText\n{sits}"
    return "TEXT", _entity(text.layer.name) + places


def solid_tags(corners: Sequence[Point], layer: str) -> Tags:
    """A SOLID of three corners, the last of them given twice."""
    a, b, c = corners
    return "SOLID", f"{_entity(layer)}100\nAcDbTrace\n{_at(10, a)}{_at(11, b)}{_at(12, c)}{_at(13, c)}"


def span(arc: Arc | EllipseArc) -> tuple[float, float]:
    """Where a counter-clockwise arc starts and ends, degrees from 0 to 360."""
    if arc.curve.closed:
        return 0.0, 360.0
    first = min(arc.start, arc.start + arc.sweep) % 360.0
    last = first + abs(arc.sweep)
    return first, last if last <= 360.0 else last - 360.0


def _entity(layer: str) -> str:
    return f"100\nAcDbEntity\n  8\n{layer}\n"


def _at(code: int, p: Point) -> str:
    return f" {code}\n{float(p[0])}\n {code + 10}\n{float(p[1])}\n {code + 20}\n0.0\n"


def _code(code: int, value: int) -> str:
    return f" {code}\n{value}\n" if value else ""


def _escaped(says: str) -> str:
    # A caret starts a control character and two per cent signs a symbol, unless they are written like this.
    return says.replace("%%", "%%%%%%").replace("^", "^ ")
