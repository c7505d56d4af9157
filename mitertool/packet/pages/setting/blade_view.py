"""The plane of the blade with the face in it, the edge on its way down, guides and stop; knows reach. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.cut.blade.arms import BladeArm, HingedArm
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from mitertool.drawing import (
    CENTER,
    HIDDEN,
    MARKED,
    MOVED,
    OUTLINE,
    THIN,
    Arc,
    Drawing,
    Entity,
    Layer,
    Line,
    Point,
    Polygon,
)
from mitertool.geometry import image_of
from mitertool.packet.pages.setting.letters import (
    GAP,
    GUIDE,
    LIFT,
    STOP,
    TRAVEL,
    Lettered,
    angle,
    level,
    upright,
    with_letters,
)
from mitertool.packet.paper.views import face_entity
from mitertool.saw import Reach

_GUIDE: Final = (40.0, 14.0)
"""mm of a guide drawn along the blade, and how high."""

_PAST: Final = 25.0
"""mm that the edge runs past everything on it."""

_BELOW: Final = 18.5
"""Paper mm below everything drawn for the guides' dimensions."""

_ROWS: Final = (-7.2, -14.9)
"""Paper mm below everything drawn at which these stand."""

_ABOVE: Final = 5.0
_BESIDE: Final = 12.0
_NARROW: Final = 60.0
"""Paper mm. A picture that would be narrower grows higher instead."""

_FAR: Final = 3.0
"""A hinge further from the bar than so many times the stretch drawn otherwise stays outside the picture."""


EDGES: Final = "setting.edges"
"""How the cutting edge is drawn, by its code."""


def blade_view(reach: Reach, width: float, height: float) -> Drawing:
    """In a box that stands on (0, 0): bed, face, guides, edge at rest, lifted, at first touch, half way and through.

    Up to twice as high where it would be narrow. Without edges where the saw file tells of no arm, or the bar lies in
    the hinge; empty without guides either.
    """
    if reach.passage is None and reach.guide_opening is None:
        return Drawing(())
    low, high = _span(reach)
    steel = Drawing([Line((low, 0), (high, 0), THIN), *_face(reach), *_edges(reach, low, high), *_guides(reach)])
    steel += Drawing(_hinge(reach, low, high))
    x0, y0, x1, y1 = steel.bounds()
    across, up = x1 - x0, y1 - y0
    by_height = (height - _BELOW - _ABOVE) / up
    k = min((width - 2 * _BESIDE) / across, max(by_height, min(_NARROW / across, 2 * by_height)))
    lettered = [*_guide_letters(reach, y0 * k, k), *_arm_letters(reach, low, high, k)]
    drawing = with_letters(steel.scaled(k), lettered)
    return drawing.moved(width / 2 - (x0 + x1) / 2 * k, _BELOW - y0 * k)


def moving_view(reach: Reach, position: float, width: float, height: float) -> Drawing:
    """The face from near with the edge at a position of the arm from lifted to through, the steel on it; on (0, 0).

    Nothing moves or grows from one position to another but the edge. Empty where `blade_view` draws no edge.
    """
    way = reach.passage
    if way is None:
        return Drawing(())
    low, high = _near(reach)
    places = [(way.first_touch, HIDDEN), (way.through, HIDDEN)]
    places += [] if reach.arm_lift is None else [(reach.arm_lift, THIN)]
    ends = (_edge(way.arm, place, low, high, layer) for place, layer in places)
    still = Drawing([Line((low, 0), (high, 0), THIN), *_face(reach), *ends])
    x0, y0, x1, y1 = still.bounds()
    k = min(width / (x1 - x0), height / (y1 - y0))
    moved = [_edge(way.arm, position, low, high, MOVED), *_steel(way, position)]
    return (still + Drawing(moved)).scaled(k).moved(width / 2 - (x0 + x1) / 2 * k, -y0 * k)


def _near(reach: Reach) -> Point:
    """From u to u of the face with some of the edge beside it."""
    low, high = _extent(reach)
    beside = max(_PAST, (high - low) * _BESIDE_FACE)
    return low - beside, high + beside


_BESIDE_FACE: Final = 0.4
"""Of the face's width: how much of the edge is drawn on either side of it from near."""


def _steel(way: Passage, position: float) -> Iterator[Line]:
    """The walls on the edge, each from side to side."""
    line = way.line(position)
    for stretch in way.at(position):
        for near, far in stretch.pairs:
            yield Line(way.plane.at(near.point(line)), way.plane.at(far.point(line)), MARKED)


def _plane(reach: Reach) -> BladePlane:
    """The plane of the blade; u counts from the fixed jaw where it is not known where the swing axis stands."""
    return reach.setting.plane or BladePlane.of(reach.swing, reach.tilt, 0.0, 0.0)


def _extent(reach: Reach) -> Point:
    """From u to u of the face."""
    plane, region = _plane(reach), reach.section.region
    return plane.u0 - region.support(-plane.uy, -plane.uz), plane.u0 + region.support(plane.uy, plane.uz)


def _gap(reach: Reach) -> Point:
    """From u to u of the least gap between the guides; of the face where the saw file tells of none."""
    low, high = _extent(reach)
    beside = 0.0 if reach.guide_opening is None else (reach.guide_opening - (high - low)) / 2
    return low - beside, high + beside


def _span(reach: Reach) -> tuple[float, float]:
    """From u to u: the bar, the guides, the stop, and the hinge where it is not far off."""
    guides, arm = reach.setting.saw.guides, reach.setting.saw.arm
    places = [*_gap(reach), 0.0]
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        places += [guides.fixed_u - _GUIDE[0], guides.fixed_u + reach.guide_setting + _GUIDE[0]]
    if arm:
        places.append(arm.stop)
    low, high = min(places) - _PAST, max(places) + _PAST
    if arm and arm.pin and abs(arm.pin[0]) < _FAR * (high - low):
        low, high = min(low, arm.pin[0] - _PAST), max(high, arm.pin[0] + _PAST)
    return low, high


def _face(reach: Reach) -> Iterator[Entity]:
    """The true face of the cut where the blade meets it, u to the right."""
    plane = _plane(reach)
    parts = (
        face_entity(image_of(s, (plane.uy, plane.uz, 0.0, plane.vz)), OUTLINE) for s in reach.section.region.segments
    )
    yield from Drawing(parts).moved(plane.u0, 0.0).entities


def _edge(arm: BladeArm, position: float, low: float, high: float, layer: Layer) -> Line:
    return Line((low, arm.height(position, low)), (high, arm.height(position, high)), layer)


def _edges(reach: Reach, low: float, high: float) -> Iterator[Line]:
    way, lift = reach.passage, reach.arm_lift
    if way is None:
        return
    middle = (way.first_touch + way.through) / 2
    places = ((way.first_touch, HIDDEN), (middle, CENTER), (way.through, OUTLINE), (0.0, THIN))
    for position, layer in (*places, *([(lift, THIN)] if lift is not None else [])):
        yield _edge(way.arm, position, low, high, layer)


def _guides(reach: Reach) -> Iterator[Polygon]:
    """The guides on the lifted edge, or over the face where no arm is known."""
    guides, arm, lift = reach.setting.saw.guides, reach.setting.saw.arm, reach.arm_lift
    if guides is None or guides.fixed_u is None or reach.guide_setting is None:
        return
    over = _plane(reach).vz * reach.section.height + _GUIDE[1]
    for u, way in ((guides.fixed_u, -1), (guides.fixed_u + reach.guide_setting, 1)):
        near, far = (
            (x, over if arm is None or lift is None else arm.height(lift, x)) for x in (u, u + way * _GUIDE[0])
        )
        yield Polygon([near, far, (far[0], far[1] + _GUIDE[1]), (near[0], near[1] + _GUIDE[1])], THIN, fill=0.6)


def _hinge(reach: Reach, low: float, high: float) -> Iterator[Entity]:
    arm = reach.setting.saw.arm
    if reach.passage and arm and arm.pin and low < arm.pin[0] < high:
        yield Arc(arm.pin, 8.0, 0.0, 360.0, OUTLINE)


def _arm_letters(reach: Reach, low: float, high: float, k: float) -> Iterator[Lettered]:
    way, lift = reach.passage, reach.arm_lift
    if way is None or lift is None:
        return
    arm = way.arm

    def at(position: float, u: float) -> Point:
        return u * k, arm.height(position, u) * k

    if isinstance(arm, HingedArm):
        extent = _extent(reach)
        yield from _angle(arm, extent, (0.0, lift), LIFT, (low, high), k)
        yield from _angle(arm, extent, (way.through, way.first_touch), TRAVEL, (low, high), k)
    else:
        yield upright(LIFT, at(0.0, low), at(lift, low), 4.0)
        yield upright(TRAVEL, at(way.through, high), at(way.first_touch, high), -4.0)
    if reach.stop_height is not None:
        yield upright(STOP, (arm.stop * k, 0.0), at(lift, arm.stop), 0.0)


_SHARES: Final = {LIFT: 0.42, TRAVEL: 0.85}
"""How far on the way from the crossing of the edges, or the side of the picture, to the bar an angle is drawn."""


def _angle(arm: HingedArm, extent: Point, positions: Point, letter: str, drawn: Point, k: float) -> Iterator[Lettered]:
    """The angle between the edge at two positions, between their crossing and the bar."""
    first, last = positions
    if last <= first:
        return
    u, z = _crossing(arm, first, last)
    bar, side = min(abs(extent[0] - u), abs(extent[1] - u)), min(abs(drawn[0] - u), abs(drawn[1] - u))
    outside = 0.0 if drawn[0] < u < drawn[1] else side
    start, sweep = (180.0 - first, first - last) if arm.hinge_u > 0 else (first, last - first)
    most = max(abs(drawn[0] - u), abs(drawn[1] - u))
    radius = max((outside + _SHARES[letter] * (bar - outside)) * k, min(_LEAST_ARC[letter], _SHARES[letter] * most * k))
    yield angle(letter, (u * k, z * k), start, sweep, radius)


_LEAST_ARC: Final = {LIFT: 6.0, TRAVEL: 11.0}
"""Paper mm."""


def _crossing(arm: HingedArm, first: float, last: float) -> Point:
    """Where the edge at two positions of a hinged arm crosses itself."""
    (a0, a1), (b0, b1) = ([arm.height(p, u) for u in (0.0, 1.0)] for p in (first, last))
    u = (b0 - a0) / ((a1 - a0) - (b1 - b0))
    return u, a0 + u * (a1 - a0)


def _guide_letters(reach: Reach, lowest: float, k: float) -> Iterator[Lettered]:
    """Below everything: the least gap about the face, and the moving guide from the fixed one."""
    guides, gap = reach.setting.saw.guides, _gap(reach)
    if guides is None or reach.guide_opening is None:
        return
    yield level(GAP, (gap[0] * k, 0.0), (gap[1] * k, 0.0), lowest + _ROWS[0])
    if guides.fixed_u is not None and reach.guide_setting is not None:
        ends = guides.fixed_u, guides.fixed_u + reach.guide_setting
        yield level(GUIDE, (ends[0] * k, 0.0), (ends[1] * k, 0.0), lowest + _ROWS[1])
