"""Circular hollow sections and pipe."""

from __future__ import annotations

from typing import Final

from mitertool.geometry import Region
from mitertool.geometry.outline import circle, hole
from mitertool.sections.dimension import DIAMETER, WALL, below
from mitertool.sections.lay import BOX_WORDS, alike, box_lines
from mitertool.sections.section import Section, Shape


def round_tube(diameter: float, wall: float) -> Section:
    """A circular hollow section by outside diameter and wall.

    >>> round(mt.round_tube(60, 3).area, 2)
    537.21
    """
    SHAPE.check(diameter=diameter, wall=wall)
    below("dimension.wall", wall, diameter / 2, "limit.half-diameter")
    r = diameter / 2
    region = Region((circle(r, r), hole(circle(r, r - wall))))
    words = (("diameter", diameter), ("wall", wall))
    return Section(f"round tube {diameter:g}x{wall:g}", SHAPE, region, words)


SHAPE: Final = Shape("round-tube", round_tube, (DIAMETER, WALL), alike, BOX_WORDS, box_lines, round=True)
