"""The symmetry of an outline, found from its lines and arcs; knows geometry only."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import Final

from mitertool.base.tolerances import SYMMETRIC
from mitertool.geometry import Line, Region, Segment

Print = tuple[float, ...]

_MOTIONS: Final[dict[str, Callable[[Region], Region]]] = {
    "left-right": lambda region: region.mirrored(),
    "top-bottom": lambda region: region.mirrored().turned(pi),
    "half-turn": lambda region: region.turned(pi),
    "quarter-turn": lambda region: region.turned(pi / 2),
    "diagonal": lambda region: region.mirrored().turned(-pi / 2),
    "anti-diagonal": lambda region: region.mirrored().turned(pi / 2),
}


def symmetry(region: Region) -> frozenset[str]:
    """The names of the motions that map `region` onto itself."""
    own = _prints(region)
    return frozenset(name for name, motion in _MOTIONS.items() if _same(own, _prints(motion(region))))


def same_outline(one: Region, other: Region) -> bool:
    """Whether two regions have the same outline about the middle of their bounding boxes."""
    return _same(_prints(one), _prints(other))


def _prints(region: Region) -> list[Print]:
    """Every segment as numbers that do not depend on where a loop starts, about the box's middle."""
    y0, z0, y1, z1 = region.bounds
    centred = region.moved(-(y0 + y1) / 2, -(z0 + z1) / 2)
    return [_print(segment) for segment in centred.segments]


def _print(segment: Segment) -> Print:
    if isinstance(segment, Line):
        return (0.0, 0.0, 0.0, *segment.start, *segment.end)
    if abs(segment.sweep) >= 2 * pi - 1e-9:
        return (2.0, segment.radius, segment.sweep, *segment.center, 0.0, 0.0)
    return (1.0, segment.radius, segment.sweep, *segment.start, *segment.end)


def _same(ours: list[Print], theirs: list[Print]) -> bool:
    rest = list(theirs)
    for one in ours:
        match = next((other for other in rest if _close(one, other)), None)
        if match is None:
            return False
        rest.remove(match)
    return not rest


def _close(one: Print, other: Print) -> bool:
    return all(abs(a - b) <= SYMMETRIC for a, b in zip(one, other, strict=True))
