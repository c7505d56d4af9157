"""Top and front view of a mark with true lengths and angles, for its sketch; knows views.

`k` is mm of steel for one mm on paper. The drawings are in paper mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, Literal

import attrs

from mitertool.cut import Cut
from mitertool.drawing import CENTER, DIMENSION, AngleDimension, Dimension, Drawing, Line, Point, Text
from mitertool.drawing.vectors import Similarity
from mitertool.packet.paper.views import extreme_places, front_view, top_view, x_left, x_right
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark, place_of
from mitertool.quantity import Units, show_angle, show_length
from mitertool.sections import Section
from mitertool.words import phrase

LETTERS: Final = 3.5
"""mm, lettering of a sketch: printed one size smaller it still has the 2.5 mm of ISO 3098."""

CAPTION: Final = 3.5

_SAME: Final = 1e-6
"""mm and degrees. What differs by less is one value on paper."""

_CLEAR: Final = 9.0
"""mm from the outline to the first dimension line where no angle stands between."""

_CLEAR_OF_ANGLE: Final = 20.0
"""mm from the outline to the first dimension line above an angle: its radius, its text and room."""

_NEXT: Final = 9.0
"""mm from one dimension line to the next."""

_ANGLE: Final = 12.0
"""mm, radius of the arc of an angle."""

_FURTHER: Final = 10.0
"""mm that the angle of each further cut of an end lies outside that of the one before: both stand at one tip."""

_TICK: Final = 2.5
"""mm of a stroke to either side of the edge that it marks."""

_OVER: Final = 2.0
"""mm that a center line and the sides of an angle run past what they belong to."""

Level = Literal[0, 1]
"""What goes up the picture: 0 the way across the bed (y), 1 the height above it (z)."""


@attrs.frozen
class _View:
    """A piece as one view shows it: `across` is its size up the picture, mm of steel."""

    piece: Piece
    k: float
    units: Units
    level: Level

    @property
    def across(self) -> float:
        section = self.piece.section
        return section.height if self.level else section.width

    def at(self, x: float, place: Point) -> Point:
        """The point on paper of x along the bar at a place (y, z)."""
        return (x / self.k, place[self.level] / self.k)

    def true_angle(self, cut: Cut) -> float:
        """The angle that shows true here: the miter from above, the bevel of a cut without miter from the front."""
        if self.level == 0:
            return cut.miter
        return cut.bevel if abs(cut.miter) < _SAME else 0.0


def views(piece: Piece, k: float, units: Units, places: Sequence[PieceMark] = ()) -> tuple[Drawing, Drawing]:
    """The top view and the front view, the bar's lower left corner of each at (0, 0), with what is marked along it."""
    above, front = _View(piece, k, units, 0), _View(piece, k, units, 1)
    lengths_in_front = abs(piece.p) < _SAME < abs(piece.q)
    top = top_view(piece) + Drawing(_ticks(above, places))
    low = front_view(piece) + Drawing(_ticks(front, places))
    return (
        _drawn(above, top, phrase("sketch.top-view"), not lengths_in_front),
        _drawn(front, low, phrase("sketch.front-view"), lengths_in_front),
    )


def _ticks(view: _View, places: Sequence[PieceMark]) -> Iterator[Line]:
    """A stroke at each place along the sides that this view shows as edges, a cross for a hole; mm of steel."""
    long = _TICK * view.k
    for one in places:
        if (one.side in ("fixed", "moving")) != (view.level == 0):
            continue
        place = place_of(view.piece, one.side)
        x, y = x_left(view.piece, *place) + one.from_left(view.piece), place[view.level]
        yield Line((x, y - long), (x, y + long), CENTER)
        if not one.what:
            yield Line((x - long, y), (x + long, y), CENTER)


def caption(says: str, view: Drawing, x: float) -> Drawing:
    """The view with its name below it, starting at x."""
    return view + Drawing([Text((x, view.bounds()[1] - 3 - CAPTION), says, CAPTION)])


def center_lines(section: Section, k: float, over: float = _OVER) -> Drawing:
    """The cross of center lines of a round section, its lower left corner at (0, 0); nothing for any other."""
    if not section.shape.round:
        return Drawing()
    y, z = section.width / 2 / k, section.height / 2 / k
    cross = [Line((-over, z), (2 * y + over, z), CENTER), Line((y, -over), (y, 2 * z + over), CENTER)]
    return Drawing(cross)


def _drawn(view: _View, outline: Drawing, name: str, lengths: bool) -> Drawing:
    drawing = outline.scaled(1 / view.k) + Drawing(_axis(view))
    angles = list(_angles(view))
    found = [*_lengths(view, _sides_with_angles(view))] if lengths else []
    drawing += Drawing([*found, *angles])
    return caption(name, drawing, _left_tip(view))


def _left_tip(view: _View) -> float:
    return -view.piece.end_roof("left").highest / view.k


def _axis(view: _View) -> Iterator[Line]:
    piece = view.piece
    if piece.section.shape.round:
        middle = (piece.section.width / 2, piece.section.height / 2)
        a, b = view.at(x_left(piece, *middle), middle), view.at(x_right(piece, *middle), middle)
        left = _left_tip(view) - _OVER
        right = left + piece.overall / view.k + 2 * _OVER
        yield Line((left, a[1]), (right, b[1]), CENTER)


def _told_angles(view: _View) -> Iterator[tuple[float, float, Point, float]]:
    """Each angle that shows true, which way its end faces along the bar, its tip (y, z), and the radius of its arc.

    That of a further cut only where it shares the tip of the first: elsewhere they would cross.
    """
    piece = view.piece
    for end, way in (("left", -1.0), ("right", 1.0)):
        facets = piece.end_roof(end).facets
        shared = facets[0].highest_point[view.level]
        for i, (cut, facet) in enumerate(zip(piece.cuts(end), facets, strict=True)):
            angle, tip = view.true_angle(cut), facet.highest_point
            if abs(angle) >= _SAME and abs(tip[view.level] - shared) < _SAME:
                yield angle, way, tip, _ANGLE + i * _FURTHER


def _sides_with_angles(view: _View) -> set[float]:
    """Above (1) or below (-1) the bar, where an angle stands at a tip."""
    return {1.0 if angle > 0 else -1.0 for angle, *_ in _told_angles(view)}


def _angles(view: _View) -> Iterator[Line | AngleDimension]:
    """At each tip the angle between the square and the cut, both drawn on beyond the bar."""
    for angle, way, tip, radius in _told_angles(view):
        x = x_left(view.piece, *tip) if way < 0 else x_right(view.piece, *tip)
        up = 90.0 if angle > 0 else -90.0
        yield from _angle(view.at(x, tip), up, -way * angle, radius, show_angle(abs(angle)))


def _angle(tip: Point, square: float, sweep: float, radius: float, says: str) -> Iterator[Line | AngleDimension]:
    for direction in (square, square + sweep):
        side = Line((1.0, 0.0), (radius + _OVER, 0.0), DIMENSION)
        yield side.under(Similarity(turn=direction)).under(Similarity(shift=tip))
    yield AngleDimension(tip, square, sweep, radius, says, LETTERS)


def _lengths(view: _View, angles: set[float]) -> Iterator[Dimension]:
    """Long point, and short point and overall where they differ, each side's first one clear of its angles."""
    piece, units = view.piece, view.units
    long_place, short_place = extreme_places(piece)
    far = 1.0 if long_place[view.level] * 2 >= view.across else -1.0
    yield _along(
        view, long_place, phrase("sketch.long-point", length=show_length(piece.long_point, units)), far, 0, angles
    )
    short = piece.long_point - piece.short_point > _SAME
    if short:
        says = phrase("sketch.short-point", length=show_length(piece.short_point, units))
        yield _along(view, short_place, says, -far, 0, angles)
    if piece.overall - piece.long_point > _SAME:
        yield _overall(view, -far, int(short), angles)


def _along(view: _View, place: Point, says: str, side: float, before: int, angles: set[float]) -> Dimension:
    piece = view.piece
    ends = view.at(x_left(piece, *place), place), view.at(x_right(piece, *place), place)
    return _level(view, ends, says, side, before, angles)


def _overall(view: _View, side: float, before: int, angles: set[float]) -> Dimension:
    left, right = (view.piece.end_roof(end).highest_point for end in ("left", "right"))
    ends = view.at(x_left(view.piece, *left), left), view.at(x_right(view.piece, *right), right)
    return _level(
        view, ends, phrase("sketch.overall", length=show_length(view.piece.overall, view.units)), side, before, angles
    )


def _level(
    view: _View, ends: tuple[Point, Point], says: str, side: float, before: int, angles: set[float]
) -> Dimension:
    """A level dimension above (1) or below (-1) the bar, outside those `before` it."""
    a, b = ends
    room = view.across / view.k - a[1] if side > 0 else a[1]
    more = max(len(view.piece.left_further), len(view.piece.right_further)) * _FURTHER
    offset = room + (_CLEAR_OF_ANGLE + more if side in angles else _CLEAR) + _NEXT * before
    return Dimension(a, b, side * offset, says, LETTERS, along=0.0)
