"""Tees with parallel flanges."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.geometry import Point, Region, rounded
from mitertool.sections.dimension import FLANGE, HEIGHT, ROOT_RADIUS, WEB, WIDTH, below
from mitertool.sections.lay import BOX_WORDS, box_lines, on_a_side
from mitertool.sections.section import Section, Shape


def tee(width: float, height: float, web: float, flange: float, root_radius: float = 0) -> Section:
    """A tee lying on its flange, web up, flanges parallel.

    >>> mt.tee(60, 60, 7, 7).area
    791.0
    """
    SHAPE.check(width=width, height=height, web=web, flange=flange, root_radius=root_radius)
    below("dimension.web", web, width, "limit.width")
    below("dimension.flange", flange, height, "limit.height")
    y1, y2, r = (width - web) / 2, (width + web) / 2, root_radius
    loop = rounded(
        [
            *((0, 0, 0), (width, 0, 0), (width, flange, 0), (y2, flange, r)),
            *((y2, height, 0), (y1, height, 0), (y1, flange, r), (0, flange, 0)),
        ]
    )
    words = (("height", height), ("width", width), ("web", web), ("flange", flange), ("root radius", r))
    return Section(f"tee {height:g}x{width:g}x{web:g}", SHAPE, Region((loop,)), words)


def _parts(section: Section) -> Mapping[str, Point]:
    """The middle of the flange's outer face."""
    wide, high = section.width, section.height
    at = ((wide / 2, 0.0), (wide, high / 2), (wide / 2, high), (0.0, high / 2))
    return {} if section.quarter is None else {"flange": at[section.quarter]}


SHAPE: Final = Shape(
    "tee", tee, (WIDTH, HEIGHT, WEB, FLANGE, ROOT_RADIUS), on_a_side, BOX_WORDS, box_lines, parts=_parts
)
