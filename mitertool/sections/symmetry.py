"""The symmetry of an outline, found from its lines and arcs; knows geometry only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
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
    own = prints(region)
    return frozenset(name for name, motion in _MOTIONS.items() if same(own, prints(motion(region))))


def prints(region: Region) -> tuple[Print, ...]:
    """Every segment as numbers that do not depend on where a loop starts, about the box's middle."""
    y0, z0, y1, z1 = region.bounds
    centred = region.moved(-(y0 + y1) / 2, -(z0 + z1) / 2)
    return tuple(_print(segment) for segment in centred.segments)


def _print(segment: Segment) -> Print:
    if isinstance(segment, Line):
        return (0.0, 0.0, 0.0, *segment.start, *segment.end)
    if abs(segment.sweep) >= 2 * pi - 1e-9:
        return (2.0, segment.radius, segment.sweep, *segment.center, 0.0, 0.0)
    return (1.0, segment.radius, segment.sweep, *segment.start, *segment.end)


def same(ours: Sequence[Print], theirs: Sequence[Print]) -> bool:
    """Whether two outlines, by their `prints`, are the same about the middle of their bounding boxes."""
    rest = list(theirs)
    for one in ours:
        match = next((other for other in rest if _close(one, other)), None)
        if match is None:
            return False
        rest.remove(match)
    return not rest


def _close(one: Print, other: Print) -> bool:
    return all(abs(a - b) <= SYMMETRIC for a, b in zip(one, other, strict=True))
