"""Arrows for what is done at the saw: the arm swung, the bar rolled, rows gone through again. Paper mm."""

from __future__ import annotations

from math import cos, radians, sin, tan
from typing import Final

from mitertool.drawing import CENTER, FILL, OUTLINE, THIN, Arc, Drawing, Line, Point, Polygon
from mitertool.drawing.vectors import direction, left_of, shifted, unit
from mitertool.packet.floor.values import Reading
from mitertool.packet.paper.stand import feed_way
from mitertool.saw import Machine

_LEAN: Final = 35.0
"""degrees that the blade of an arrow leans: a sign, not to scale."""

_HEAD: Final = (2.2, 0.9)
"""mm of an arrow's head, and half of its width."""

_SIDES: Final = 0.48
"""Half of the bar that is drawn under a blade, of its width."""


def arm_arrow(way: float, height: float) -> Drawing:
    """The blade swung from the square line, about (0, 0) on its foot, to the right where `way` is 1, to the left at -1.

    Seen as every picture of the sheet: the moving jaw beyond. 0 is the arm straight.
    """
    reach = height * tan(radians(_LEAN))
    if not way:
        return Drawing([Line((0, 0), (0, height), OUTLINE)])
    far = (way * reach, height)
    bend = Arc((0, 0), height * 0.9, 90.0, -way * _LEAN, THIN)
    tip = shifted((0, 0), direction(90.0 - way * _LEAN), height * 0.9)
    head = _head(tip, direction(-way * _LEAN if way > 0 else 180.0 + _LEAN))
    arrow = Drawing([Line((0, 0), (0, height), CENTER), Line((0, 0), far, OUTLINE), bend, head])
    return arrow.moved(-way * reach / 2, 0)


def sign_of(reading: Reading, saw: Machine | None, height: float) -> Drawing:
    """How the blade lies over the bar for a reading, seen from the operator's place."""
    return slant({"feed": 1.0, "discharge": -1.0}.get(reading.arm, 0.0) * feed_way(saw), height)


def slant(lean: float, height: float) -> Drawing:
    """A cut as it lies over a bar, seen from above, on (0, 0): its moving side beyond, to the right where `lean` is 1.

    Where the arm turns about a pivot beyond the bar the end that is seen to swing goes the other way; the line over the
    bar is right wherever the pivot stands.
    """
    reach = height * tan(radians(_LEAN)) * lean
    half = height * _SIDES
    sides = [Line((-half, y), (half, y), THIN) for y in (0.0, height)]
    return Drawing([*sides, Line((-reach / 2, 0), (reach / 2, height), OUTLINE)])


def tilt_arrow(way: float, height: float) -> Drawing:
    """The blade tilted over the bed, seen from the fixed jaw, its top to the right where `way` is over 0."""
    return arm_arrow((way > 0) - (way < 0), height) + _bed()


def from_side(way: float, height: float) -> Drawing:
    """A cut over the bed where no saw is known, seen from the fixed jaw, its top to the right where `way` is over 0."""
    reach = height * tan(radians(_LEAN)) * ((way > 0) - (way < 0)) / 2
    return Drawing([Line((-reach, 0), (reach, height), OUTLINE), Line((-3.3, height), (3.3, height), THIN)]) + _bed()


def _bed() -> Drawing:
    return Drawing([Line((-3.3, 0), (3.3, 0), OUTLINE)])


def turn_arrow(size: float, forward: bool = True) -> Drawing:
    """A bar rolled about its own axis, about (0, 0): three quarters of a circle with a head, over to the right."""
    radius = size / 2
    start, sweep = (200.0, -230.0) if forward else (-20.0, 230.0)
    end = start + sweep
    along = direction(end - 90.0 if forward else end + 90.0)
    tip = (radius * cos(radians(end)), radius * sin(radians(end)))
    return Drawing([Arc((0, 0), radius, start, sweep, OUTLINE), _head(shifted(tip, along, 1.2), along)])


def again_arrow(height: float) -> Drawing:
    """A bracket down the left of rows that are gone through again, hanging from (0, 0); its head points back up."""
    low = -height
    lines = [Line((2.5, low), (0, low), OUTLINE), Line((0, low), (0, 0), OUTLINE), Line((0, 0), (1.0, 0), OUTLINE)]
    return Drawing([*lines, _head((2.8, 0), (1.0, 0.0))])


def kerf_sign(past: bool, leads: str) -> Drawing:
    """A mark across a stretch of a bar, standing on (0, 0), 7 wide, and the kerf in grey past the mark or before it.

    The arrow stands before the leading end, at the side "left" or "right", as at the strip of the bar.
    """
    way, low, high = (1.0 if leads == "left" else -1.0), 0.0, 2.8
    x0, x1 = (0.0, way * _KERF if past else -way * _KERF)
    bar = [Line((-2.5, y), (2.5, y), THIN) for y in (low, high)]
    kerf = Polygon([(x0, low), (x1, low), (x1, high), (x0, high)], THIN, fill=0.6)
    mark = Line((0.0, low - 0.5), (0.0, high + 0.5), OUTLINE)
    lead = Polygon([(-way * 4.5, 1.4), (-way * 3.1, 2.4), (-way * 3.1, 0.4)], THIN, fill=0.0)
    return Drawing([*bar, kerf, mark, lead]).moved(3.5 + way, 0)


_KERF: Final = 2.0
"""How wide the kerf of a sign is, not to scale."""


def long_arrow(a: Point, b: Point) -> Drawing:
    """A plain arrow from a to b."""
    return Drawing([Line(a, b, OUTLINE), _head(b, unit((b[0] - a[0], b[1] - a[1])))])


def _head(tip: Point, along: Point) -> Polygon:
    back = shifted(tip, along, -_HEAD[0])
    side = left_of(along)
    return Polygon([tip, shifted(back, side, _HEAD[1]), shifted(back, side, -_HEAD[1])], FILL, fill=0.0)
