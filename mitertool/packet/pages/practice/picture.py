"""The picture of an exercise: before the answer what lies in the vise, after it the saw or the piece; knows views."""

from __future__ import annotations

from typing import Final

from mitertool.drawing import Drawing, Text
from mitertool.packet.pages.setting.blade_view import blade_view
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.pages.setting.vise_view import vise_view
from mitertool.packet.pages.sketch.two_views import views
from mitertool.practice import Exercise
from mitertool.quantity import Units
from mitertool.words import phrase

_SIDES: Final = 2.5
"""mm, lettering of the jaws."""

_OF_PIECE: Final = ("long", "key", "stop")
"""Kinds whose answer is seen on the piece."""


def before(exercise: Exercise, width: float, height: float) -> Drawing:
    """The bar between the jaws, as whoever is asked sees it; in a box that stands on (0, 0), its lettering below."""
    sides = [
        Text((2, -1.2), phrase("jaw.fixed"), _SIDES, "left", "top"),
        Text((width - 2, -1.2), phrase("jaw.moving"), _SIDES, "right", "top"),
    ]
    return vise_view(exercise.reach.section, width, height) + Drawing(sides)


def after(exercise: Exercise, width: float, height: float, units: Units) -> Drawing:
    """What shows the answer, its lower left corner at (0, 0): the piece from above, the blade, or the saw in plan."""
    if exercise.kind in _OF_PIECE and exercise.piece is not None:
        return _on_zero(_piece(exercise, width, units))
    if exercise.kind == "guide" and exercise.reach.passage is not None:
        return _on_zero(blade_view(exercise.reach, width, height * 0.8))
    return _on_zero(plan_view(exercise.reach, width, height))


def _piece(exercise: Exercise, width: float, units: Units) -> Drawing:
    """The piece from above with its sizes, made smaller until it is as wide as its box with their lettering."""
    assert exercise.piece is not None
    k = max(exercise.piece.overall / width, exercise.piece.section.width / _ACROSS)
    found = views(exercise.piece, k, units)[0]
    while _wide(found) > width and k < exercise.piece.overall / _SHORTEST:
        k *= _SMALLER
        found = views(exercise.piece, k, units)[0]
    return found


_ACROSS: Final = 12.0
_SHORTEST: Final = 20.0
"""Paper mm: how wide across a piece is drawn at the most, and how long at the least."""

_SMALLER: Final = 1.15


def _wide(drawing: Drawing) -> float:
    x0, _, x1, _ = extent(drawing)
    return x1 - x0


def extent(drawing: Drawing) -> tuple[float, float, float, float]:
    """The box of a drawing with all of its lettering."""
    corners = [corner for box in drawing.text_boxes() for corner in box.corners]
    x0, y0, x1, y1 = drawing.bounds()
    xs, ys = [x0, x1, *(x for x, _ in corners)], [y0, y1, *(y for _, y in corners)]
    return min(xs), min(ys), max(xs), max(ys)


def _on_zero(drawing: Drawing) -> Drawing:
    x, y, _, _ = extent(drawing)
    return drawing.moved(-x, -y)
