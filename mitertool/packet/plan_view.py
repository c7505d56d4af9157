"""A saw with a bar in it seen from above, to scale, with letters at what is set; knows reach and drawing. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final

from mitertool.drawing import CENTER, OUTLINE, THIN, Drawing, Entity, Line, Point, Polygon, Text, text_width
from mitertool.packet.letters import SWING, Lettered, angle, back, level, with_letters
from mitertool.saw import Reach
from mitertool.saw.machine import Obstacle

_DEEP: Final = 60.0
"""mm that an obstacle is drawn deep along the bar; the file says only where its near edge stands."""

_GUIDE: Final = 40.0
"""mm of a guide drawn along the blade."""

_PAST: Final = 30.0
"""mm that blade and square line run past guides and bar."""

_EDGE: Final = 7.0
"""Paper mm kept above and below for letters."""

_ARC: Final = 17.0
_OUT: Final = 4.0
_NAME: Final = 2.8


def plan_view(reach: Reach, width: float, height: float) -> Drawing:
    """From above with the feed to the right, within a box that stands on (0, 0); set as the cut asks for it.

    Looking with the feed, a fixed jaw on the left lies below in the picture, one on the right above.
    """
    up = 1.0 if reach.setting.saw.fixed_jaw == "left" else -1.0
    steel = Drawing([*_obstacles(reach, up), *_on_the_blade(reach, up)])
    x0, y0, x1, y1 = steel.bounds()
    k = min((width - 2 * _EDGE) / (x1 - x0), (height - 2 * _EDGE) / (y1 - y0))
    half = width / 2
    bar = Drawing([_block(-half / k, 0.0, half / k, reach.section.width, up, None)])
    drawing = (steel + bar).scaled(k)
    names = _sides(half, up * reach.section.width * k)
    lettered = with_letters(drawing, _letters(reach, up, k), names)
    return lettered.moved(half, height / 2 - (y0 + y1) / 2 * k)


def _sides(half: float, across: float) -> list[Text]:
    """Where the bar goes to and comes from, on the bar at its ends, or below it where it is narrow."""
    y = across / 2 if abs(across) > 6 else min(across, 0.0) - 3.5
    says = (("discharge", -1.0), ("feed", 1.0))
    return [Text((way * (half - 1 - text_width(w, _NAME) / 2), y), w, _NAME, "center", "middle") for w, way in says]


def _corners(reach: Reach, obstacle: Obstacle) -> tuple[float, float, float, float]:
    """An obstacle (x0, y0, x1, y1), set back as far as the cut asks where it can be."""
    y0, y1 = reach.setting.across(obstacle)
    need = reach.set_backs.get(obstacle.name, obstacle.edge)
    edge = max(obstacle.edge, need) if obstacle.adjustable else obstacle.edge
    return (edge, y0, edge + _DEEP, y1) if obstacle.side == "feed" else (-edge - _DEEP, y0, -edge, y1)


def _obstacles(reach: Reach, up: float) -> Iterator[Entity]:
    for obstacle in reach.setting.saw.obstacles:
        yield _block(*_corners(reach, obstacle), up, 0.85)


def _letters(reach: Reach, up: float, k: float) -> Iterator[Lettered]:
    """The swing between the square line and the blade, and each set-back from the square line."""
    axis = up * (reach.setting.saw.bed.swing_axis or 0.0) * k
    if reach.side != "square":
        yield angle(SWING, (0.0, axis), 90.0 * up, -up * reach.swing, _ARC)
    taken = {1.0: 0, -1.0: 0}
    for number, obstacle in enumerate(reach.setting.saw.obstacles, 1):
        need = reach.set_backs.get(obstacle.name, 0.0)
        if need <= 0:
            continue
        _, y0, _, y1 = _corners(reach, obstacle)
        out = up if obstacle.stands == "moving-jaw" else -up
        y = up * (y1 if obstacle.stands == "moving-jaw" else y0) * k
        way = 1.0 if obstacle.side == "feed" else -1.0
        yield level(back(number), (0.0, y), (way * need * k, y), out * (_OUT + 5 * taken[out]))
        taken[out] += 1


def _blade_span(reach: Reach) -> tuple[float, float]:
    """From u to u of the blade as it is drawn: past the bar and past the guides."""
    setting = reach.setting
    u0, u1 = setting.extent or (0.0, reach.section.width)
    guides = setting.saw.guides
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        u0, u1 = min(u0, guides.fixed_u - _GUIDE), max(u1, guides.fixed_u + reach.guide_setting + _GUIDE)
    return u0 - _PAST, u1 + _PAST


def _on_the_blade(reach: Reach, up: float) -> Iterator[Entity]:
    """The blade as a line through the swing axis, the square cut line, and the guides on the blade."""
    m, axis = radians(reach.swing), reach.setting.saw.bed.swing_axis or 0.0
    low, high = _blade_span(reach)

    def at(u: float, off: float = 0.0) -> Point:
        return (u * sin(m) + off * cos(m), up * (axis + u * cos(m) - off * sin(m)))

    yield Line(at(low), at(high), OUTLINE)
    yield Line((0, up * (axis + low * cos(m))), (0, up * (axis + high * cos(m))), CENTER)
    guides = reach.setting.saw.guides
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        g = guides.half_thickness
        for u, way in ((guides.fixed_u, -1), (guides.fixed_u + reach.guide_setting, 1)):
            far = u + way * _GUIDE
            yield Polygon([at(u, -g), at(u, g), at(far, g), at(far, -g)], THIN, fill=0.6)


def _block(x0: float, y0: float, x1: float, y1: float, up: float, fill: float | None) -> Polygon:
    corners = [(x0, up * y0), (x1, up * y0), (x1, up * y1), (x0, up * y1)]
    return Polygon(corners, THIN if fill else OUTLINE, fill)
