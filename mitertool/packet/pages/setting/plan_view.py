"""A saw with a bar in it seen from above, to scale, with letters at what is set; knows reach and drawing. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from math import copysign, cos, pi, radians, sin, tan
from typing import Final

import attrs

from mitertool.drawing import (
    CENTER,
    HIDDEN,
    OUTLINE,
    THIN,
    WRONG,
    Drawing,
    Entity,
    Line,
    Point,
    Polygon,
    Text,
    text_width,
)
from mitertool.packet.pages.setting.letters import LETTER, SWING, Lettered, angle, back, level, plainest, with_letters
from mitertool.packet.paper.clear import first_clear, strokes
from mitertool.packet.paper.stand import feed_way
from mitertool.quantity import Units, show_limit
from mitertool.quantity.compare import longer
from mitertool.saw import Reach
from mitertool.saw.file.machine import Obstacle
from mitertool.words import phrase

_DEEP: Final = 60.0
"""mm that an obstacle is drawn deep along the bar; the file says only where its near edge stands."""

_GUIDE: Final = 40.0
"""mm of a guide drawn along the blade."""

_PAST: Final = 30.0
"""mm that blade and square line run past guides and bar."""

_ROW: Final = 4.8
"""Paper mm between the set-backs' dimension lines."""

_FIRST: Final = 3.5
"""Paper mm from the outermost thing to the first of them."""

_LEAST_ROOM: Final = 5.0
"""Paper mm kept above and below for a letter where no set-back stands."""

_ENDS: Final = 18.5
"""Paper mm kept free at the left and the right for words at the ends of the bar."""

_ARC: Final = 17.0
_SHARES: Final = (1.0, 0.85, 0.7, 0.55, 0.4)
"""Of the largest arc: how large others are that are tried where its letter is not plain."""

_GOOD_ARC: Final = 10.0
_LEAST_ARC: Final = 6.0
_NAME: Final = 2.8

Back = tuple[str, Obstacle, float]
"""The letter of a set-back, its obstacle, and how far it must stand back, mm."""


def plan_view(reach: Reach, width: float, height: float, told: Units | None = None) -> Drawing:
    """From above, the moving jaw up, within a box that stands on (0, 0); set as the cut asks for it.

    What is in the way of the blade is drawn as wrong, as far as it is so. Where `told` gives units it is also told by
    how much, and drawn how far the arm swings to either side.
    """
    way = feed_way(reach.setting.saw)
    backs, half, across = tuple(_backs(reach)), width / 2, reach.section.width
    steel = Drawing([*_obstacles(reach, way), *_on_the_blade(reach, way)])
    steel += Drawing(_limits(reach, way) if told else ())
    x0, y0, x1, y1 = (steel + Drawing([Line((0, 0), (0, across), THIN)])).bounds()
    most = max(-x0, x1, *(need for _, _, need in backs))
    above, below = (_LEAST_ROOM + _ROW * max(sum(_out(o) == out for _, o, _ in backs) - 0.5, 0) for out in (1, -1))
    k = min((half - _ENDS) / max(most, 1e-9), (height - above - below) / (y1 - y0))
    bar = Drawing([_block(-half / k, 0.0, half / k, reach.section.width, way, None)])
    drawn = (steel + bar).scaled(k)
    lettered = list(_set_backs(reach, backs, way, k, (y0 * k, y1 * k)))
    if reach.side != "square":
        lettered.append(plainest(drawn, lettered, _swings(reach, way, k), ()))
    drawing = with_letters(drawn, lettered)
    drawing += Drawing(_told(drawing, _short(reach, way, told), k) if told else ())
    drawing = _with_sides(drawing, half, across * k, way)
    middle = (height + below - above) / 2
    return drawing.moved(half, middle - (y0 + y1) / 2 * k)


def set_back_rows(reach: Reach) -> int:
    """How many set-backs are drawn, and so for how many dimension lines a plan needs room."""
    return len(tuple(_backs(reach)))


def _backs(reach: Reach) -> Iterator[Back]:
    """The set-backs that the blade asks for, longest first."""
    found = [
        (back(number), obstacle, reach.set_backs.get(obstacle.name, 0.0))
        for number, obstacle in enumerate(reach.setting.saw.obstacles, 1)
    ]
    yield from sorted((one for one in found if one[2] > 0), key=lambda one: -one[2])


def _out(obstacle: Obstacle) -> float:
    """Above (1) or below (-1) the picture, on the side where an obstacle ends."""
    return 1.0 if obstacle.stands == "moving-jaw" else -1.0


def _with_sides(drawing: Drawing, half: float, across: float, way: float) -> Drawing:
    """Where the bar goes to and comes from, clear of the rest, and which side of it is which where there is room."""
    edges = list(strokes(drawing))
    taken = [part for part in drawing.primitives() if isinstance(part, Text)]
    named = len(taken)
    heights = (across / 2, -3.5, across + 3.5, -7.5, across + 7.5, -11.5, across + 11.5, across + 15.5)
    for says, end in ((phrase("setting.discharge"), -way), (phrase("setting.feed"), way)):
        places = [_at_end(says, end * half, y) for y in heights]
        taken.append(first_clear(places, edges, taken) or places[1])
    for says, edge, out in ((phrase("side.moving"), across, 1.0), (phrase("side.fixed"), 0.0, -1.0)):
        places = [_at_end(says, x, edge + out * step) for step in (3.5, 7.5) for x in (half, -half)]
        found = first_clear(places, edges, taken)
        taken += [found] if found else []
    return drawing + Drawing(taken[named:])


def _at_end(says: str, x: float, y: float) -> Text:
    """A name at the left or right end of the picture, x from its middle."""
    inset = 1 + text_width(says, _NAME) / 2
    return Text((x - copysign(inset, x), y), says, _NAME, "center", "middle")


def _corners(reach: Reach, obstacle: Obstacle) -> tuple[float, float, float, float]:
    """An obstacle (x0, y0, x1, y1), set back as far as the cut asks where it can be."""
    y0, y1 = reach.setting.across(obstacle)
    need = reach.set_backs.get(obstacle.name, obstacle.edge)
    edge = max(obstacle.edge, need) if obstacle.adjustable else obstacle.edge
    return (edge, y0, edge + _DEEP, y1) if obstacle.side == "feed" else (-edge - _DEEP, y0, -edge, y1)


def _obstacles(reach: Reach, way: float) -> Iterator[Entity]:
    """Each obstacle; of one that is in the way of the blade also how far it is."""
    for obstacle in reach.setting.saw.obstacles:
        corners = x0, y0, x1, y1 = _corners(reach, obstacle)
        yield _block(*corners, way, 0.85)
        need = reach.set_backs.get(obstacle.name, 0.0)
        if longer(need, obstacle.edge) and not obstacle.adjustable:
            edge, back = (x0, need) if obstacle.side == "feed" else (x1, -need)
            yield attrs.evolve(_block(edge, y0, back, y1, way, _IN_THE_WAY), layer=WRONG)


def _short(reach: Reach, way: float, units: Units) -> Iterator[tuple[str, Point]]:
    """By how much each thing in the way is so, and where that is, mm."""
    by_code = {reason.code: reason for reason in reach.reasons}
    for obstacle in reach.setting.saw.obstacles:
        by = reach.set_backs.get(obstacle.name, 0.0) - obstacle.edge
        if longer(by, 0.0) and not obstacle.adjustable:
            x0, y0, x1, y1 = _corners(reach, obstacle)
            edge, out = (x0, by) if obstacle.side == "feed" else (x1, -by)
            yield show_limit(by, units, "up"), (way * (edge + out / 2), (y0 + y1) / 2)
    guides = reach.setting.saw.guides
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        for code, u in (("fixed-guide", guides.fixed_u), ("opening", guides.fixed_u + reach.guide_setting)):
            if code in by_code:
                by = abs(by_code[code].need - by_code[code].have)
                yield show_limit(by, units, "up"), _on_blade(reach, reach.swing, way, (u, 0.0))


def _told(drawing: Drawing, found: Iterator[tuple[str, Point]], k: float) -> Iterator[Text]:
    """Each figure at the first clear place about where it belongs."""
    edges, taken = list(strokes(drawing)), [part for part in drawing.primitives() if isinstance(part, Text)]
    for says, (x, y) in found:
        turns = [2 * pi * i / _WAYS for i in range(_WAYS)]
        steps = [(0.0, 0.0), *((r * cos(turn), r * sin(turn)) for r in _RINGS for turn in turns)]
        places = [Text((x * k + dx, y * k + dy), says, _NAME, "center", "middle", layer=WRONG) for dx, dy in steps]
        text = first_clear(places, edges, taken) or places[0]
        taken.append(text)
        yield text


_RINGS: Final = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 13.0, 17.0)
_WAYS: Final = 24
"""Paper mm from where a figure belongs to where it stands, and how many ways out."""

_IN_THE_WAY: Final = 0.45
"""Grey of what is in the way."""


def _swings(reach: Reach, way: float, k: float) -> Iterator[Lettered]:
    """The swing between the square line and the blade, first at its moving-jaw end where enough of that is drawn."""
    bed, m = reach.setting.saw.bed, radians(reach.swing)
    low, high = (end * _ON_BOTH * cos(m) * k for end in _blade_span(reach))
    moving, fixed = (90.0, high), (-90.0, -low)
    crossing = ((bed.swing_axis or 0.0) - bed.blade_offset * tan(m / 2)) * k
    for start, most in (moving, fixed) if high >= min(_GOOD_ARC, -low) else (fixed, moving):
        for share in _SHARES:
            radius = max(min(_LEAST_ARC, most), share * min(_ARC, most))
            yield angle(SWING, (0.0, crossing), start, -way * reach.swing, radius)


_ON_BOTH: Final = 0.97
"""Of the shorter of blade and square line: as far out an arc still ends on both."""


def _set_backs(
    reach: Reach, backs: tuple[Back, ...], feed: float, k: float, edges: tuple[float, float]
) -> Iterator[Lettered]:
    """Each set-back from the square line, outside everything drawn, the longest nearest, its letter at its far end."""
    rows: dict[tuple[float, int], list[tuple[float, float]]] = {}
    for letter, obstacle, need in backs:
        _, y0, _, y1 = _corners(reach, obstacle)
        out, way = _out(obstacle), feed if obstacle.side == "feed" else -feed
        y = (y1 if obstacle.stands == "moving-jaw" else y0) * k
        first = edges[1] if out > 0 else edges[0]
        tried = level(letter, (0.0, y), (way * need * k, y), 0.0)
        span, at = _span(tried, way)
        row = next(row for row in count() if not any(_meet(span, other) for other in rows.get((out, row), [])))
        rows.setdefault((out, row), []).append(span)
        line = first + out * (_FIRST + _ROW * row)
        yield attrs.evolve(level(letter, (0.0, y), (way * need * k, y), line - y), at=(at, line))


def _span(one: Lettered, way: float) -> tuple[tuple[float, float], float]:
    """From x to x of a set-back with its letter past its far end, and where the middle of the letter stands."""
    xs, half = sorted(x for x, _ in one.ends), text_width(one.letter, LETTER) / 2
    at = xs[1] + 1 + half if way > 0 else xs[0] - 1 - half
    return (min(xs[0], at - half), max(xs[1], at + half)), at


def _meet(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two stretches share more than an end."""
    return one[0] < other[1] - 1e-9 and other[0] < one[1] - 1e-9


def _blade_span(reach: Reach) -> tuple[float, float]:
    """From u to u of the blade as it is drawn: past the bar, the guides and what stands beside it."""
    setting, guides, bed = reach.setting, reach.setting.saw.guides, reach.setting.saw.bed
    u0, u1 = setting.extent or (0.0, reach.section.width)
    for obstacle in (one for one in setting.saw.obstacles if one.stands != "across"):
        ends = [(y - (bed.swing_axis or 0.0)) / cos(radians(reach.swing)) for y in setting.across(obstacle)]
        u0, u1 = min(u0, *ends), max(u1, *ends)
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        u0, u1 = min(u0, guides.fixed_u - _GUIDE), max(u1, guides.fixed_u + reach.guide_setting + _GUIDE)
    return u0 - _PAST, u1 + _PAST


def _on_the_blade(reach: Reach, way: float) -> Iterator[Entity]:
    """The blade as a line past the swing axis, the square cut line at x = 0, and the guides on the blade."""
    saw, m = reach.setting.saw, radians(reach.swing)
    axis, (low, high) = saw.bed.swing_axis or 0.0, _blade_span(reach)

    def at(u: float, off: float = 0.0) -> Point:
        return _on_blade(reach, reach.swing, way, (u, off))

    yield Line(at(low), at(high), OUTLINE if saw.scale.reaches(reach.swing) else WRONG)
    yield Line((0, axis + low * cos(m)), (0, axis + high * cos(m)), CENTER)
    guides, wrong = saw.guides, {reason.code for reason in reach.reasons}
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        g = guides.half_thickness
        moving = guides.fixed_u + reach.guide_setting
        for u, out, code in ((guides.fixed_u, -1, "fixed-guide"), (moving, 1, "opening")):
            far, layer = u + out * _GUIDE, WRONG if code in wrong else THIN
            yield Polygon([at(u, -g), at(u, g), at(far, g), at(far, -g)], layer, fill=0.6)


def _on_blade(reach: Reach, swing: float, way: float, place: Point) -> Point:
    """Where a place (u along the blade, and off it) lies with the arm at a swing."""
    bed, m = reach.setting.saw.bed, radians(swing)
    (u, off), beside = place, bed.blade_offset
    off += beside
    return (way * (u * sin(m) + off * cos(m) - beside), (bed.swing_axis or 0.0) + u * cos(m) - off * sin(m))


def _limits(reach: Reach, way: float) -> Iterator[Line]:
    """The blade where the scale ends on either side, as far out as it is drawn."""
    scale, (low, high) = reach.setting.saw.scale, _blade_span(reach)
    for most in (scale.feed_side_most, -scale.discharge_side_most):
        a, b = (_on_blade(reach, most, way, (u, 0.0)) for u in (low * _SHORT, high * _SHORT))
        yield Line(a, b, HIDDEN)


_SHORT: Final = 0.5
"""Of the blade's length: how long it is drawn where it could be."""


def _block(x0: float, y0: float, x1: float, y1: float, way: float, fill: float | None) -> Polygon:
    corners = [(way * x0, y0), (way * x1, y0), (way * x1, y1), (way * x0, y1)]
    return Polygon(corners, THIN if fill else OUTLINE, fill)
