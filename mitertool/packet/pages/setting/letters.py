"""The letters that a drawing of a setting and its list share, and where they stand; knows drawing. Paper mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from math import copysign, cos, hypot, inf, pi, sin
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import AngleDimension, Arc, Dimension, Drawing, Line, Point, Text, text_width
from mitertool.drawing.vectors import direction, dot, left_of, reverse, shifted, to, unit
from mitertool.packet.paper.clear import Edge, first_clear, is_clear, strokes

SWING: Final = "A"
GUIDE: Final = "C"
GAP: Final = "D"
LIFT: Final = "E"
STOP: Final = "F"
TRAVEL: Final = "G"
HEIGHT: Final = "H"
LONGEST: Final = "L"
MEAN: Final = "M"
PACKING: Final = "P"
TILT: Final = "T"
WIDTH: Final = "W"

LETTER: Final = 3.2
"""mm, height of a letter in a drawing."""


def back(number: int) -> str:
    """The letter of the set-back of an obstacle, by its place in the saw file, counted from 1."""
    return f"B{number}"


@attrs.frozen
class Lettered:
    """A dimension line or the arc of an angle without a number, and the letter that stands beside it.

    Where `at` is given the letter stands there: whoever gives it knows that it is clear.
    """

    letter: str
    line: Dimension | AngleDimension
    at: Point | None = None

    def along(self, share: float) -> Point:
        """The point at a share of the dimension line or arc: its middle at a half."""
        if isinstance(self.line, AngleDimension):
            turn = direction(self.line.start + self.line.sweep * share)
            return shifted(self.line.apex, turn, self.line.radius)
        start, end = self.line.feet
        return shifted(start, to(start, end), share)

    @property
    def middle(self) -> Point:
        """The middle of the dimension line or arc."""
        return self.along(0.5)

    @cached_property
    def stroke(self) -> tuple[Edge, ...]:
        """The dimension line or arc as it is drawn, without extension lines and arrowheads."""
        parts = [part for part in Drawing([self.line]).primitives() if isinstance(part, Line | Arc)]
        return tuple(strokes(Drawing(parts[-1:])))

    @property
    def ends(self) -> Edge:
        """The ends of that stroke."""
        edges = self.stroke
        return edges[0][0], edges[-1][1]


def level(letter: str, a: Point, b: Point, offset: float) -> Lettered:
    """A level dimension line between two points."""
    return Lettered(letter, Dimension(a, b, offset, "", LETTER, along=0.0))


def upright(letter: str, a: Point, b: Point, offset: float) -> Lettered:
    """An upright dimension line between two points."""
    return Lettered(letter, Dimension(a, b, offset, "", LETTER, along=90.0))


def angle(letter: str, apex: Point, start: float, sweep: float, radius: float) -> Lettered:
    """The arc of an angle."""
    return Lettered(letter, AngleDimension(apex, start, sweep, radius, "", LETTER))


def with_letters(drawing: Drawing, lettered: Iterable[Lettered], names: Iterable[Text] = ()) -> Drawing:
    """A drawing with dimension lines, and each letter level where it stands clear of every line and of all `names`.

    Where nothing is clear about a line, its letter stands beside its middle all the same.
    """
    found, taken = list(lettered), list(names)
    whole = drawing + Drawing(one.line for one in found)
    edges = list(strokes(whole))
    for one in found:
        places = [_text(one, place) for place in ([one.at] if one.at else _about(one))]
        plain = _plain(one, found, edges, taken)
        taken.append(plain or first_clear(places, edges, taken) or places[0])
    return whole + Drawing(taken)


def plainest(
    drawing: Drawing, lettered: Sequence[Lettered], choices: Iterable[Lettered], names: Sequence[Text]
) -> Lettered:
    """The first of some ways to draw one more measure by which its letter is plain to read; else the first of all."""
    tried = list(choices)
    base = list(strokes(drawing + Drawing(one.line for one in lettered)))
    taken = [*names, *(_text(one, one.at) for one in lettered if one.at)]
    for one in tried:
        edges = [*base, *strokes(Drawing([one.line]))]
        if _plain(one, [*lettered, one], edges, taken):
            return one
    return tried[0]


def _plain(one: Lettered, found: Sequence[Lettered], edges: Sequence[Edge], taken: Sequence[Text]) -> Text | None:
    """The letter where it is clear and plainly nearer to its own line than to another."""
    if one.at:
        return _text(one, one.at)
    others = [edge for other in found if other is not one for edge in other.stroke]
    for place in _about(one):
        own = _from(place, one.stroke)
        if own <= _FAR and own + _NEARER <= _from(place, others):
            text = _text(one, place)
            if is_clear(text, edges, taken):
                return text
    return None


_FAR: Final = 8.0
"""mm from its line at which a letter is no longer plainly beside it."""

_NEARER: Final = 1.0
"""mm that a letter is nearer to its own line than to any other dimension line."""

_OFF: Final = 3.3
"""mm from a line to the middle of a letter above or below it."""

_BESIDE: Final = 1.0
"""mm from the end of a line to a letter."""

_RINGS: Final = (2.6, 3.6, 4.8, 6.2, 8.0, 10.5, 13.5, 17.0)
"""mm from the middle of a line, or of one of its halves, to its letter, nearest first."""

_WAYS: Final = 12


def _from(point: Point, edges: Iterable[Edge]) -> float:
    return min((_apart(point, edge) for edge in edges), default=inf)


def _apart(point: Point, edge: Edge) -> float:
    """How far a point is from a straight line between two ends."""
    along, out = to(*edge), to(edge[0], point)
    share = min(1.0, max(0.0, dot(out, along) / (dot(along, along) or 1.0)))
    return hypot(out[0] - share * along[0], out[1] - share * along[1])


def _text(one: Lettered, at: Point) -> Text:
    return Text(at, one.letter, LETTER, "center", "middle")


def _about(one: Lettered) -> Iterator[Point]:
    """Where the letter may stand, best first."""
    yield from _along_arc(one, one.line) if isinstance(one.line, AngleDimension) else _along_line(one, one.line)
    about = [one.along(share) for share in (0.5, 0.25, 0.75)]
    yield from ((x + r * cos(turn), y + r * sin(turn)) for r in _RINGS for x, y in about for turn in _TURNS)


_TURNS: Final = tuple(2 * pi * way / _WAYS + pi / 2 for way in range(_WAYS))


def _along_line(one: Lettered, line: Dimension) -> Iterator[Point]:
    """A level line has its letter above it, an upright one at its right; else on the other side, or past an end."""
    (start, end), middle, quarter = one.ends, one.middle, line.measured / 4
    u = unit(to(start, end))
    off, past = _off(one.letter, left_of(u)), _off(one.letter, u)
    side = copysign(1.0, summed(left_of(u)))
    for way in (side, -side):
        yield from (shifted(shifted(middle, u, step), left_of(u), way * off) for step in (0.0, quarter, -quarter))
    yield from (shifted(end, u, past), shifted(start, u, -past))


def _along_arc(one: Lettered, arc: AngleDimension) -> Iterator[Point]:
    """Outside the arc, past its ends, or inside it."""
    out = direction(arc.start + arc.sweep / 2)
    way = left_of(out) if arc.sweep > 0 else reverse(left_of(out))
    (start, end), past = one.ends, _off(one.letter, way)
    off, quarter = _off(one.letter, out), arc.length / 4
    yield from (shifted(one.middle, out, off), shifted(end, way, past), shifted(start, way, -past))
    for side in (off, -off):
        yield from (shifted(shifted(one.middle, way, step), out, side) for step in (0.0, quarter, -quarter))


def _off(letter: str, way: Point) -> float:
    """How far the middle of a letter stands from a line or end, in a direction."""
    return abs(way[1]) * _OFF + abs(way[0]) * (_BESIDE + text_width(letter, LETTER) / 2)
