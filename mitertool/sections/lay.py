"""How a section rests on the bed, and the words for the ways it may be laid; knows sections and geometry."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Line
from mitertool.quantity import angle, show_angle
from mitertool.sections.section import Section
from mitertool.words import phrase

_MARGIN: Final = 0.05
"""Share of the width by which the centroid must lie inside the base: common practice, no source."""

BOX_WORDS: Final = ("outside", "centerline", "inside")

_SHARES: Final = dict(zip(BOX_WORDS, (0.0, 0.5, 1.0), strict=True))
"""Share of the width that lies outside the measured line."""

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
        known = phrase("refuse.lays" if words else "refuse.no-lays", section=section.name, lays=", ".join(words))
        raise BadInput("lay", lay, known)
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


def box_lines(section: Section) -> Mapping[str, float]:
    """The two sides of the section's box and the middle between, as a tape finds them on a section with two sides."""
    return {word: share * section.width for word, share in _SHARES.items()}


def sides(section: Section) -> dict[str, float]:
    """The two sides of the section's box alone, of one that has no centerline that a tape could find."""
    return {"outside": 0.0, "inside": section.width}


def on_a_side(section: Section) -> str:
    """Which side lies on the bed, of a section with two unequal ones."""
    if section.quarter is None:
        return rolled(section)
    if section.width == section.height:
        return ""
    return phrase("lies.wide" if section.width > section.height else "lies.narrow")


def alike(section: Section) -> str:
    """Nothing, as long as it lies on one of its four sides, and of one that looks alike however it is rolled."""
    return rolled(section) if section.quarter is None and not section.shape.round else ""


def rolled(section: Section) -> str:
    """How far it is rolled out of the lay in which the catalogue gives it, the short way."""
    turn = (section.rotation + 180.0) % 360.0 - 180.0
    return phrase("lies.rolled-to-fixed" if turn > 0 else "lies.rolled-to-moving", angle=show_angle(abs(turn)))


def refuse_lay(section: Section) -> None:
    """Refuse a section that is laid already where the words of a frame say how it lies."""
    if section.rotation or section.turned:
        raise BadInput("lay", f"{section.rotation:g}", phrase("refuse.lay-and-words", section=section.name))
