"""Square and rectangular hollow sections."""

from __future__ import annotations

from math import sqrt
from typing import Final

from mitertool.geometry import Region
from mitertool.geometry.outline import box, hole
from mitertool.sections.dimension import HEIGHT, WALL, WIDTH, Dimension, below, radius
from mitertool.sections.lay import BOX_WORDS, box_lines, on_a_side
from mitertool.sections.section import Section, Shape


def rect_tube(
    width: float,
    height: float,
    wall: float,
    outer_radius: float | None = None,
    inner_radius: float | None = None,
) -> Section:
    """A square or rectangular hollow section; a radius not given is 2 x wall outside and 1 x wall inside.

    Raises `BadInput` for a wall of half the tube or more, or radii that do not fit.

    >>> mt.rect_tube(40, 80, 3, outer_radius=0, inner_radius=0).area
    684.0
    """
    SHAPE.check(width=width, height=height, wall=wall)
    below("dimension.wall", wall, min(width, height) / 2, "limit.half-side")
    ro = radius("outer_radius", 2 * wall if outer_radius is None else outer_radius, min(width, height) / 2)
    inner = min(width, height) - 2 * wall
    ri = radius("inner_radius", wall if inner_radius is None else inner_radius, inner / 2)
    below("what.radius-difference", ro - ri, (2 + sqrt(2)) * wall, "limit.wall-at-corners")
    region = Region((box(0, 0, width, height, ro), hole(box(wall, wall, width - wall, height - wall, ri))))
    words = (("height", height), ("width", width), ("wall", wall), ("outer radius", ro), ("inner radius", ri))
    return Section(f"rect tube {height:g}x{width:g}x{wall:g}", SHAPE, region, words)


def _radius(key: str, says: str) -> Dimension:
    return Dimension(key, says, "length-from-zero", needed=False, grows=True)


SHAPE: Final = Shape(
    "rect-tube",
    rect_tube,
    (
        *(WIDTH, HEIGHT, WALL),
        _radius("outer_radius", "rect-tube.outer_radius"),
        _radius("inner_radius", "rect-tube.inner_radius"),
    ),
    on_a_side,
    BOX_WORDS,
    box_lines,
    either_way=True,
    one_for_both=True,
)
