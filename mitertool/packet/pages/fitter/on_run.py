"""A branch on its run, from the side and along the run, to scale, with its sides named; knows seats. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import radians, sin
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_SETTING
from mitertool.base.totals import summed
from mitertool.drawing import CENTER, OUTLINE, Arc, Dimension, Drawing, Entity, Line, Point, Text
from mitertool.frame.seats import Seat
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_LETTERS: Final = 2.8
_BETWEEN: Final = 6.0
"""mm between both views."""

_TITLES: Final = 12.0
"""mm below the run to the titles of the views: room for the offset."""

_SMALLER, _LEAST = 0.93, 12.0
"""By what the views are made smaller until their words have room too, and mm of both side by side at the least."""

_SHORT: Final = 1.3
"""Of a branch that is longer no more is drawn past its run, in widths of the run."""

_ANGLE: Final = 6.0
"""mm outside of the run at which the arc of the angle runs."""


def seat_drawing(seat: Seat, units: Units, width: float, height: float) -> Drawing:
    """Both views side by side within a width and a height, each over its title."""
    views = [Drawing(view) for view in (_side(seat), _end(seat))]
    boxes = [view.bounds() for view in views]
    wide, tall = summed(box[2] - box[0] for box in boxes), max(box[3] - box[1] for box in boxes)
    k = min(width / wide, (height - _TITLES) / tall)
    while (drawn := _at_scale(seat, views, units, k)).bounds()[2] > width and k * wide > _LEAST:
        k *= _SMALLER
    return drawn


def _at_scale(seat: Seat, views: Sequence[Drawing], units: Units, k: float) -> Drawing:
    """Both with their words, `k` paper mm a mm, from x = 0 on."""
    worded = zip(("side", "end"), views, (_side_words, _end_words), strict=True)
    whole, right = Drawing(()), 0.0
    for name, view, words in worded:
        drawn = view.scaled(k) + Drawing(words(seat, units, k))
        left, _, far, _ = drawn.bounds()
        title = Text(((left + far) / 2, -seat.saddle.large * k - _TITLES), _title(name, seat), _LETTERS)
        drawn += Drawing([attrs.evolve(title, anchor="center", bold=True)])
        left, _, far, _ = drawn.bounds()
        whole += drawn.moved(right - left, 0)
        right += far - left + _BETWEEN
    return whole


def _title(name: str, seat: Seat) -> str:
    """What a view is; from the side with the angle between both middles."""
    return phrase(f"frame.run/{name}", angle=show_angle(seat.saddle.angle))


def _side(seat: Seat) -> Iterator[Entity]:
    """Seen square to both middles: the run level, the branch with its true edge as far as it shows."""
    r, large, long = seat.saddle.small, seat.saddle.large, _drawn(seat)
    seen = [(x, z) for x, y, z in seat.outline if y <= seat.saddle.offset]
    ends = [_flat(seat.place(u, 0.0, long)) for u in (-r, r)]
    feet = [_flat(seat.place(u, 0.0, seat.saddle.down(u, 0.0))) for u in (-r, r)]
    xs = [x for x, _ in (*seen, *feet)]
    begin, end = min(xs) - large * 1.1, max(xs) + large * 1.1
    yield from (Line((begin, z), (end, z), OUTLINE) for z in (-large, large))
    yield Line((begin, 0), (end, 0), CENTER)
    yield Line((0, 0), _flat(seat.place(0.0, 0.0, long)), CENTER)
    yield from (Line(a, b, OUTLINE) for a, b in zip(feet, ends, strict=True))
    yield Line(ends[0], ends[1], OUTLINE)
    yield from (Line(a, b, OUTLINE) for a, b in pairwise(_in_order(seen)))


def _in_order(seen: list[Point]) -> list[Point]:
    """Half of a closed walk that may begin anywhere, from one end of it to the other."""
    gaps = [abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in pairwise(seen)]
    widest = max(range(len(gaps)), key=gaps.__getitem__)
    return [*seen[widest + 1 :], *seen[: widest + 1]] if gaps[widest] > 5 * sorted(gaps)[len(gaps) // 2] else seen


def _end(seat: Seat) -> Iterator[Entity]:
    """Seen along the run: its round, the branch upright, to its side where it is offset."""
    r, large, offset = seat.saddle.small, seat.saddle.large, seat.saddle.offset
    top = _drawn(seat) * sin(radians(seat.saddle.angle))
    yield Arc((0, 0), large, 0, 360, OUTLINE)
    yield Line((0, -large), (0, large * 1.25), CENTER)
    yield Line((offset, 0), (offset, top), CENTER)
    for y in (offset - r, offset + r):
        foot = (max(large**2 - y**2, 0.0)) ** 0.5
        yield Line((y, foot), (y, top), OUTLINE)
    yield Line((offset - r, top), (offset + r, top), OUTLINE)


def _drawn(seat: Seat) -> float:
    """How long the branch is drawn, from the run's middle."""
    past = seat.saddle.large / sin(radians(seat.saddle.angle)) + _SHORT * seat.run.width
    return min(seat.length, past)


def _side_words(seat: Seat, units: Units, k: float) -> Iterator[Entity]:
    """How long the branch is from the run's middle, and below the run the names of its sides; mm of paper."""
    end = _flat(seat.place(0.0, 0.0, _drawn(seat)))
    beside = seat.saddle.small * k + 5.0
    yield Dimension((0, 0), (end[0] * k, end[1] * k), beside, show_length(seat.length, units), _LETTERS)
    if abs(seat.saddle.angle - 90) < SAME_SETTING:
        return
    right, left = ("acute", "obtuse") if seat.saddle.angle < 90 else ("obtuse", "acute")
    to_x, other = seat.along
    y, middle = -seat.saddle.large * k - 5.0, (to_x - other) / 2 * k
    yield Text((middle + 1.5, y), phrase(f"frame.run/{right}"), _LETTERS)
    yield Text((middle - 1.5, y), phrase(f"frame.run/{left}"), _LETTERS, "right")


def _end_words(seat: Seat, units: Units, k: float) -> Iterator[Entity]:
    """How far the middles pass each other, and which side of the branch that is."""
    offset = seat.saddle.offset
    if offset:
        low = -seat.saddle.large * k
        yield Dimension((0, low), (offset * k, low), -4.5, show_length(abs(offset), units), _LETTERS, 0.0)
    top = _drawn(seat) * sin(radians(seat.saddle.angle)) * k
    r, side = seat.saddle.small * k, offset * k
    yield Text((side + r + 2.0, top * 0.9), phrase("side.top"), _LETTERS, "left", "middle")
    yield Text((side - r - 2.0, top * 0.9), phrase("side.bottom"), _LETTERS, "right", "middle")


def _flat(place: tuple[float, float, float]) -> Point:
    return (place[0], place[2])
