"""Closed loops: through corner points, each rounded by its own radius, boxes and circles; knows only segments."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, hypot, pi, tan

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry.region import Loop
from mitertool.geometry.segments import Arc, Line, Point, Segment
from mitertool.words import phrase

Corner = tuple[float, float, float]
"""y, z and the radius that rounds the corner (0: sharp), mm."""


def rounded(corners: Sequence[Corner]) -> Loop:
    """The loop through `corners` in their order, each rounded by a tangent arc of its radius.

    Raises `BadInput` where two neighbouring roundings need more room than the side between them has.
    """
    count = len(corners)
    fillets = [_fillet(corners[i - 1], corners[i], corners[(i + 1) % count]) for i in range(count)]
    loop: list[Segment] = []
    for i, (arc, _, leave, _) in enumerate(fillets):
        _, arrive, _, need = fillets[(i + 1) % count]
        _refuse_overlap(corners[i], corners[(i + 1) % count], fillets[i][3] + need)
        if arc is not None:
            loop.append(arc)
        if hypot(arrive[0] - leave[0], arrive[1] - leave[1]) > COINCIDENT:
            loop.append(Line(leave, arrive))
    return tuple(loop)


def box(y0: float, z0: float, y1: float, z1: float, radius: float) -> Loop:
    """A rectangle with four equal corners."""
    return rounded([(y0, z0, radius), (y1, z0, radius), (y1, z1, radius), (y0, z1, radius)])


def circle(center: float, radius: float) -> Loop:
    """A circle about (center, center)."""
    return (Arc((center, center), radius, 0.0, 2 * pi),)


def hole(loop: Loop) -> Loop:
    """The loop the other way round, with the material outside it."""
    return tuple(segment.reversed() for segment in loop[::-1])


def _fillet(before: Corner, corner: Corner, after: Corner) -> tuple[Arc | None, Point, Point, float]:
    """The arc, the points where it begins and ends, and how far they lie from the corner."""
    y, z, radius = corner
    arriving = atan2(z - before[1], y - before[0])
    leaving = atan2(after[1] - z, after[0] - y)
    bend = (leaving - arriving + pi) % (2 * pi) - pi
    if radius == 0.0 or bend == 0.0:
        return None, (y, z), (y, z), 0.0
    reach = radius * tan(abs(bend) / 2)
    begin = _along((y, z), before, reach)
    end = _along((y, z), after, reach)
    quarter = pi / 2 if bend > 0 else -pi / 2
    inward = _unit(before, corner)
    side = 1.0 if bend > 0 else -1.0
    center = (begin[0] - side * radius * inward[1], begin[1] + side * radius * inward[0])
    return Arc(center, radius, arriving - quarter, bend), begin, end, reach


def _unit(start: Corner, end: Corner) -> Point:
    length = hypot(end[0] - start[0], end[1] - start[1])
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


def _along(start: Point, toward: Corner, distance: float) -> Point:
    way = _unit((*start, 0.0), toward)
    return (start[0] + way[0] * distance, start[1] + way[1] * distance)


def _refuse_overlap(first: Corner, second: Corner, need: float) -> None:
    room = hypot(second[0] - first[0], second[1] - first[1])
    if need > room + COINCIDENT:
        raise BadInput(
            phrase("what.radii"),
            phrase("list.and", first=f"{first[2]:g}", last=f"{second[2]:g}"),
            phrase("refuse.radii", room=room),
        )
