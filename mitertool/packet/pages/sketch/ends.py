"""The end view of a mark whose ends are turned against each other, both long points on it; knows views. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final

from mitertool.drawing import CENTER, THIN, AngleDimension, Drawing, Line, Point, Polygon, Text, text_width
from mitertool.drawing.checks import Entity
from mitertool.drawing.entities import Anchor, Sits
from mitertool.packet.pages.sketch.two_views import CAPTION, LETTERS
from mitertool.packet.paper.views import end_view
from mitertool.piece import Piece
from mitertool.quantity import show_angle
from mitertool.words import phrase

_PITCH: Final = 6.0
_DOT: Final = 1.2
_SIDES: Final = 24
"""mm of the radius of the dot of a long point, and how many corners draw it."""

_PAST: Final = 14.0
_FURTHER: Final = 10.0
"""mm that the line to the left long point runs past the section and its arc, and that to the right one further."""

_NEAR: Final = 30.0
"""degrees of turn below which the right name stands past all of the left one."""

_ARC: Final = 4.0
"""mm from the section to the arc of the angle."""

_UPRIGHT: Final = 0.3
"""Cosine of the way of a line below which its name stands over or under its end, not beside it."""

_HARDLY: Final = 1e-6
"""How far a direction is turned to either side (tangent), to find both ends of a side that stands out evenly."""

_ALONG: Final = 0.005
"""degrees. Two decimals show no more: ends that are turned by less lie on one side, or half a turn apart."""


def is_turned(piece: Piece) -> bool:
    """Whether the long points lie neither on one side nor on opposite ones, so that no flat view shows both ends."""
    return min(abs(piece.turn), 180.0 - abs(piece.turn)) > _ALONG


def turned_ends(piece: Piece, k: float) -> Drawing:
    """The section as one who looks at the left end sees it, with both long points and the angle between them.

    The lower left corner of the section is at (0, 0); nothing of a mark whose ends are not turned.
    """
    if not is_turned(piece):
        return Drawing()
    section = piece.section
    middle = (section.width / 2 / k, section.height / 2 / k)
    start = _way(piece, "left")
    reach = hypot(*middle)
    angle = AngleDimension(middle, start, -piece.turn, reach + _ARC, show_angle(abs(piece.turn)), LETTERS)
    drawing = end_view(section.lay(turned=True)).scaled(1 / k)
    for end in ("left", "right"):
        drawing += Drawing(_long_point(piece, end, middle, reach, k))
    drawing += Drawing([angle])
    return drawing + _names(piece).moved(0.0, drawing.bounds()[1])


def _way(piece: Piece, end: str) -> float:
    """Toward which the first cut of an end stands out most, degrees in the picture: the fixed jaw is on its right."""
    cut = piece.cuts(end)[0]
    return degrees(atan2(cut.q, -cut.p))


def _long_point(piece: Piece, end: str, middle: Point, reach: float, k: float) -> Iterator[Entity]:
    """A line from the middle toward where an end stands out most, its name, and a dot where the material does."""
    way = _way(piece, end)
    tip, beyond = (_toward(middle, way, reach + _past(piece, end) + more) for more in (0.0, 2.0))
    yield Line(middle, tip, CENTER)
    leans = cos(radians(way))
    anchor: Anchor = "center" if abs(leans) < _UPRIGHT else "left" if leans > 0 else "right"
    sits: Sits = "middle" if anchor != "center" else "baseline" if tip[1] > middle[1] else "top"
    yield Text(beyond, phrase(f"sketch.long-at/{end}"), LETTERS, anchor, sits)
    y, z = _furthest(piece, end)
    place = ((piece.section.width - y) / k, z / k)
    yield Polygon([_toward(place, 360.0 / _SIDES * i, _DOT) for i in range(_SIDES)], THIN, fill=0.0)


def _past(piece: Piece, end: str) -> float:
    if end == "left":
        return _PAST
    near = abs(piece.turn) < _NEAR
    return _PAST + _FURTHER + (text_width(phrase("sketch.long-at/left"), LETTERS) if near else 0.0)


def _furthest(piece: Piece, end: str) -> Point:
    """(y, z) where the first cut of an end stands out most, halfway along where a whole side does, mm."""
    cut = piece.cuts(end)[0]
    region, (p, q) = piece.section.region, (cut.p, cut.q)
    one, other = (region.support_point(p - turn * q, q + turn * p) for turn in (_HARDLY, -_HARDLY))
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _toward(start: Point, way: float, far: float) -> Point:
    return start[0] + far * cos(radians(way)), start[1] + far * sin(radians(way))


def _names(piece: Piece) -> Drawing:
    turn = phrase(f"sketch.turned/{'clockwise' if piece.turn > 0 else 'counter'}", angle=show_angle(abs(piece.turn)))
    lines = (phrase("sketch.from-left", jaw=phrase("sketch.fixed-right")), turn)
    return Drawing(Text((0, -_PITCH * (i + 1)), line, CAPTION) for i, line in enumerate(lines))
