"""How sections lie, in the words that several shapes share; knows sections."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.quantity import show_angle
from mitertool.sections.section import Section

BOX_WORDS: Final = ("outside", "centerline", "inside")

_SHARES: Final = dict(zip(BOX_WORDS, (0.0, 0.5, 1.0), strict=True))
"""Share of the width that lies outside the measured line."""


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
    return "lies on its wide side" if section.width > section.height else "stands on its narrow side"


def alike(section: Section) -> str:
    """Nothing, as long as it lies on one of its four sides."""
    return rolled(section) if section.quarter is None else ""


def rolled(section: Section) -> str:
    """How far it is rolled out of the lay in which the catalogue gives it."""
    return f"rolled {show_angle(section.rotation)}"


def refuse_lay(section: Section) -> None:
    """Refuse a section that is laid already where the words of a frame say how it lies."""
    if section.rotation or section.turned:
        raise BadInput(
            "lay", f"{section.rotation:g}", f"the words for {section.name} say how it lies; leave the lay out"
        )
