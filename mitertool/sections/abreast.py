"""Bars that lie side by side in the vise and are cut at once, as one section; knows section and geometry.

Everything that grows with the number of bars (width, opening, set-backs, contact, mass) follows from the one section.
"""

from __future__ import annotations

from math import pi
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.geometry import Region
from mitertool.sections.section import Abreast, Section
from mitertool.words import phrase

MOST_ABREAST: Final = 40
"""Bars in one vise: more than any takes, and each makes the blade's way through all of them longer to work out."""


def row(section: Section, count: int) -> Section:
    """`count` bars of `section` side by side, each against the next, as one section."""
    if isinstance(count, bool) or not isinstance(count, int) or count < 1:
        raise BadInput(phrase("what.side-by-side"), count, phrase("refuse.side-by-side"))
    if count == 1:
        return section
    regions = [section.region.moved(i * section.width, 0.0) for i in range(count)]
    return _together(section, regions, Abreast(section, count, row), f"{count} x {section.name}")


def boxed(section: Section) -> Section:
    """Two bars put together as a box, the second half a turn over about the bar's axis, as one section.

    Two angles touch with their toes at each other's heels, so that the box is wider by a leg's thickness; two channels
    touch toe to toe. Raises `BadInput` for another shape, and for one that does not lie on a side.
    """
    word = section.shape.word
    if word not in ("angle", "channel") or section.quarter is None:
        raise BadInput("boxed", section.name, phrase("refuse.no-box"))
    over = section.region.turned(pi).to_corner()
    across, up = _moved(section, word)
    moved = section.region.moved(max(0.0, -across), max(0.0, -up)), over.moved(max(0.0, across), max(0.0, up))
    return _together(section, list(moved), Abreast(section, 2, None), f"2 x {section.name} boxed")


def _moved(section: Section, word: str) -> tuple[float, float]:
    """How far the second bar stands from the first, across and up, away from where the first has its heel or web."""
    (y, z), width, height = section.centroid, section.width, section.height
    if word == "angle":
        thickness = dict(section.dimensions)["thickness"]
        return (thickness if y < width / 2 else -thickness), 0.0
    if section.quarter in (0, 2):
        return (width if y < width / 2 else -width), 0.0
    return 0.0, (height if z < height / 2 else -height)


def _together(section: Section, regions: list[Region], abreast: Abreast, name: str) -> Section:
    loops = tuple(loop for region in regions for loop in region.loops)
    nominal = None if section.nominal is None else section.nominal * abreast.count
    return attrs.evolve(section, region=Region(loops), name=name, nominal=nominal, abreast=abreast)
