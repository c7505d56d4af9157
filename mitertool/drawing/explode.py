"""Dimensions as lines, arrowheads and text, after the habits of ISO 129-1; knows paper sizes only.

Extension lines start 1 mm off the point and run 2 mm past the dimension line; the text stands 1 mm above the
middle of the line, readable from below or from the right. Where it does not fit between the arrowheads, these
go outside and point in, and the text goes outside beyond the second extension line.
"""

from __future__ import annotations

import math
from typing import Final

from mitertool.base.totals import summed
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.entities import Arc, Line, Polygon, Primitive, Text
from mitertool.drawing.layers import DIMENSION, FILL
from mitertool.drawing.lettering import depth, text_width
from mitertool.drawing.vectors import Point, angle_of, direction, dot, left_of, reverse, shifted, to, unit

GAP: Final = 1.0
"""mm between a measured point and its extension line, and at least between text and line."""

OVERRUN: Final = 2.0
"""mm that an extension line runs past the dimension line."""

ARROW: Final = 3.0
"""mm, length of an arrowhead."""

_HALF_ARROW: Final = ARROW * math.tan(math.radians(7.5))
"""mm. The closed arrowhead of 15 degrees."""

_TAIL: Final = 2.0 * ARROW
"""mm of line behind the tip of an arrowhead that points in from outside."""

_UPRIGHT: Final = 1e-6
"""degrees. A text this close to upright is upright: rounding must not choose the side it is read from."""


def explode(entity: Primitive | Dimension | AngleDimension) -> tuple[Primitive, ...]:
    """The lines, arcs, filled polygons and text that show `entity`; a primitive shows itself."""
    if isinstance(entity, Dimension):
        return _linear(entity)
    if isinstance(entity, AngleDimension):
        return _angular(entity)
    return (entity,)


def text_outside(d: Dimension | AngleDimension) -> bool:
    """Whether the text has no room between the arrowheads, or between the sides of the angle."""
    width = text_width(d.says, d.height)
    if isinstance(d, Dimension):
        return d.measured - 2.0 * ARROW < width
    half = math.radians(min(90.0, abs(d.sweep) / 2.0))
    return _text_foot(d) * math.tan(half) < width / 2.0 + GAP


def readable(degrees: float) -> float:
    """The angle or its opposite, so that a text reads from below or from the right: above -90, to 90."""
    turn = (degrees + 180.0) % 360.0 - 180.0
    if turn > 90.0 + _UPRIGHT:
        return turn - 180.0
    return turn + 180.0 if turn <= -90.0 + _UPRIGHT else turn


def _text_gap(height: float) -> float:
    # Large lettering has descenders longer than the gap.
    return max(GAP, depth(height))


def _linear(d: Dimension) -> tuple[Primitive, ...]:
    start, end = d.feet
    u = d.direction if dot(to(start, end), d.direction) >= 0.0 else reverse(d.direction)
    extensions = (*_extension(d.a, start), *_extension(d.b, end))
    return (*extensions, *(_outside(d, start, end, u) if text_outside(d) else _inside(d, start, end, u)))


def _extension(point: Point, foot: Point) -> tuple[Line, ...]:
    reach = to(point, foot)
    if math.hypot(*reach) <= GAP:
        return ()
    u = unit(reach)
    return (Line(shifted(point, u, GAP), shifted(foot, u, OVERRUN), DIMENSION),)


def _inside(d: Dimension, start: Point, end: Point, u: Point) -> tuple[Primitive, ...]:
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    arrows = (_arrow(start, u), _arrow(end, reverse(u)))
    return (Line(start, end, DIMENSION), *arrows, _above(d, middle, u))


def _outside(d: Dimension, start: Point, end: Point, u: Point) -> tuple[Primitive, ...]:
    width = text_width(d.says, d.height)
    clear = ARROW + GAP
    line = Line(shifted(start, u, -_TAIL), shifted(end, u, max(_TAIL, clear + width)), DIMENSION)
    arrows = (_arrow(start, reverse(u)), _arrow(end, u))
    return (line, *arrows, _above(d, shifted(end, u, clear + width / 2.0), u))


def _above(d: Dimension, middle: Point, u: Point) -> Text:
    turn = readable(angle_of(u))
    at = shifted(middle, left_of(direction(turn)), _text_gap(d.height))
    return Text(at, d.says, d.height, "center", "baseline", turn)


def _arrow(tip: Point, back: Point) -> Polygon:
    base = shifted(tip, back, ARROW)
    side = left_of(back)
    return Polygon((tip, shifted(base, side, _HALF_ARROW), shifted(base, side, -_HALF_ARROW)), FILL, 0.0)


def _angular(d: AngleDimension) -> tuple[Primitive, ...]:
    way = math.copysign(1.0, d.sweep)
    end = d.start + d.sweep
    outside = text_outside(d)
    inward = outside or d.length < 2.0 * ARROW + GAP
    lead, trail = _tails(d, outside) if inward else (0.0, 0.0)
    arc = _arc(d, d.start - way * lead, d.sweep + way * (lead + trail))
    back = -way if inward else way
    arrows = (_arc_arrow(d, d.start, back), _arc_arrow(d, end, -back))
    middle = end + way * _text_span(d)[0] if outside else d.start + d.sweep / 2.0
    return (arc, *arrows, _beyond_arc(d, middle))


def _tails(d: AngleDimension, outside: bool) -> tuple[float, float]:
    """Degrees of arc before the angle and after it, where the arrowheads point in."""
    tail = math.degrees(_TAIL / d.radius)
    return tail, max(tail, summed(_text_span(d))) if outside else tail


def _arc(d: AngleDimension, start: float, sweep: float) -> Arc:
    return Arc(d.apex, d.radius, start, max(-360.0, min(360.0, sweep)), DIMENSION)


def _text_span(d: AngleDimension) -> tuple[float, float]:
    """Degrees from the end of the arc to the middle of a text beyond it, and from there to the text's end."""
    half, foot = text_width(d.says, d.height) / 2.0, _text_foot(d)
    to_middle = math.atan2(half + ARROW + GAP, foot)
    return math.degrees(to_middle), math.degrees(math.atan2(half, foot))


def _text_foot(d: AngleDimension) -> float:
    """How near to the apex a text beyond the arc comes with its descenders, mm."""
    return d.radius + _text_gap(d.height) - depth(d.height)


def _arc_arrow(d: AngleDimension, at: float, sign: float) -> Polygon:
    # The head lies on the chord under its length of arc, so that both its ends meet a strongly bent line.
    tip = shifted(d.apex, direction(at), d.radius)
    base = shifted(d.apex, direction(at + sign * math.degrees(min(1.0, ARROW / d.radius))), d.radius)
    return _arrow(tip, unit(to(tip, base)))


def _beyond_arc(d: AngleDimension, at: float) -> Text:
    turn = readable(at - 90.0)
    upside_down = abs((turn - at + 90.0 + 180.0) % 360.0 - 180.0) > 90.0
    reach = d.radius + _text_gap(d.height) + (d.height if upside_down else 0.0)
    return Text(shifted(d.apex, direction(at), reach), d.says, d.height, "center", "baseline", turn)
