"""A bar on the saw from above, as the operator sees it, with figures where they are set; knows reach. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, inf, radians, sin
from typing import Final

import attrs

from mitertool.drawing import CENTER, HIDDEN, OUTLINE, THIN, Arc, Dimension, Drawing, Entity, Line, Point, Polygon, Text
from mitertool.drawing import text_width as wide
from mitertool.drawing.lettering import fit
from mitertool.packet.floor.values import BarWork, SetBack
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.clear import is_clear, strokes
from mitertool.packet.paper.layout import LEAST
from mitertool.packet.paper.stand import feed_way
from mitertool.quantity import Units, show_length, show_limit
from mitertool.saw import Machine, Reach
from mitertool.saw.file.machine import Obstacle
from mitertool.words import phrase

_JAW: Final = 30.0
_DEEP: Final = 30.0
"""mm of a jaw, or of what stands in the way, that are drawn across the bed and along the bar."""

_GUIDE: Final = 30.0
_PAST: Final = 10.0
"""mm of a guide along the blade, and how far the blade runs past everything."""

_ROW_OF_SIZE: Final = 4.8
"""Paper mm between the dimension lines of set-backs."""

_SIDE: Final = 15.0
"""Paper mm kept at either end for a figure past its line."""

_BESIDE: Final = 1.5
"""Paper mm between the bar and the word past its end."""

_SIGNS: Final = 4.6
"""Paper mm above and below the picture for the names of the sides."""


@attrs.frozen
class _Size:
    """How far the edge of a thing stands off the pivot line, mm: at least where it is set, else just so."""

    back: SetBack
    length: float
    is_set: bool

    @property
    def moves(self) -> bool:
        """Whether it is moved, from where the saw file has it stand."""
        return self.is_set and self.back.moves


def sizes_of(work: BarWork) -> Iterator[_Size]:
    """Of each thing that slides, where it must stand back; of each that does not where it stands."""
    reach = next((setting.reach for setting in work.settings if setting.reach.ok), None)
    things = {one.name: one for one in reach.setting.saw.obstacles} if reach else {}
    for back in work.set_backs:
        thing = things.get(back.name)
        if thing and not thing.adjustable:
            yield _Size(back, thing.edge, False)
        elif thing and back.least:
            yield _Size(back, back.least, True)


@attrs.frozen
class _Plan:
    """The first setting of a bar as it is drawn, the feed side to the right where `way` is 1; `k` paper mm a mm."""

    work: BarWork
    reach: Reach
    way: float

    @property
    def sizes(self) -> tuple[_Size, ...]:
        """How far things stand off the pivot line, longest first."""
        return tuple(sorted(sizes_of(self.work), key=lambda one: -one.length))

    @property
    def guides(self) -> tuple[float, float] | None:
        """Where the inner faces of both stand along the blade, counted from the swing axis; None where nobody knows."""
        guides, apart = self.reach.setting.saw.guides, self.work.guides or self.reach.guide_setting
        if guides is None or guides.fixed_u is None or apart is None:
            return None
        return guides.fixed_u, guides.fixed_u + apart

    def corners(self, obstacle: Obstacle) -> tuple[float, float, float, float]:
        """A block (x0, y0, x1, y1) as it stands for all cuts of the bar, no more of it than is drawn."""
        y0, y1 = self.reach.setting.across(obstacle)
        y0, y1 = (y0, min(y1, y0 + _JAW)) if obstacle.stands == "moving-jaw" else (max(y0, -_JAW), y1)
        y1 = min(y1, self.reach.section.width + _JAW)
        need = next((back.least for back in self.work.set_backs if back.name == obstacle.name), None)
        edge = max(obstacle.edge, need or 0.0) if obstacle.adjustable else obstacle.edge
        side = self.way if obstacle.side == "feed" else -self.way
        x0, x1 = sorted((side * edge, side * (edge + _DEEP)))
        return x0, y0, x1, y1

    def on_blade(self, reach: Reach, u: float, off: float = 0.0) -> Point:
        """A place along a blade from the swing axis, and `off` it; the square cut line lies at x = 0."""
        bed, m = reach.setting.saw.bed, radians(reach.swing)
        axis, beside = bed.swing_axis or 0.0, bed.blade_offset
        off += beside
        return self.way * (u * sin(m) + off * cos(m) - beside), axis + u * cos(m) - off * sin(m)


def bar_plan(work: BarWork, saw: Machine, units: Units, width: float, height: float) -> Drawing:
    """In a box that stands on (0, 0); nothing where the saw can make no cut of the bar."""
    reaches = [setting.reach for setting in work.settings if setting.reach.ok]
    if not reaches:
        return Drawing()
    plan = _Plan(work, reaches[0], feed_way(saw))
    steel = Drawing([*_blocks(plan, saw), *_blades(plan, reaches), *_guides(plan)])
    bar = work.section.width
    x0, y0, x1, y1 = (steel + Drawing([Line((0, 0), (0, bar), THIN)])).bounds()
    above, below = (_SIGNS + _ROW_OF_SIZE * set_back_rows(work, moving) for moving in (True, False))
    half, ends = width / 2, _end_words(plan)
    rooms = [max(_SIDE, wide(says, NOTE) + _BESIDE) for says in ends]
    backs = [plan.way * size.length * (1 if size.back.side == "feed" else -1) for size in plan.sizes]
    reached = [max(-x0, *(-x for x in backs), 1.0), max(x1, *backs, 1.0)] if backs else [max(-x0, 1.0), max(x1, 1.0)]
    most = min(
        (height - above - below) / (y1 - y0), *((half - room) / x for room, x in zip(rooms, reached, strict=True))
    )
    k = next((most * share for share in _SHARES if _named_all(plan, most * share, units, half)), most)
    left, right = (half - wide(says, NOTE) - _BESIDE for says in ends)
    sides = Drawing([Line((-left / k, y), (right / k, y), OUTLINE) for y in (0.0, bar)])
    low = y0 * k - below
    drawn = (steel + sides).scaled(k) + Drawing(_sizes(plan, k, units, (y0 * k, y1 * k), half))
    drawn += Drawing(_sides_named(ends, bar * k / 2, (half, low, low + height)))
    drawn += Drawing(_told_below(plan, half, low))
    drawn += _pivot_and_guide(drawn, plan, (low, low + height), k)
    return drawn.moved(half, -low)


def _pivot_and_guide(drawn: Drawing, plan: _Plan, box: Point, k: float) -> Drawing:
    """The ring at the pivot and the name of the guide; the name alone where a line to it has no way beside the ring."""
    ring = list(_pivot(plan, k))
    for rings in (ring, ()):
        if named := _guide_named(drawn, plan, rings, box, k):
            return Drawing([*rings, *named])
    return Drawing(ring)


def _end_words(plan: _Plan) -> list[str]:
    """Where the bar goes to and comes from, as they lie at the left and the right of the picture."""
    words = [phrase("sheet.discharge-side"), phrase("sheet.feed-side")]
    return words if plan.way > 0 else words[::-1]


def _sides_named(ends: Sequence[str], middle: float, box: tuple[float, float, float]) -> Iterator[Text]:
    """The four sides, in every picture at the same places: past both ends of the bar, and in the corners at the left.

    `box` is half the width of the picture, and from where to where it goes up.
    """
    half, low, high = box
    yield Text((-half, middle), ends[0], NOTE, "left", "middle")
    yield Text((half, middle), ends[1], NOTE, "right", "middle")
    yield Text((-half, high - NOTE / 2 - 0.4), phrase("side.moving"), NOTE, "left", "middle")
    yield Text((-half, low + NOTE / 2 + 0.3), phrase("side.fixed"), NOTE, "left", "middle")


def _told_below(plan: _Plan, half: float, low: float) -> Iterator[Text]:
    """What the figures say, and that what has a bold one is moved, in the corner at the right."""
    if any(size.is_set for size in plan.sizes):
        left = wide(phrase("side.fixed"), NOTE) + 3.0 - half
        says = phrase("sheet.clear-of-pivot/move" if any(size.moves for size in plan.sizes) else "sheet.clear-of-pivot")
        yield Text((half, low + NOTE / 2 + 0.3), says, fit(says, half - left, NOTE), "right", "middle")


def _pivot(plan: _Plan, k: float) -> Iterator[Arc]:
    """A ring at the pivot; none where a guide stands over it: there the blade crosses the pivot line all the same."""
    axis = plan.reach.setting.saw.bed.swing_axis
    spans = [sorted((u, u + way * _GUIDE)) for u, way in zip(plan.guides or (), (-1, 1), strict=False)]
    off = min((max(low, -high, 0.0) for low, high in spans), default=inf)
    if axis is not None and off * k >= _RING + _OFF:
        yield Arc((0.0, axis * k), _RING, 0.0, 360.0, THIN)


_RING, _OFF = 0.8, 0.4
"""Paper mm: the ring at the pivot, and how far from it a guide is told apart."""


def _blocks(plan: _Plan, saw: Machine) -> Iterator[Entity]:
    for obstacle in saw.obstacles:
        x0, y0, x1, y1 = plan.corners(obstacle)
        yield Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], THIN, 0.85)


def _blades(plan: _Plan, reaches: Sequence[Reach]) -> Iterator[Entity]:
    """The square cut line, the blade of the first setting thick, those of the others dashed."""
    low, high = _span(plan)
    yield Line((0.0, low), (0.0, high), CENTER)
    seen: set[float] = set()
    for i, reach in enumerate(reaches):
        if round(reach.swing, 3) not in seen:
            seen.add(round(reach.swing, 3))
            axis, c = reach.setting.saw.bed.swing_axis or 0.0, cos(radians(reach.swing))
            ends = [plan.on_blade(reach, (y - axis) / c) for y in (low, high)]
            yield Line(ends[0], ends[1], HIDDEN if i else OUTLINE)


def _span(plan: _Plan) -> Point:
    """From where to where across the bed the picture goes: the bar, what stands beside it, and the pivot."""
    saw = plan.reach.setting.saw
    ys = [0.0, plan.reach.section.width, saw.bed.swing_axis or 0.0]
    ys += [y for obstacle in saw.obstacles for y in plan.corners(obstacle)[1::2]]
    return min(ys) - _PAST, max(ys) + _PAST


def _guides(plan: _Plan) -> Iterator[Polygon]:
    """Both guides on the blade of the first setting, as far as they lie in the picture."""
    reach, guides = plan.reach, plan.reach.setting.guides
    g, (low, high) = max(guides.half_thickness, 4.0), _span(plan)
    for u, way in zip(plan.guides or (), (-1, 1), strict=False):
        corners = [plan.on_blade(reach, at, off) for at, off in ((u, -g), (u, g), (u + way * _GUIDE, g))]
        corners.append(plan.on_blade(reach, u + way * _GUIDE, -g))
        if low - _GUIDE < corners[0][1] < high + _GUIDE:
            yield Polygon(corners, THIN, 0.6)


def set_back_rows(work: BarWork, moving: bool) -> int:
    """For how many dimension lines there must be room above, at the moving side, or below: one row has both sides."""
    found = [one.back.side for one in sizes_of(work) if (one.back.stands == "moving-jaw") == moving]
    return max(found.count(side) for side in ("feed", "discharge"))


def _sizes(plan: _Plan, k: float, units: Units, edges: Point, half: float) -> Iterator[Entity]:
    """Each set-back from the pivot line outside everything; past its far end its figure, and of what it is.

    The figure of what is moved is bold and large, that of what stands clear or stays where it is as small as its name.
    """
    rows: dict[tuple[bool, str], int] = {}
    saw = plan.reach.setting.saw
    by_name, names = {obstacle.name: obstacle for obstacle in saw.obstacles}, said.things(saw)
    for size in plan.sizes:
        back = size.back
        moving = back.stands == "moving-jaw"
        side = plan.way if back.side == "feed" else -plan.way
        _, y0, _, y1 = plan.corners(by_name[back.name])
        y = (y1 if moving else y0) * k
        row = rows[moving, back.side] = rows.get((moving, back.side), -1) + 1
        line = (edges[1] if moving else edges[0]) + (1 if moving else -1) * (3.4 + _ROW_OF_SIZE * row)
        says, tall = _figure(size, units)
        measure, end = _measure(size, side * k, y, line)
        figure = wide(says, tall, bold=size.moves)
        yield measure
        yield Text((end + side * (figure / 2 + 0.8), line), says, tall, "center", "middle", 0.0, size.moves)
        room, name = half - abs(end) - figure - _NAMED, names[back.name]
        if wide(name, LEAST) <= room:
            at = (end + side * (figure + _NAMED), line)
            yield Text(at, name, fit(name, room, NOTE), "left" if side > 0 else "right", "middle")


_NAMED: Final = 2.2
"""Paper mm about the figure of a set-back, before the name of what stands back."""

_SHARES: Final = (1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6)
"""By how much a picture may be smaller than its box, so that the names beside its sizes have room."""


def _named_all(plan: _Plan, k: float, units: Units, half: float) -> bool:
    """Whether everything that stands back has room for its name."""
    names = said.things(plan.reach.setting.saw)
    for size in plan.sizes:
        says, tall = _figure(size, units)
        _, end = _measure(size, k, 0.0, 1.0)
        if end + wide(says, tall, bold=size.moves) + _NAMED + wide(names[size.back.name], LEAST) > half:
            return False
    return True


def _figure(size: _Size, units: Units) -> tuple[str, float]:
    """How far it is, and how high that is set."""
    says = show_limit(size.length, units, "up") if size.is_set else show_length(size.length, units)
    return says, ROW if size.moves else NOTE


def _measure(size: _Size, k: float, y: float, line: float) -> tuple[Dimension, float]:
    """The dimension line from the pivot line to an edge, to the left where `k` is less than 0; and where it ends."""
    x = size.length * k
    measure = Dimension((0.0, y), (x, y), line - y, "", NOTE, along=0.0)
    low, _, high, _ = Drawing([measure]).bounds()
    return measure, max(high, x) if k > 0 else min(low, x)


def _guide_named(drawn: Drawing, plan: _Plan, rings: Sequence[Arc], box: Point, k: float) -> list[Entity]:
    """The moving guide by name at the first clear place beside it, and a line to it that crosses no lettering or ring.

    `box` is from where to where the name may go up. How far that guide is from the fixed one stands in words beside
    the picture.
    """
    if plan.guides is None:
        return []
    near, middle = (plan.on_blade(plan.reach, plan.guides[1] + off) for off in (0.0, _GUIDE / 2))
    edges, taken = (
        list(strokes(drawn + Drawing(rings))),
        [part for part in drawn.primitives() if isinstance(part, Text)],
    )
    taken += [Text(ring.center, "O", _RING, "center", "middle") for ring in rings]
    middles = [attrs.evolve(one, says=f"  {one.says}  ", at=_middle(one), anchor="center") for one in taken]
    for place in _guide_places((near[0] * k, near[1] * k), plan.way):
        if not box[0] + NOTE <= place.at[1] <= box[1] - NOTE / 2 or not is_clear(place, edges, middles):
            continue
        led = _led(place, (middle[0] * k, middle[1] * k))
        if all(is_clear(one, [(led.a, led.b)], ()) for one in middles):
            return [place, led]
    return []


def _guide_places(at: Point, way: float) -> Iterator[Text]:
    """Where the name of the moving guide may stand, about its middle, nearest first."""
    says = phrase("sheet.guide")
    for off in (3.0, 5.0, 8.0, 11.0, 15.0):
        for side in (way, -way):
            for up in (2.0, 0.0, 4.5, -2.5, 7.0, 10.0):
                x = at[0] + side * (wide(says, NOTE) / 2 + off)
                yield Text((x, at[1] + up), says, NOTE, "center", "middle")


def _led(name: Text, to: Point) -> Line:
    """A line from the nearer end of a name, set about its middle, to a place."""
    side = 1.0 if to[0] > name.at[0] else -1.0
    return Line((name.at[0] + side * (name.width / 2 + 0.6), name.at[1]), to, THIN)


def _middle(text: Text) -> Point:
    way = {"left": 0.5, "center": 0.0, "right": -0.5}[text.anchor]
    return text.at[0] + way * text.width, text.at[1]
