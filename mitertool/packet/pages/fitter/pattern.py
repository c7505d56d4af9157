"""The flat pattern of a hopper's plates: each drawn with what is laid out on it, its outside up; knows leaning marks.

Paper mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, radians
from typing import Final

import attrs

from mitertool.drawing import HIDDEN, OUTLINE, Dimension, Drawing, Entity, Line, Polygon, wrap
from mitertool.frame import Assembly
from mitertool.frame.leaning import Leaning
from mitertool.job import Solution
from mitertool.packet.pages.fitter.marked import told_above
from mitertool.packet.paper.layout import Block, cell
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_LETTERS: Final = 2.8
_PITCH: Final = 4.4
_TALL: Final = 34.0
_ABOVE, _BELOW, _BESIDE = 9.0, 11.0, 15.0
"""mm of the plate as it is drawn, and above, below and beside it for its sizes."""

_ABREAST: Final = 2


@attrs.frozen
class FlatPattern:
    """A plate laid out flat on its outside, symmetrical about its middle, mm: what a rule and a square find on it.

    `set_in` is how far its narrow edge stands in at either end, `side` how long its slanted edges are, `diagonal` from
    corner to corner; `bevel` is by how much those edges lean from square, under, so that the inside is smaller, and
    `level` by how much its long edges would have to, to lie level, degrees; as they are, square, the inner one stands
    `higher` than the outer.
    """

    bottom: float
    top: float
    slant: float
    bevel: float
    level: float
    higher: float

    @classmethod
    def of(cls, one: Leaning) -> FlatPattern:
        """Of a plate that lies with its outside up. Raises `ValueError` for a bar."""
        if one.outside is None:
            raise ValueError(one.mark)
        thick = one.piece.section.height
        return cls(*one.outside, one.slant, abs(one.piece.right.bevel), 90 - one.slope, thick * cos(radians(one.slope)))

    @property
    def set_in(self) -> float:
        """How far the narrow edge stands in at either end."""
        return abs(self.top - self.bottom) / 2

    @property
    def side(self) -> float:
        """How long a slanted edge is."""
        return hypot(self.slant, self.set_in)

    @property
    def diagonal(self) -> float:
        """From a bottom corner to the other top corner."""
        return hypot(self.slant, (self.top + self.bottom) / 2)


def no_saw(assembly: Assembly, solution: Solution) -> bool:
    """Whether the job's saw makes none of a frame's pieces."""
    return set(assembly.order) <= solution.refused


def plates_of(leaning: Sequence[Leaning]) -> list[Leaning]:
    """Those that are plates: a bar has no pattern."""
    return [one for one in leaning if one.outside is not None]


def pattern_says(refused: bool) -> str:
    """What the patterns are for; `refused`: that no saw makes the plates."""
    return " ".join([phrase("frame.pattern"), *([phrase("frame.pattern/no-saw")] if refused else [])])


def plate_says(one: Leaning, units: Units) -> tuple[str, ...]:
    """Of a plate its mark and its blank, and its bevels."""
    plate = FlatPattern.of(one)
    blank = (show_length(max(plate.top, plate.bottom), units), show_length(plate.slant, units))
    set_in, diagonal = (show_length(mm, units) for mm in (plate.set_in, plate.diagonal))
    return (
        phrase("frame.pattern.blank", mark=one.mark, wide=blank[0], high=blank[1], set_in=set_in, diagonal=diagonal),
        phrase("frame.pattern.bevel", bevel=show_angle(plate.bevel)),
        phrase("frame.pattern.level", higher=show_length(plate.higher, units), level=show_angle(plate.level)),
    )


def plate_drawing(one: Leaning, units: Units, width: float) -> Drawing:
    """A plate upright on its bottom edge about x = 0 with its sizes, within a width."""
    plate = FlatPattern.of(one)
    return Drawing(_sized(plate, units, _scale(plate, width)))


def _scale(plate: FlatPattern, width: float) -> float:
    return min((width - 2 * _BESIDE) / max(plate.top, plate.bottom), _TALL / plate.slant)


def pattern_blocks(leaning: Sequence[Leaning], units: Units, width: float, refused: bool) -> Iterator[Block]:
    """The patterns of all plates, two beside each other, below what they mean; nothing of bars.

    `refused`: the saw makes none of them, so that they are cut out by their pattern.
    """
    plates = plates_of(leaning)
    if not plates:
        return
    yield from told_above(pattern_says(refused), width)
    for i in range(0, len(plates), _ABREAST):
        yield _row(plates[i : i + _ABREAST], units, width / _ABREAST)


def _row(plates: Sequence[Leaning], units: Units, each: float) -> Block:
    made = [_plate(one, units, each - 4.0) for one in plates]
    tall = max(height for _, height in made)
    drawings = (drawing.moved(i * each, 0) for i, (drawing, _) in enumerate(made))
    return Block(tall, sum(drawings, Drawing(())), gap=1.5)


def _plate(one: Leaning, units: Units, width: float) -> tuple[Drawing, float]:
    """A plate hanging from (0, 0) with its sizes, and in words below it its mark, its blank and its bevels."""
    plate = FlatPattern.of(one)
    tall = plate.slant * _scale(plate, width)
    drawn = plate_drawing(one, units, width).moved(width / 2, -_ABOVE - tall)
    low = _ABOVE + tall + _BELOW
    says = plate_says(one, units)
    lines = [(line, not i) for i, sentence in enumerate(says) for line in wrap(sentence, width, _LETTERS, not i)]
    texts = [
        cell(line, (0, -low - _PITCH * (i + 1) + 1), width, _LETTERS, bold=bold) for i, (line, bold) in enumerate(lines)
    ]
    return drawn + Drawing(texts), low + _PITCH * len(lines)


def _sized(plate: FlatPattern, units: Units, k: float) -> Iterator[Entity]:
    """The plate upright on its bottom edge, about x = 0, with its dimensions."""
    b, t, h = plate.bottom * k / 2, plate.top * k / 2, plate.slant * k
    yield Polygon([(-b, 0), (b, 0), (t, h), (-t, h)], OUTLINE, 0.93)
    yield Line((-b, 0), (t, h), HIDDEN)
    yield Dimension((-b, 0), (b, 0), -8.0, show_length(plate.bottom, units), _LETTERS, 0.0)
    yield Dimension((-t, h), (t, h), 5.0, show_length(plate.top, units), _LETTERS, 0.0)
    wide = max(b, t)
    yield Dimension((-wide, 0), (-wide, h), 5.0, show_length(plate.slant, units), _LETTERS, 90.0)
    yield Dimension((b, 0), (t, h), -5.0, show_length(plate.side, units), _LETTERS)
