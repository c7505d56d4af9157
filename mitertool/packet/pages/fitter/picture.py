"""A frame seen from above: its pieces in place, their marks, its corners and check measures; knows paper and words.

Paper mm.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import hypot, pi
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
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.frame.setting_out import SettingOut
from mitertool.geometry.near import low_and_size
from mitertool.packet.pages.fitter.on_run import seat_drawing
from mitertool.packet.paper.clear import Edge, first_clear, is_clear, strokes
from mitertool.packet.paper.layout import cell
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LINE: Final = 5.0
_CAUTION: Final = 2.8
_NARROWEST: Final = 120.0
"""mm. Lettering of the caution of a sketch, and the width it has below a picture that is narrower."""

_MARK: Final = 2.8
_LONGEST_MARK: Final = 40.0
"""mm. Width for a mark beside its piece; a longer one is set smaller."""

_BRIEF: Final = 2.5
_OFF: Final = 1.2
_NEAR: Final = -0.2
"""mm. The lettering of what is a mark's own; how far from its piece a mark stands besides half its lettering, and that
one, which is level and so wider than high."""

_NUMBER: Final = 3.2
_RING: Final = 2.6
"""mm. A corner's number, and the ring about it, by which it is no part of the mark beside it."""

_TICK: Final = 6.0
_BOXED: Final = 0.03
"""mm of the lines to a height that is not that of the right side, which leave room for marks; how near the corner of
the box about a frame steel is at it, as a share of the diagonal."""

_SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where along its piece a mark may stand."""

FEW_INSIDE: Final = 4
"""Bars inside at most, between which there is room for more than their marks."""

_LED: Final = ("", "rails", "brace")
_ALONG: Final = (0.1, 0.9, 0.2, 0.8, 0.3, 0.7)
_OUT: Final = 4.0
"""What has its mark beside the frame where there is no room at it (members around have no such word), where along the
piece the line to it ends, and mm between the frame and such a mark."""

_UPRIGHT: Final = 0.999
_BESIDE: Final = 1.3
"""How level the way out of an upright piece is, and mm between it and a mark that stands beside it upright."""

_AROUND: Final = (4.0, 5.0, 6.5, 8.0)
_TURNS: Final = 16
"""mm and how many directions: where the number of a corner may stand about it, outside the frame first, as near as may
be."""

_MARKS_APART: Final = 3.0
"""mm between two marks in a line: they read as two."""


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

    With `out` the corners have their numbers, and a dashed line runs along each check measure, unless many bars inside
    are to be told apart. Not `marked`: without the marks.
    """
    if isinstance(assembly, SpaceAssembly) and assembly.seat:
        return seat_drawing(assembly.seat, units, width, height)
    low, size = low_and_size(point for outline in (*assembly.outlines, *assembly.plates) for point in outline)
    k = min(width / max(size.real, 1e-9), height / max(size.imag, 1e-9))

    def place(point: complex) -> Point:
        return ((point.real - low.real) * k, (point.imag - low.imag) * k)

    outlines = [[place(point) for point in outline] for outline in assembly.outlines]
    shapes = [Polygon(outlines[i], OUTLINE, fill=0.93) for i in assembly.far_first]
    plates = [Polygon([place(point) for point in plate], OUTLINE, fill=0.5) for plate in assembly.plates]
    told = _told_sizes(size, out, units)
    sizes = _sizes(assembly, size, k, told, marked and assembly.shape != "infill") if assembly.in_plan else []
    at = {one.number: place(out.origin + one.over) for one in out.corners} if out else {}
    dashed = out.measures if out and len(assembly.inside) <= FEW_INSIDE else ()
    across = [Line(at[one.first], at[one.second], HIDDEN) for one in dashed]
    drawn = list(strokes(Drawing([*sizes, *across, *shapes, *plates])))
    level = list(_level(sizes))

    def marks(edges: Sequence[Edge], texts: Sequence[Text]) -> list[Text | Line]:
        return list(_marks(assembly, place, edges, texts, size.real * k)) if marked else []

    return Drawing([*shapes, *plates, *across, *_lettered(marks, at, drawn, level), *sizes])


Marks = Callable[[Sequence[Edge], Sequence[Text]], list[Text | Line]]
"""The marks and the lines to them that stand clear of some edges and texts."""


def _lettered(
    marks: Marks, at: Mapping[int, Point], drawn: Sequence[Edge], told: Sequence[Text]
) -> list[Text | Line | Arc]:
    """Numbers of corners in rings, and marks: a corner has no other name, a piece is named in the tables too."""
    rings, numbers = numbered([(str(number), point) for number, point in at.items()], drawn, told)
    return [*rings, *numbers, *marks([*drawn, *strokes(Drawing(rings))], [*told, *numbers])]


def numbered(
    at: Sequence[tuple[str, Point]], drawn: Sequence[Edge], others: Sequence[Text] = ()
) -> tuple[list[Arc], list[Text]]:
    """The numbers of places in the order of a walk, each beside its place where it stands clear, and their rings."""
    numbers = list(_numbers(at, drawn, others))
    return [Arc(number.at, _RING, 0.0, 360.0, THIN) for number in numbers], numbers


def picture_notes(picture: Drawing, assembly: Assembly) -> Iterator[str]:
    """How the marks of a picture are meant: those that stand upright, those that are short, those of bars without."""
    marks = [part for part in picture.entities if isinstance(part, Text) and not part.bold]
    if any(part.turn for part in marks):
        yield phrase("frame.upright")
    said = {part.says for part in marks}
    bars = dict.fromkeys(bar.mark for bar in assembly.inside)
    short = [mark for mark in bars if brief(mark, assembly) in said - {mark}]
    if short:
        yield phrase("frame.brief", brief=brief(short[0], assembly), mark=short[0])
    without = [mark for mark in bars if mark not in said and mark not in short]
    if without:
        yield phrase("frame.no-room", marks=", ".join(without)) if said else phrase("frame.no-room/any")


def brief(mark: str, assembly: Assembly) -> str:
    """What of a mark is its own: all behind the last hyphen that it shares with every mark of the frame."""
    hyphens = (i + 1 for i, letter in enumerate(mark) if letter == "-")
    shared = [end for end in hyphens if all(one.startswith(mark[:end]) for one in assembly.every)]
    return mark[max(shared, default=0) :]


def _told_sizes(size: complex, out: SettingOut | None, units: Units) -> tuple[str, str]:
    """The overall width and height; said to be that of steel where a gap ends it short of where its edges cross."""
    steel = (show_length(size.real, units), show_length(size.imag, units))
    if out is None or not out.closed or not any(corner.gap for corner in out.corners):
        return steel
    across, up = [corner.at.real for corner in out.corners], [corner.at.imag for corner in out.corners]
    wide, high = (max(side) - min(side) for side in (across, up))
    return _of_steel(size.real, wide, steel[0], units), _of_steel(size.imag, high, steel[1], units)


def _of_steel(mm: float, crossed: float, shown: str, units: Units) -> str:
    return phrase("frame.size/steel", length=shown) if mm < crossed and show_length(crossed, units) != shown else shown


def _sizes(assembly: Assembly, size: complex, k: float, told: tuple[str, str], marked: bool) -> list[Dimension]:
    """The overall width below and the height at the right, clear of the marks there."""
    across, up = size.real * k, size.imag * k
    widest = max(text_width(mark, _MARK) for mark in assembly.every) if marked else 0.0
    beside = min(12 + min(widest, _LONGEST_MARK), _LONGEST_MARK + 12)
    x = across if _has_corner(assembly, size) else across + beside - _TICK
    return [
        Dimension((0, 0), (across, 0), -12, told[0], 3.0, along=0.0),
        Dimension((x, 0), (x, up), x - across - beside, told[1], 3.0, along=90.0),
    ]


def _has_corner(assembly: Assembly, size: complex) -> bool:
    """Whether steel is at the upper right of the box about it, where a line to its height starts."""
    points = [point for outline in assembly.outlines for point in outline]
    highest, right = max(point.imag for point in points), max(point.real for point in points)
    near = _BOXED * abs(size)
    return any(highest - point.imag < near and right - point.real < near for point in points)


def _level(sizes: Sequence[Dimension]) -> Iterator[Text]:
    """The level texts of dimensions, each set about its middle."""
    for part in Drawing(sizes).primitives():
        if isinstance(part, Text) and not part.turn:
            way = {"left": 0.5, "center": 0.0, "right": -0.5}[part.anchor] * part.width
            yield attrs.evolve(part, at=(part.at[0] + way, part.at[1]), anchor="center")


def _numbers(at: Sequence[tuple[str, Point]], drawn: Sequence[Edge], others: Sequence[Text]) -> Iterator[Text]:
    """The number of each corner beside it, where it stands clear; the table tells where a corner is all the same."""
    found: list[Text] = []
    around: list[Edge] = []
    places = [complex(*point) for _, point in at]
    for i, (number, _) in enumerate(at):
        out = 1j * (_way(places[i - 1], places[i]) + _way(places[i], places[(i + 1) % len(places)]))
        text = _ringed(_about(number, places[i], out), [*drawn, *around], [*others, *found])
        if text:
            found.append(text)
            around += strokes(Drawing([Arc(text.at, _RING, 0.0, 360.0, THIN)]))
    yield from found


def _way(start: complex, end: complex) -> complex:
    """The direction from one point to another."""
    return (end - start) / (abs(end - start) or 1.0)


def _about(number: str, corner: complex, out: complex) -> Iterator[Text]:
    """Where the number of a corner may stand: those that lie `out` of a frame walked clockwise before the others."""
    ways = [rect(1.0, phase(out) + sign * 2 * pi * i / _TURNS) for i in range(_TURNS // 2) for sign in (1, -1)]
    outside = _TURNS // 2 + 1
    for some in (ways[:outside], ways[outside:]):
        for place in (corner + r * way for r in _AROUND for way in some):
            yield Text((place.real, place.imag), number, _NUMBER, "center", "middle", 0.0, True)


def _ringed(places: Iterable[Text], drawn: Sequence[Edge], others: Sequence[Text]) -> Text | None:
    """The first place at which a number with a ring about it stands clear; it is asked for two figures, as wide."""
    return next((one for one in places if is_clear(attrs.evolve(one, says="00"), drawn, others)), None)


def frame_sketch(assembly: Assembly, units: Units, caution: str) -> Drawing:
    """The frame's picture by itself, with what can hurt below it; paper mm."""
    picture = frame_drawing(assembly, units)
    left, low, right, _ = picture.bounds()
    width = max(right - left, _NARROWEST)
    lines = wrap(caution, width, _CAUTION)
    return picture + Drawing(cell(line, (left, low - _LINE * (i + 1)), width, _CAUTION) for i, line in enumerate(lines))


def _marks(
    assembly: Assembly, place: Place, drawn: Sequence[Edge], others: Sequence[Text], across: float
) -> Iterator[Text | Line]:
    """Each mark beside its piece where it stands clear of every outline, dimension and text set before.

    Where a member, or a rail or a brace inside, which come first, has no such place, its mark is set smaller, or stands
    beside the frame, `across` wide on paper, with a line to it; where another bar has none, what is its own of the mark
    stands at its left, when all others are set. One that has no place even so is left out: the table of corners, that
    of marks or the order around the frame names it.
    """
    if assembly.shape == "infill":
        return
    found = list(others)
    short: list[tuple[str, Sequence[Point]]] = []
    called = [*[""] * len(assembly.order), *(bar.called for bar in assembly.inside)]
    pieces = sorted(zip(assembly.every, assembly.edges, called, strict=True), key=lambda one: one[2] not in _LED[1:])
    for mark, edges, what in pieces:
        corners = tuple(place(corner) for corner in edges)
        places = [*_places(mark, corners), *(() if what else _places(mark, corners, _BRIEF))]
        text = first_clear(places, drawn, found, _MARKS_APART)
        if text is None and what in _LED:
            text, line = _led(mark, corners, drawn, found, across)
            yield from [line] if line else []
        if text:
            found.append(text)
            yield text
        elif what:
            short.append((brief(mark, assembly), corners))
    for own, ends in short if len(short) < len(assembly.every) else ():
        most = min(x for x, _ in ends)
        left = [one for one in _places(own, ends, _BRIEF, _NEAR) if one.at[0] < most]
        text = first_clear(left, drawn, found)
        if text:
            found.append(text)
            yield text


def _led(
    mark: str, corners: Sequence[Point], drawn: Sequence[Edge], others: Sequence[Text], across: float
) -> tuple[Text | None, Line | None]:
    """A mark to the left or right of the frame, and a level line from it to the middle of its piece."""
    inner_start, outer_start, outer_end, inner_end = corners
    start, end = _middle(inner_start, outer_start), _middle(inner_end, outer_end)
    height = fit(mark, _LONGEST_MARK, _MARK)
    half = text_width(mark, height) / 2
    for share in _ALONG:
        x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        side, edge = (-1.0, 0.0) if x < across / 2 else (1.0, across)
        text = Text((edge + side * (_OUT + half), y), mark, height, "center", "middle")
        if is_clear(text, drawn, others):
            return text, Line((edge + side * (_OUT - 1.0), y), (x, y), THIN)
    return None, None


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _places(mark: str, corners: Sequence[Point], most: float = _MARK, off: float = _OFF) -> Iterator[Text]:
    """Where a mark may stand: outside its piece, then inside; at its middle, then nearer an end.

    At the left of a piece that stands upright it may stand upright as well, where it takes less room.
    """
    inner_start, outer_start, outer_end, inner_end = corners
    height = fit(mark, _LONGEST_MARK, most)
    half = text_width(mark, height) / 2
    for near, far, (start, end) in (
        (outer_start, inner_start, (outer_start, outer_end)),
        (inner_start, outer_start, (inner_start, inner_end)),
    ):
        out = _unit_across(start, end, (near[0] - far[0], near[1] - far[1]))
        reach = off + height / 2 + abs(out[0]) * half
        for share in _SHARES:
            x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
            yield Text((x + out[0] * reach, y + out[1] * reach), mark, height, "center", "middle")
        if out[0] < -_UPRIGHT:
            yield from _upright(mark, height, start, end)


def _upright(mark: str, height: float, start: Point, end: Point) -> Iterator[Text]:
    """The places at the left of an upright edge for a mark that is read from the right."""
    for share in _SHARES:
        x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        yield Text((x - _BESIDE - height / 2, y), mark, height, "center", "middle", 90.0)


def _unit_across(start: Point, end: Point, toward: Point) -> Point:
    """The direction square to an edge that points the same way as `toward`."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy) or 1.0
    x, y = -dy / length, dx / length
    return (x, y) if x * toward[0] + y * toward[1] >= 0 else (-x, -y)
