"""A frame seen from above: its pieces in place, their marks, its corners and check measures; knows paper.

Paper mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import cos, hypot, pi, sin
from typing import Final

import attrs

from mitertool.drawing import (
    HIDDEN,
    OUTLINE,
    THIN,
    Arc,
    Dimension,
    Drawing,
    Line,
    Point,
    Polygon,
    Text,
    fit,
    text_width,
    wrap,
)
from mitertool.frame import Assembly
from mitertool.frame.setting_out import SettingOut
from mitertool.packet.paper.clear import Edge, first_clear, strokes
from mitertool.packet.paper.layout import cell
from mitertool.quantity import Units, show_length

_LINE: Final = 5.0
_CAUTION: Final = 2.8
_NARROWEST: Final = 120.0
"""mm. Lettering of the caution of a sketch, and the width it has below a picture that is narrower."""

_MARK: Final = 2.8
_LONGEST_MARK: Final = 40.0
"""mm. Width for a mark beside its piece; a longer one is set smaller."""

_NUMBER: Final = 3.2
_RING: Final = 2.6
"""mm. A corner's number, and the ring about it, by which it is no part of the mark beside it."""

_AROUND: Final = (4.0, 5.0, 6.5, 8.0)
_TURNS: Final = 16
"""mm and how many directions: where the number of a corner may stand about it, the nearest place first."""


Place = Callable[[complex], Point]
"""Where a point of the frame lies on paper."""


def frame_drawing(
    assembly: Assembly,
    units: Units,
    width: float = 160,
    height: float = 120,
    out: SettingOut | None = None,
    marked: bool = True,
) -> Drawing:
    """The pieces in place with their marks and the overall size, within a width and height on paper, mm.

    With `out` the corners have their numbers, and a dashed line runs along each check measure. Not `marked`: without
    the marks.
    """
    points = [point for outline in assembly.outlines for point in outline]
    low = complex(min(p.real for p in points), min(p.imag for p in points))
    size = complex(max(p.real for p in points), max(p.imag for p in points)) - low
    k = min(width / max(size.real, 1e-9), height / max(size.imag, 1e-9))

    def place(point: complex) -> Point:
        return ((point.real - low.real) * k, (point.imag - low.imag) * k)

    outlines = [[place(point) for point in outline] for outline in assembly.outlines]
    shapes = [Polygon(outlines[i], OUTLINE, fill=0.93) for i in assembly.far_first]
    sizes = _sizes(assembly, size, k, units, marked and assembly.shape != "infill") if assembly.in_plan else []
    at = {one.number: place(out.origin + one.over) for one in out.corners} if out else {}
    across = [Line(at[one.first], at[one.second], HIDDEN) for one in out.measures] if out else []
    drawn = list(strokes(Drawing([*sizes, *across, *shapes])))
    told = list(_level(sizes))
    numbers = list(_numbers(at, drawn, told))
    rings = [Arc(number.at, _RING, 0.0, 360.0, THIN) for number in numbers]
    marks = _marks(assembly, place, [*drawn, *strokes(Drawing(rings))], [*told, *numbers]) if marked else []
    return Drawing([*shapes, *across, *rings, *numbers, *marks, *sizes])


def _sizes(assembly: Assembly, size: complex, k: float, units: Units, marked: bool) -> list[Dimension]:
    """The overall width below and the height at the right, clear of the marks there."""
    across, up = size.real * k, size.imag * k
    widest = max(text_width(mark, _MARK) for mark in assembly.every) if marked else 0.0
    beside = -min(12 + min(widest, _LONGEST_MARK), _LONGEST_MARK + 12)
    return [
        Dimension((0, 0), (across, 0), -12, show_length(size.real, units), 3.0, along=0.0),
        Dimension((across, 0), (across, up), beside, show_length(size.imag, units), 3.0, along=90.0),
    ]


def _level(sizes: Sequence[Dimension]) -> Iterator[Text]:
    """The level texts of dimensions, each set about its middle."""
    for part in Drawing(sizes).primitives():
        if isinstance(part, Text) and not part.turn:
            way = {"left": 0.5, "center": 0.0, "right": -0.5}[part.anchor] * part.width
            yield attrs.evolve(part, at=(part.at[0] + way, part.at[1]), anchor="center")


def _numbers(at: Mapping[int, Point], drawn: Sequence[Edge], others: Sequence[Text]) -> Iterator[Text]:
    """The number of each corner beside it, where it stands clear; the table tells where a corner is all the same."""
    found: list[Text] = []
    around: list[Edge] = []
    for number, (x, y) in at.items():
        places = [
            Text((x + r * cos(angle), y + r * sin(angle)), str(number), _NUMBER, "center", "middle", 0.0, True)
            for r in _AROUND
            for angle in (2 * pi * (i + 0.5) / _TURNS for i in range(_TURNS))
        ]
        text = _ringed(places, [*drawn, *around], [*others, *found])
        if text:
            found.append(text)
            around += strokes(Drawing([Arc(text.at, _RING, 0.0, 360.0, THIN)]))
    yield from found


def _ringed(places: Sequence[Text], drawn: Sequence[Edge], others: Sequence[Text]) -> Text | None:
    """The first place at which a number with a ring about it stands clear; it is asked for two figures, as wide."""
    wide = [attrs.evolve(one, says="00") for one in places]
    text = first_clear(wide, drawn, others)
    return places[wide.index(text)] if text else None


def frame_sketch(assembly: Assembly, units: Units, caution: str) -> Drawing:
    """The frame's picture by itself, with what can hurt below it; paper mm."""
    picture = frame_drawing(assembly, units)
    left, low, right, _ = picture.bounds()
    width = max(right - left, _NARROWEST)
    lines = wrap(caution, width, _CAUTION)
    return picture + Drawing(cell(line, (left, low - _LINE * (i + 1)), width, _CAUTION) for i, line in enumerate(lines))


def _marks(assembly: Assembly, place: Place, drawn: Sequence[Edge], others: Sequence[Text]) -> list[Text]:
    """Each mark beside its piece where it stands clear of every outline, dimension and text set before.

    Where there is no such place it is left out; the table of corners, or the order around the frame, names it.
    """
    if assembly.shape == "infill":
        return []
    found = list(others)
    for mark, edges in zip(assembly.every, assembly.edges, strict=True):
        text = first_clear([*_places(mark, [place(corner) for corner in edges])], drawn, found)
        found += [text] if text else []
    return found[len(others) :]


def _places(mark: str, corners: Sequence[Point]) -> Iterator[Text]:
    """Where a mark may stand: outside its piece, then inside; at its middle, then nearer an end."""
    inner_start, outer_start, outer_end, inner_end = corners
    height = fit(mark, _LONGEST_MARK, _MARK)
    half = text_width(mark, height) / 2
    for near, far, (start, end) in (
        (outer_start, inner_start, (outer_start, outer_end)),
        (inner_start, outer_start, (inner_start, inner_end)),
    ):
        out = _unit_across(start, end, (near[0] - far[0], near[1] - far[1]))
        reach = 1.2 + height / 2 + abs(out[0]) * half
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
            yield Text((x + out[0] * reach, y + out[1] * reach), mark, height, "center", "middle")


def _unit_across(start: Point, end: Point, toward: Point) -> Point:
    """The direction square to an edge that points the same way as `toward`."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy) or 1.0
    x, y = -dy / length, dx / length
    return (x, y) if x * toward[0] + y * toward[1] >= 0 else (-x, -y)
