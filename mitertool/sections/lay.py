"""How a section rests on the bed; knows sections and geometry."""

from __future__ import annotations

from typing import Final

from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Line
from mitertool.sections.section import Section

_MARGIN: Final = 0.05
"""Share of the width by which the centroid must lie inside the base: common practice, no source."""


def base(section: Section) -> tuple[float, float]:
    """The part of the bed under the section's lowest points, from y to y, mm (equal for a round)."""
    ys = []
    for segment in section.region.segments:
        ends = [segment.start, segment.end]
        if not isinstance(segment, Line) and segment.faces(-1.5707963267948966):
            ends.append(segment.at(-1.5707963267948966))
        ys += [y for y, z in ends if z <= COINCIDENT]
    return min(ys), max(ys)


def lies_safely(section: Section) -> bool:
    """Whether the section stays as laid: its weight stands well inside its base, or every roll looks alike."""
    if {"quarter-turn", "diagonal"} <= section.symmetry and section.shape.startswith("round"):
        return True
    left, right = base(section)
    margin = _MARGIN * section.width
    return left + margin <= section.centroid[0] <= right - margin
