"""The letters that a drawing of a setting and its list share, and where they stand; knows drawing. Paper mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, pi, sin
from typing import Final

import attrs

from mitertool.drawing import AngleDimension, Dimension, Drawing, Entity, Point, Text
from mitertool.drawing.vectors import direction, shifted
from mitertool.packet.clear import first_clear, strokes

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
    """A dimension line or the arc of an angle without a number, and the letter that stands beside it."""

    letter: str
    line: Dimension | AngleDimension

    @property
    def middle(self) -> Point:
        """The middle of the dimension line or arc."""
        if isinstance(self.line, AngleDimension):
            return shifted(self.line.apex, direction(self.line.start + self.line.sweep / 2), self.line.radius)
        (x0, y0), (x1, y1) = self.line.feet
        return (x0 + x1) / 2, (y0 + y1) / 2


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

    Where nothing is clear about a line, its letter stands at its middle all the same.
    """
    found = list(lettered)
    lines: list[Entity] = [one.line for one in found]
    whole = drawing + Drawing(lines)
    edges, taken = list(strokes(whole)), list(names)
    for one in found:
        places = list(_about(one))
        taken.append(first_clear(places, edges, taken) or places[0])
    return whole + Drawing(taken)


_RINGS: Final = (2.6, 3.6, 4.8, 6.2, 8.0, 10.5, 13.5)
"""mm from the middle of a line to its letter, nearest first."""

_WAYS: Final = 12


def _about(one: Lettered) -> Iterator[Text]:
    x, y = one.middle
    for ring in _RINGS:
        for way in range(_WAYS):
            turn = 2 * pi * way / _WAYS + pi / 2
            yield Text((x + ring * cos(turn), y + ring * sin(turn)), one.letter, LETTER, "center", "middle")
