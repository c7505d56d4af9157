"""What no entity of a drawing may hold; knows the entities and the error for bad input."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Primitive, Text

Entity = Primitive | Dimension | AngleDimension

_Rule = tuple[str, Callable[[Any], object], Callable[[Any], bool], str]

_HEIGHT: Final[_Rule] = ("height", lambda e: e.height, lambda e: e.height > 0, "it is more than 0 mm")
_RADIUS: Final[_Rule] = ("radius", lambda e: e.radius, lambda e: e.radius > 0, "it is more than 0 mm")
_SWEEP: Final[_Rule] = ("sweep", lambda e: e.sweep, lambda e: abs(e.sweep) <= 360, "it is within 360 degrees")
_RATIO: Final[_Rule] = ("ratio", lambda e: e.ratio, lambda e: 0 < e.ratio <= 1, "it is above 0, up to 1")
_AXIS: Final[_Rule] = ("major axis", lambda e: e.major, lambda e: e.major != (0, 0), "it has a length")
_CORNERS: Final[_Rule] = ("corners", lambda e: len(e.points), lambda e: len(e.points) >= 3, "three or more")
_APART: Final[_Rule] = (
    "points",
    lambda e: e.a,
    lambda e: e.along is not None or e.a != e.b,
    "two equal points need a direction",
)

_RULES: Final[dict[type, tuple[_Rule, ...]]] = {
    Line: (),
    Arc: (_RADIUS, _SWEEP),
    EllipseArc: (_AXIS, _RATIO, _SWEEP),
    Polygon: (_CORNERS,),
    Text: (_HEIGHT,),
    Dimension: (_HEIGHT, _APART),
    AngleDimension: (_HEIGHT, _RADIUS, _SWEEP),
}


def refuse_bad(entity: Entity) -> None:
    """Raise `BadInput` where a number of `entity` is not finite, or a size is none that can be drawn."""
    refuse_endless(entity)
    kind = type(entity)
    for what, found, holds, allowed in _RULES[kind]:
        if not holds(entity):
            raise BadInput(f"drawing, {kind.__name__}, {what}", found(entity), allowed)


def refuse_endless(entity: Entity) -> None:
    """Raise `BadInput` where a number of `entity` is not finite."""
    numbers = entity.numbers()
    if math.isfinite(sum(numbers)):
        return
    bad = next((number for number in numbers if not math.isfinite(number)), None)
    if bad is not None:
        raise BadInput(f"drawing, {type(entity).__name__}", bad, "its coordinates and sizes are finite numbers")
