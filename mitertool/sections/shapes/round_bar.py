"""Solid rounds."""

from __future__ import annotations

from typing import Final

from mitertool.geometry import Region
from mitertool.geometry.outline import circle
from mitertool.sections.dimension import DIAMETER
from mitertool.sections.lay import BOX_WORDS, alike, box_lines
from mitertool.sections.section import Section, Shape


def round_bar(diameter: float) -> Section:
    """A solid round.

    >>> round(mt.round_bar(50).area, 1)
    1963.5
    """
    SHAPE.check(diameter=diameter)
    region = Region((circle(diameter / 2, diameter / 2),))
    return Section(f"round bar {diameter:g}", SHAPE, region, (("diameter", diameter),))


SHAPE: Final = Shape("round-bar", round_bar, (DIAMETER,), alike, BOX_WORDS, box_lines, solid=True, round=True)
