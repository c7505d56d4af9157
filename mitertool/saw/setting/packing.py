"""What must be put under a section that does not stay as laid; knows sections."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.sections import Section, lies_safely

_KEPT: Final = 256
"""Packings kept between calls: the pictures and rows of a bar all ask for the same few."""

_STEP: Final = 0.5
"""degrees. Sides of an outline that meet at less of an angle are one side to a packing."""

_HALVINGS: Final = 60
_BESIDE: Final = 1e-7
"""degrees. Far enough beside the direction square to a side to see its two ends apart, near enough to see no more."""


@attrs.frozen
class Pack:
    """A packing: `height` above the bed of what it carries, and where that lies across the bed from the section's side.

    What it carries is the far end of the side onto which the section would tip, at `y` from the fixed jaw, mm.
    """

    height: float
    y: float


@lru_cache(maxsize=_KEPT)
def packing(section: Section) -> tuple[Pack, ...]:
    """What keeps `section` as it lies, on the side of its weight first, then on the other; empty where it lies safely.

    Left alone, the section would tip over its lowest point, to the side of its weight, onto the next flat side (or the
    next two points) of its outline. A packing as high as the far end of that side holds it where it is. Where the
    weight stands over the lowest point, the lower packing comes first.
    """
    if lies_safely(section):
        return ()
    packs = {way: _tipped(section, way) for way in (1, -1)}
    lean = section.centroid[0] - _lowest(section, 0.0)[0]
    if abs(lean) <= COINCIDENT:
        return tuple(sorted(packs.values(), key=lambda pack: pack.height))
    way = 1 if lean > 0 else -1
    return packs[way], packs[-way]


def _lowest(section: Section, degrees: float) -> tuple[float, float]:
    """The point that would be lowest with the section tipped by `degrees` toward the moving jaw."""
    a = radians(degrees)
    return section.support_point(sin(a), -cos(a))


def _behind(section: Section, degrees: float, way: int) -> bool:
    """Whether the weight, so tipped to the side `way`, still stands past the lowest point and tips further."""
    a = radians(degrees)
    (y, z), (cy, cz) = _lowest(section, degrees), section.centroid
    return way * ((cy - y) * cos(a) + (cz - z) * sin(a)) > 0


def _tipped(section: Section, way: int) -> Pack:
    """The far end of the side on which the section comes to rest when it tips to the side `way`."""
    low = way * _BESIDE
    while not _behind(section, low, way) and abs(low) < 180:
        low += way * _STEP
    high = low
    while _behind(section, high, way) and abs(high) < 360:
        low, high = high, high + way * _STEP
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _behind(section, middle, way) else (low, middle)
    y, z = _lowest(section, high + way * _BESIDE)
    return Pack(z, y)
