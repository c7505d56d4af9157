"""Flat and square bar."""

from __future__ import annotations

from typing import Final

from mitertool.geometry import Region
from mitertool.geometry.outline import box
from mitertool.sections.dimension import HEIGHT, WIDTH
from mitertool.sections.lay import BOX_WORDS, box_lines, on_a_side
from mitertool.sections.section import Section, Shape


def flat(width: float, height: float) -> Section:
    """A solid rectangle with sharp edges: flat or square bar, lying on its width.

    >>> mt.flat(80, 12).area
    960.0
    """
    SHAPE.check(width=width, height=height)
    region = Region((box(0, 0, width, height, 0.0),))
    return Section(f"flat {width:g}x{height:g}", SHAPE, region, (("width", width), ("height", height)))


SHAPE: Final = Shape("flat", flat, (WIDTH, HEIGHT), on_a_side, BOX_WORDS, box_lines, solid=True, either_way=True)
