"""What no entity of a drawing may hold; knows the entities and the error for bad input."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.drawing.dimensions import AngleDimension, Dimension
from mitertool.drawing.entities import Arc, EllipseArc, Line, Polygon, Polyline, Primitive, Text
from mitertool.words import phrase

Entity = Primitive | Dimension | AngleDimension

_Rule = tuple[str, Callable[[Any], object], Callable[[Any], bool], str]
"""What is held to it, by its code; its value; whether that holds; what is allowed, by its case."""

_HEIGHT: Final[_Rule] = ("height", lambda e: e.height, lambda e: e.height > 0, "positive")
_RADIUS: Final[_Rule] = ("radius", lambda e: e.radius, lambda e: e.radius > 0, "positive")
_SWEEP: Final[_Rule] = ("sweep", lambda e: e.sweep, lambda e: abs(e.sweep) <= 360, "sweep")
_RATIO: Final[_Rule] = ("ratio", lambda e: e.ratio, lambda e: 0 < e.ratio <= 1, "ratio")
_AXIS: Final[_Rule] = ("axis", lambda e: e.major, lambda e: e.major != (0, 0), "axis")
_CORNERS: Final[_Rule] = ("corners", lambda e: len(e.points), lambda e: len(e.points) >= 3, "corners")
_ENDS: Final[_Rule] = ("points", lambda e: len(e.points), lambda e: len(e.points) >= 2, "ends")
_APART: Final[_Rule] = (
    "points",
    lambda e: e.a,
    lambda e: e.along is not None or e.a != e.b,
    "direction",
)

_RULES: Final[dict[type, tuple[_Rule, ...]]] = {
    Line: (),
    Arc: (_RADIUS, _SWEEP),
    EllipseArc: (_AXIS, _RATIO, _SWEEP),
    Polygon: (_CORNERS,),
    Polyline: (_ENDS,),
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
            where = phrase("drawing.entity-size", entity=kind.__name__, size=phrase(f"drawing.{what}"))
            raise BadInput(where, found(entity), phrase(f"drawing.is/{allowed}"))


def refuse_endless(entity: Entity) -> None:
    """Raise `BadInput` where a number of `entity` is not finite."""
    numbers = entity.numbers()
    if not all(map(math.isfinite, numbers)):
        bad = next(number for number in numbers if not math.isfinite(number))
        raise BadInput(phrase("drawing.entity", entity=type(entity).__name__), bad, phrase("drawing.is/finite"))
