"""The length of material on the blade against its travel, as a chart; knows reach and drawing. Paper mm."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import hypot
from typing import Final

from mitertool.drawing import CENTER, MOVED, OUTLINE, THIN, Drawing, Entity, Line, Point, Text
from mitertool.packet.pages.setting.letters import LETTER, LONGEST, MEAN
from mitertool.saw import Reach
from mitertool.words import phrase

_SAMPLES: Final = 24
"""Samples of a stretch between two jumps."""

_NAME: Final = 2.8
_LEFT: Final = 5.0
_RIGHT: Final = 5.0
_BELOW: Final = 9.0
_ABOVE: Final = 2.0


def load_chart(reach: Reach, width: float, height: float, position: float | None = None) -> Drawing:
    """In a box that stands on (0, 0), from first touch to through, jumps upright; L and M at the left and the right.

    A `position` of the arm is marked where it is given, one above the first touch as that.

    Empty where the saw file tells of no arm.
    """
    passage = reach.passage
    if passage is None:
        return Drawing(())
    across, up = width - _LEFT - _RIGHT, height - _BELOW - _ABOVE
    x0, x1, most = passage.first_touch, passage.through, passage.largest

    def at(position: float, contact: float) -> Point:
        return (_LEFT + abs(position - x0) / abs(x1 - x0) * across, _BELOW + contact / most * up)

    points = _thinned([at(s.position, s.contact) for s in passage.samples(_SAMPLES)])
    top, mean = _BELOW + up, _BELOW + passage.mean / most * up
    right = _LEFT + across
    parts: list[Entity] = [
        Line((_LEFT, _BELOW), (right, _BELOW), THIN),
        Line((_LEFT, _BELOW), (_LEFT, top), THIN),
        Line((_LEFT - 1, top), (right, top), THIN),
        Line((_LEFT, mean), (right, mean), CENTER),
        *(Line(a, b, OUTLINE) for a, b in itertools.pairwise(points) if a != b),
        Text((_LEFT - 1.5, top - LETTER / 2), LONGEST, LETTER, "right"),
        Text((right + 1.5, mean - LETTER / 2), MEAN, LETTER),
        Text((_LEFT, _BELOW - 4), phrase("setting.touch"), _NAME),
        Text((right, _BELOW - 4), phrase("setting.through"), _NAME, "right"),
        Text((width / 2, 0), phrase("setting.steel"), _NAME, "center"),
    ]
    if position is not None:
        x, _ = at(min(position, x0), 0.0)
        parts.append(Line((x, _BELOW), (x, top), MOVED))
    return Drawing(parts)


_UNSEEN: Final = 0.02
"""mm. A point so near to the line between its neighbours is not missed: a tenth of the pen."""


def _thinned(points: Sequence[Point]) -> list[Point]:
    """The points without those that lie on the line between others; the first, the last and the turns stay."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    size = hypot(x1 - x0, y1 - y0) or 1.0
    off = [abs((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)) / size for x, y in points]
    furthest = max(range(len(points)), key=off.__getitem__)
    if off[furthest] <= _UNSEEN:
        return [points[0], points[-1]]
    return [*_thinned(points[: furthest + 1])[:-1], *_thinned(points[furthest:])]
