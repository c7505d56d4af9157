"""One specimen of every section family and of every nasty case, in several lays; and scanlines written apart.

`SPECIMENS` are sections as their makers give them, `LAID` the same in the lays of `LAYS`. `outline_points` and
`scanline` read only the ends, centers, radii and angles of the outline's segments, so that a check against them does
not lean on the package's own areas, supports or bands.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import mitertool as mt
from mitertool.geometry import Arc, Line, Segment

SPECIMENS: dict[str, mt.Section] = {
    # one of each family
    "square tube": mt.rect_tube(50, 50, 3),
    "rectangular tube": mt.rect_tube(120, 60, 8, 20, 12),
    "round tube": mt.round_tube(60.3, 3.6),
    "round bar": mt.round_bar(50),
    "flat bar": mt.flat(80, 12),
    "square bar": mt.flat(40, 40),
    "equal angle": mt.angle(50, 50, 5, 7, 3.5),
    "unequal angle": mt.angle(65, 100, 8, 10, 5),
    "parallel channel": mt.channel(50, 100, 5, 8.5, 9),
    "tapered channel": mt.channel(50, 100, 6, 8.5, 8.5, 4.5, taper=8),
    "steep channel": mt.channel(60, 150, 8, 10, 8, 3, taper=100 / 6, flange_at="mid-overhang"),
    "I section": mt.i_section(55, 100, 4.1, 5.7, 7),
    "tapered I section": mt.i_section(74, 160, 6.3, 9.5, 6.3, taper=14, toe_radius=3.8),
    "tee": mt.tee(60, 60, 7, 7, 8),
    "Z with lips": mt.z_section(150, 60, 2, 3, 18),
    # nasty cases
    "sharp tube": mt.rect_tube(40, 30, 2, 0, 0),
    "tube of two half circles": mt.rect_tube(80, 40, 3, 20, 17),
    "tube with a round hole": mt.rect_tube(40, 40, 5, 0, 15),
    "tube with a sharp hole": mt.rect_tube(60, 40, 4, 8, 0),
    "paper-thin tube": mt.rect_tube(200, 100, 0.1),
    "round tube, almost solid": mt.round_tube(30, 14.9),
    "sharp angle": mt.angle(60, 40, 6),
    "angle with round toes": mt.angle(40, 40, 4, 5, 4),
    "sharp channel": mt.channel(40, 80, 5, 6),
    "sharp tee": mt.tee(50, 70, 6, 9),
    "sharp Z": mt.z_section(80, 40, 4, 0),
    "Z that nests, with leaning lips": mt.z_section(120, 55, 3, 4.5, 25, 50, 48),
    "strip on edge": mt.flat(0.5, 200),
    "wide strip": mt.flat(1000, 2),
    "pin": mt.round_bar(2),
}

LAYS: dict[str, tuple[float, bool]] = {
    "as made": (0, False),
    "at 90": (90, False),
    "turned": (0, True),
    "turned, at 270": (270, True),
    "at 5.8": (5.8, False),
    "turned, at 45": (45, True),
    "at 217.5": (217.5, False),
}

LAID: dict[str, mt.Section] = {
    f"{name}, {lay}": section.lay(*how) for name, section in SPECIMENS.items() for lay, how in LAYS.items()
}

Point = tuple[float, float]


def lays_of(name: str) -> Iterator[mt.Section]:
    """A specimen in every lay; what a check prints of a section tells which."""
    return (LAID[f"{name}, {lay}"] for lay in LAYS)


def outline_points(section: mt.Section, chord_error: float) -> list[list[Point]]:
    """Every loop as points in order; no arc is further than `chord_error` (mm) from its chord."""
    return [[p for segment in loop for p in _points(segment, chord_error)] for loop in section.region.loops]


def _points(segment: Segment, chord_error: float) -> Iterator[Point]:
    """From the start of `segment` up to, not including, its end."""
    if isinstance(segment, Line):
        yield segment.start
        return
    step = 2 * math.acos(1 - min(1.0, chord_error / segment.radius))
    count = max(1, math.ceil(abs(segment.sweep) / step))
    for i in range(count):
        yield _on(segment, segment.begin + segment.sweep * i / count)


def _on(arc: Arc, angle: float) -> Point:
    return arc.center[0] + arc.radius * math.cos(angle), arc.center[1] + arc.radius * math.sin(angle)


def scanline(section: mt.Section, z: float) -> list[tuple[float, float]]:
    """Spans of material on the horizontal line at `z`, which must not be the height of a level side or an end."""
    for beside in (0.0, _BESIDE, -_BESIDE):
        ys = sorted(y for segment in section.region.segments for y in _crossings(segment, z + beside))
        if len(ys) % 2 == 0:
            return list(zip(ys[::2], ys[1::2], strict=True))
    raise AssertionError(f"{section.name}: the line at {z} crosses the outline {len(ys)} times")


_BESIDE = 1e-9
"""mm. Where two segments meet, rounding may give a line to both of them or to neither; so near by it is one's."""


def _crossings(segment: Segment, z: float) -> Iterator[float]:
    if isinstance(segment, Line):
        (y0, z0), (y1, z1) = segment.start, segment.end
        if (z0 < z) != (z1 < z):
            yield y0 + (y1 - y0) * (z - z0) / (z1 - z0)
        return
    (cy, cz), r = segment.center, segment.radius
    if abs(z - cz) >= r:
        return
    angle = math.asin((z - cz) / r)
    for candidate in (angle, math.pi - angle):
        way = candidate - segment.begin if segment.sweep > 0 else segment.begin - candidate
        if way % (2 * math.pi) < abs(segment.sweep):
            yield cy + r * math.cos(candidate)


def levels(section: mt.Section) -> list[float]:
    """Heights at which the outline has an end, a top or a bottom, or the middle of an arc, from bottom to top."""
    zs = {0.0, section.height}
    for segment in section.region.segments:
        zs |= {segment.start[1], segment.end[1]}
        if isinstance(segment, Arc):
            zs |= {segment.center[1] + k * segment.radius for k in (-1, 0, 1)}
    inside = sorted(z for z in zs if -1e-9 <= z <= section.height + 1e-9)
    return [z for i, z in enumerate(inside) if i == 0 or z - inside[i - 1] > 1e-9]


def heights(section: mt.Section, count: int) -> list[float]:
    """Heights between the `levels`, `count` to each gap, crowded toward its ends but at least 1e-6 mm from them."""
    gaps = itertools.pairwise(levels(section))
    shares = [(1 - math.cos(math.pi * (i + 0.5) / count)) / 2 for i in range(count)]
    found = [(low, low + (high - low) * share, high) for low, high in gaps for share in shares]
    return [z for low, z, high in found if low + 1e-6 < z < high - 1e-6]
