"""What a drawing consists of besides dimensions: lines, arcs, polygons, text; knows geometry and layers only.

Lengths in mm, y up, angles in degrees counter-clockwise. Every entity answers `under` (itself after a move),
`numbers` (all its numbers) and `extremes` (points whose bounding box is its own).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal

from attrs import field, frozen

from mitertool.drawing.curves import Curve
from mitertool.drawing.layers import TEXT, Layer
from mitertool.drawing.lettering import clean, depth, text_width
from mitertool.drawing.vectors import Point, Similarity, direction, left_of, shifted

Anchor = Literal["left", "center", "right"]
Sits = Literal["baseline", "middle", "top"]

_BEFORE: Final[dict[Anchor, float]] = {"left": 0.0, "center": 0.5, "right": 1.0}
_BELOW: Final[dict[Sits, float]] = {"baseline": 0.0, "middle": 0.5, "top": 1.0}


def _points(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple(points)


@frozen
class Line:
    """A straight line from `a` to `b`."""

    a: Point
    b: Point
    layer: Layer

    def under(self, move: Similarity) -> Line:
        """The line after a move."""
        return Line(move.point(self.a), move.point(self.b), self.layer)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates."""
        return (*self.a, *self.b)

    def extremes(self) -> tuple[Point, ...]:
        """Its ends."""
        return (self.a, self.b)


@frozen
class Arc:
    """An arc of a circle from the angle `start` over `sweep` degrees (below 0: clockwise; 360: a circle)."""

    center: Point
    radius: float
    start: float
    sweep: float
    layer: Layer

    @property
    def curve(self) -> Curve:
        """The arc as a curve."""
        return Curve(self.center, (self.radius, 0.0), (0.0, self.radius), self.start, self.sweep)

    def under(self, move: Similarity) -> Arc:
        """The arc after a move."""
        radius, start = self.radius * move.scale, self.start + move.turn
        return Arc(move.point(self.center), radius, start, self.sweep, self.layer)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates, radius and angles."""
        return (*self.center, self.radius, self.start, self.sweep)

    def extremes(self) -> tuple[Point, ...]:
        """Its ends and the points furthest in x and y."""
        return self.curve.extremes()


@frozen
class EllipseArc:
    """An arc of an ellipse with the half axis `major` (a vector) and the other `ratio` times as long (to 1).

    `start` and `sweep` are the ellipse parameter in degrees, counter-clockwise from the major axis (not the
    angle at the center); sweep 360 is the whole ellipse.
    """

    center: Point
    major: Point
    ratio: float
    start: float
    sweep: float
    layer: Layer

    @property
    def minor(self) -> Point:
        """The short half axis, a quarter turn to the left of the major one."""
        x, y = left_of(self.major)
        return (self.ratio * x, self.ratio * y)

    @property
    def curve(self) -> Curve:
        """The arc as a curve."""
        return Curve(self.center, self.major, self.minor, self.start, self.sweep)

    def under(self, move: Similarity) -> EllipseArc:
        """The arc after a move."""
        center, major = move.point(self.center), move.vector(self.major)
        return EllipseArc(center, major, self.ratio, self.start, self.sweep, self.layer)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates, ratio and angles."""
        return (*self.center, *self.major, self.ratio, self.start, self.sweep)

    def extremes(self) -> tuple[Point, ...]:
        """Its ends and the points furthest in x and y."""
        return self.curve.extremes()


@frozen
class Polygon:
    """A closed outline through three or more `points`, filled with the grey `fill`: 0 black, 1 white."""

    points: tuple[Point, ...] = field(converter=_points)
    layer: Layer
    fill: float | None = None

    def under(self, move: Similarity) -> Polygon:
        """The polygon after a move."""
        return Polygon(map(move.point, self.points), self.layer, self.fill)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates and grey level."""
        flat = [number for point in self.points for number in point]
        return tuple(flat) if self.fill is None else (*flat, self.fill)

    def extremes(self) -> tuple[Point, ...]:
        """Its corners."""
        return self.points


@frozen
class Polyline:
    """A line through two or more `points`, open."""

    points: tuple[Point, ...] = field(converter=_points)
    layer: Layer

    def under(self, move: Similarity) -> Polyline:
        """The line after a move."""
        return Polyline(map(move.point, self.points), self.layer)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates."""
        return tuple(number for point in self.points for number in point)

    def extremes(self) -> tuple[Point, ...]:
        """Its points."""
        return self.points


@frozen
class Text:
    """One line of lettering `height` mm high (its capitals), on paper: moves turn it but never enlarge it.

    `anchor` and `sits` say which point of the text `at` is: along it, and its baseline, the middle or the top
    of its capitals. Characters that cannot be printed become spaces.
    """

    at: Point
    says: str = field(converter=clean)
    height: float
    anchor: Anchor = "left"
    sits: Sits = "baseline"
    turn: float = 0.0
    bold: bool = False
    layer: Layer = TEXT

    @property
    def width(self) -> float:
        """Its length, mm."""
        return text_width(self.says, self.height, self.bold)

    @property
    def origin(self) -> Point:
        """The left end of its baseline."""
        u = direction(self.turn)
        start = shifted(self.at, u, -_BEFORE[self.anchor] * self.width)
        return shifted(start, left_of(u), -_BELOW[self.sits] * self.height)

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its box from the depth of a descender to a capital's top, lower left corner first and round."""
        width, u = self.width, direction(self.turn)
        left, base = -_BEFORE[self.anchor] * width, -_BELOW[self.sits] * self.height
        low, high, up = base - depth(self.height), base + self.height, left_of(u)
        start, end = shifted(self.at, u, left), shifted(self.at, u, left + width)
        return (shifted(start, up, low), shifted(end, up, low), shifted(end, up, high), shifted(start, up, high))

    def under(self, move: Similarity) -> Text:
        """The text after a move, as high as before."""
        at, turn = move.point(self.at), self.turn + move.turn
        return Text(at, self.says, self.height, self.anchor, self.sits, turn, self.bold, self.layer)

    def numbers(self) -> tuple[float, ...]:
        """Its place, height and turn."""
        return (*self.at, self.height, self.turn)

    def extremes(self) -> tuple[Point, ...]:
        """The corners of its box."""
        return self.corners


Primitive = Line | Arc | EllipseArc | Polygon | Polyline | Text
