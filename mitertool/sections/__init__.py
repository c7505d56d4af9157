"""Sections: shapes with exact arcs, the catalogue that names them, how they lie; imports geometry and left of it."""

from mitertool.sections.catalogue import section
from mitertool.sections.lay import laid_by, lies_safely
from mitertool.sections.section import DENSITY, Section
from mitertool.sections.shapes import (
    angle,
    channel,
    flat,
    i_section,
    rect_tube,
    round_bar,
    round_tube,
    tee,
)

__all__ = [
    "DENSITY",
    "Section",
    "angle",
    "channel",
    "flat",
    "i_section",
    "laid_by",
    "lies_safely",
    "rect_tube",
    "round_bar",
    "round_tube",
    "section",
    "tee",
]
