"""How a section rests on the bed, and the words for the ways it may be laid; knows sections and geometry."""

from __future__ import annotations

from math import pi
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Line
from mitertool.quantity import angle
from mitertool.sections.section import Section

_MARGIN: Final = 0.05
"""Share of the width by which the centroid must lie inside the base: common practice, no source."""

_QUARTERS: Final = (0.0, 90.0, 180.0, 270.0)


def base(section: Section) -> tuple[float, float]:
    """The part of the bed between the section's outermost lowest points, from y to y, mm (equal for a round)."""
    ys = []
    for segment in section.region.segments:
        ends = [segment.start, segment.end]
        if not isinstance(segment, Line) and segment.faces(-pi / 2):
            ends.append(segment.at(-pi / 2))
        ys += [y for y, z in ends if z <= COINCIDENT]
    return min(ys), max(ys)


def lies_safely(section: Section) -> bool:
    """Whether the section stays as laid: its weight stands well inside its base, or every roll looks alike."""
    if section.shape.round:
        return True
    left, right = base(section)
    margin = _MARGIN * section.width
    return left + margin <= section.centroid[0] <= right - margin


def lies_over(section: Section) -> bool:
    """Whether the section may be rolled half a turn from how it was laid: there it stays, or it lies as it did."""
    over = section.lay(180)
    return lies_safely(over) or over.looks_like(section)


def laid_by(section: Section, lay: object) -> Section:
    """`section` laid by degrees (a number, or text such as "90") or by a word such as "heel up".

    Raises `BadInput` with the words that the section has.
    """
    words = section.shape.lays(section)
    key = " ".join(lay.split()).casefold() if isinstance(lay, str) else ""
    if key in words:
        return section.lay(words[key])
    if key and not any(character.isdigit() for character in key):
        known = f"{section.name} may lie {', '.join(words)}" if words else f"{section.name} has no such words"
        raise BadInput("lay", lay, f"{known}, or give degrees such as 90")
    rotation = angle(lay, "lay")
    return section.lay(rotation) if rotation else section


def distinct_lays(section: Section) -> tuple[Section, ...]:
    """The section in every quarter turn and every worded lay, one of each outline (left and right alike)."""
    found: list[Section] = []
    for rotation in (*_QUARTERS, *section.shape.lays(section).values()):
        laid = section.lay(rotation)
        if not any(laid.looks_like(other) or laid.looks_like(other.lay(0, turned=True)) for other in found):
            found.append(laid)
    return tuple(found)
