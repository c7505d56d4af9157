"""The section as it lies between the jaws, seen along the bar, with what is packed under it; knows views. Paper mm."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin
from typing import Final

import attrs

from mitertool.bar import middle_as_rolled
from mitertool.drawing import FILL, OUTLINE, THIN, Drawing, Entity, Line, Point, Polygon
from mitertool.packet.pages.setting.letters import HEIGHT, PACKING, WIDTH, level, upright, with_letters
from mitertool.packet.paper.views import end_view
from mitertool.saw.setting.packing import Pack
from mitertool.sections import Section

_JAW: Final = 5.0
_BESIDE: Final = 0.5
_ROOM: Final = 9.0
"""Paper mm beside and above the vise for dimension lines and letters."""

_PACKING: Final = 0.7
"""Grey of a packing: darker than a jaw."""


WEDGE: Final = 0.9
"""How high and half how wide a wedge is that marks the top of a section as drawn."""


def wedge(at: Point) -> Polygon:
    """A small black wedge that stands on its tip."""
    x, y = at
    return Polygon([(x, y), (x + WEDGE, y + WEDGE), (x - WEDGE, y + WEDGE)], FILL, fill=0.0)


@attrs.frozen
class Top:
    """The middle of the top of a section as drawn, where that lies (y, z) as it stands rolled by degrees."""

    at: Point
    roll: float = 0.0


def top_of(section: Section, roll: float = 0.0) -> Top:
    """Of a section that lies unrolled, its top toward the moving jaw by `roll` degrees."""
    (y, z), lean, up = middle_as_rolled(section, roll), radians(roll), section.height / 2
    return Top((y + up * sin(lean), z + up * cos(lean)), roll)


_VIEWS: Final = 128
"""Views that are kept: a job has many bars of few sections."""


@lru_cache(maxsize=_VIEWS)
def vise_view(
    section: Section, width: float, height: float, pack: Pack | None = None, top: Top | None = None
) -> Drawing:
    """The section on the bed between the jaws, as large as fits a box that stands on (0, 0).

    At `top` it has a wedge: there the pictures of rolls have it too.
    """
    k = _scale(section, width, height)
    size = section.width * k, section.height * k
    x = (width - size[0]) / 2
    tall = max(size[1] * 0.8, 6)
    parts: list[Entity] = [
        _jaw(x - _JAW - _BESIDE, tall),
        _jaw(x + size[0] + _BESIDE, tall),
        Line((2, 0), (width - 2, 0), OUTLINE),
        *([_packed(pack, k, x)] if pack else []),
    ]
    mark = Drawing([wedge((0.0, 0.3))]).turned(-top.roll).moved(x + top.at[0] * k, top.at[1] * k) if top else Drawing()
    return Drawing(parts) + end_view(section).scaled(k).moved(x, 0) + mark


def lettered_vise(section: Section, width: float, height: float, pack: Pack | None = None) -> Drawing:
    """The same with W over its width, H beside its height and P on the side of its packing."""
    inner, tall = width - 2 * _ROOM, height - _ROOM
    drawing = vise_view(section, inner, tall, pack).moved(_ROOM, 0)
    k = _scale(section, inner, tall)
    across, up = section.width * k, section.height * k
    x, beside = (width - across) / 2, _JAW + 4
    left, right = (x, beside), (x + across, -beside)
    carried = (x + min(max(pack.y * k, 0.0), across), pack.height * k) if pack else None
    high, packed = (left, right) if carried and carried[0] > width / 2 else (right, left)
    sizes = [
        level(WIDTH, (x, up), (x + across, up), 4),
        upright(HEIGHT, (high[0], 0), (high[0], up), high[1]),
    ]
    if carried:
        sizes.append(upright(PACKING, (carried[0], 0), carried, carried[0] - packed[0] + packed[1]))
    return with_letters(drawing, sizes)


def _scale(section: Section, width: float, height: float) -> float:
    return min((width - 2 * _JAW - 4) / section.width, (height - 2) / section.height)


def _jaw(x: float, tall: float) -> Polygon:
    return Polygon([(x, 0), (x + _JAW, 0), (x + _JAW, tall), (x, tall)], THIN, fill=0.85)


def _packed(pack: Pack, k: float, x: float) -> Polygon:
    """A block under what the packing carries."""
    middle, half, top = x + pack.y * k, 2.0, pack.height * k
    return Polygon([(middle - half, 0), (middle + half, 0), (middle + half, top), (middle - half, top)], THIN, _PACKING)
