"""I and H sections, flanges parallel or tapered."""

from __future__ import annotations

from typing import Final

from mitertool.geometry import Region, rounded
from mitertool.sections.dimension import (
    FLANGE,
    HEIGHT,
    ROOT_RADIUS,
    TAPER,
    TOE_RADIUS,
    WEB,
    WIDTH,
    below,
    flange_fits,
)
from mitertool.sections.lay import BOX_WORDS, box_lines, on_a_side
from mitertool.sections.section import Section, Shape


def i_section(
    width: float,
    height: float,
    web: float,
    flange: float,
    root_radius: float = 0,
    taper: float = 0,
    toe_radius: float = 0,
) -> Section:
    """An I or H section standing on a flange; a tapered flange (per cent) is measured at width/4 from its edge.

    >>> mt.i_section(100, 200, 6, 10).area
    3080.0
    """
    SHAPE.check(width=width, height=height, web=web, flange=flange)
    below("dimension.web", web, width, "limit.width")
    SHAPE.check(taper=taper, root_radius=root_radius, toe_radius=toe_radius)
    slope, y1, y2 = taper / 100, (width - web) / 2, (width + web) / 2
    root, toe = flange + slope * (y1 - width / 4), flange - slope * width / 4
    flange_fits(root, toe, height)
    top_root, top_toe, r, e = height - root, height - toe, root_radius, toe_radius
    loop = rounded(
        [
            *((0, 0, 0), (width, 0, 0), (width, toe, e), (y2, root, r), (y2, top_root, r), (width, top_toe, e)),
            *((width, height, 0), (0, height, 0), (0, top_toe, e), (y1, top_root, r), (y1, root, r), (0, toe, e)),
        ]
    )
    main = (("height", height), ("width", width), ("web", web), ("flange", flange), ("root radius", r))
    words = (*main, ("toe radius", toe_radius), ("taper %", taper)) if taper or toe_radius else main
    return Section(f"I {height:g}x{width:g}x{web:g}", SHAPE, Region((loop,)), words)


_DIMENSIONS: Final = (WIDTH, HEIGHT, WEB, FLANGE, ROOT_RADIUS, TOE_RADIUS, TAPER)

SHAPE: Final = Shape("i-section", i_section, _DIMENSIONS, on_a_side, BOX_WORDS, box_lines)
