"""A saw with a bar in it, to scale: from above, in the plane of the blade, and its load; knows reach and drawing."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final

from mitertool.cut import Cut
from mitertool.drawing import CENTER, HIDDEN, OUTLINE, THIN, Drawing, Line, Point, Polygon, Text
from mitertool.drawing.checks import Entity
from mitertool.packet.views import face_view
from mitertool.quantity import show_angle
from mitertool.saw import Reach
from mitertool.saw.machine import Obstacle

_PLAN: Final = 95.0
"""Paper mm that the plan is wide and the blade plane is."""

_CHART: Final = (170.0, 42.0)
_SAMPLES: Final = 60
_DEEP: Final = 60.0
"""mm that an obstacle is drawn deep along the bar; the file says only where its near edge stands."""

_GAP: Final = 30.0


def reach_drawing(reach: Reach) -> Drawing:
    """Plan, blade plane and load chart of a cut on paper, one beside and below the other; paper mm.

    Parts that the saw file does not tell of are left out.
    """
    whole = Drawing([Text((0, 12), _title(reach), 4.0, bold=True)])
    plan = _plan(reach)
    whole += _hung(plan, 0.0, "from above, at the swing")
    side = _blade_plane(reach)
    if side.entities:
        whole += _hung(side, _PLAN + _GAP, "in the plane of the blade")
    chart = load_chart(reach)
    if chart.entities:
        low = whole.bounds()[1]
        whole += _hung(chart, 0.0, "length on the blade against travel", low - 14)
    return whole


def load_chart(reach: Reach) -> Drawing:
    """Contact on the blade against the travel from first touch to through, with jumps upright; empty without an arm."""
    travel = reach.travel_through
    if travel is None:
        return Drawing(())
    width, height = _CHART
    x0, x1, most = travel.first_touch, travel.through, travel.largest
    unit = "degrees" if reach.setting.saw.kind == "hinged" else "mm"

    def at(position: float, contact: float) -> Point:
        return (abs(position - x0) / abs(x1 - x0) * width, contact / most * height)

    points = [at(s.position, s.contact) for s in travel.samples(_SAMPLES)]
    curve = [Line(a, b, OUTLINE) for a, b in itertools.pairwise(points)]
    mean = travel.mean / most * height
    frame: list[Entity] = [
        Line((0, 0), (width, 0), THIN),
        Line((0, 0), (0, height), THIN),
        Line((0, mean), (width, mean), CENTER),
    ]
    words = [
        Text((0, height + 2), f"largest {most:.1f} mm", 2.8),
        Text((width + 2, mean - 1.2), f"mean {travel.mean:.1f} mm", 2.8),
        Text((0, -5), "first touch", 2.8),
        Text((width, -5), f"through, after {travel.length:.1f} {unit}", 2.8, "right"),
    ]
    return Drawing([*frame, *curve, *words])


def _hung(drawing: Drawing, x: float, words: str, top: float = 0.0) -> Drawing:
    """A drawing with its words above it, hanging from `top` at x."""
    x0, _, _, y1 = drawing.bounds()
    return drawing.moved(x - x0, top - 8 - y1) + Drawing([Text((x, top - 2), words, 3.0)])


def _title(reach: Reach) -> str:
    saw = reach.setting.saw
    made_up = ", an invented saw" if saw.invented else ""
    verdict = "can be cut" if reach.ok else "cannot be cut"
    return f"{saw.name}{made_up}: {reach.section.name} at {show_angle(reach.scale)} on the scale {verdict}"


def _plan(reach: Reach) -> Drawing:
    """From above with the feed to the right: bar, jaws, obstacles, blade and guides, each where the cut asks for it.

    Looking with the feed, a fixed jaw on the left lies below in the picture, one on the right above.
    """
    setting = reach.setting
    width = reach.section.width
    up = 1.0 if setting.saw.fixed_jaw == "left" else -1.0
    low, high = _blade_span(reach)
    ends = [abs(u * sin(radians(reach.swing))) for u in (low, high)]
    long = 2 * max(*ends, width) + 120
    axis = setting.saw.bed.swing_axis or 0.0
    parts: list[Entity] = [
        _block(-long / 2, 0.0, long / 2, width, up, None),
        *(_obstacle(reach, obstacle, up) for obstacle in setting.saw.obstacles),
        *_on_the_blade(reach, axis, low, high, up),
    ]
    drawing = Drawing(parts)
    x0, _, x1, _ = drawing.bounds()
    k = _PLAN / (x1 - x0)
    names = [_name(reach, obstacle, up, k) for obstacle in setting.saw.obstacles]
    middle = up * width / 2 * k - 1.2
    sides = [Text((x0 * k - 2, middle), "discharge", 2.8, "right"), Text((x1 * k + 2, middle), "feed", 2.8)]
    return drawing.scaled(k) + Drawing([*_apart(names), *sides])


def _apart(texts: list[Text]) -> Iterator[Text]:
    """Texts that would stand on one another, moved down line by line."""
    taken: list[Text] = []
    for text in texts:
        moved = text
        while any(_meet(moved, other) for other in taken):
            moved = Text((moved.at[0], moved.at[1] - 4), moved.says, moved.height, "center", "middle")
        taken.append(moved)
        yield moved


def _meet(one: Text, other: Text) -> bool:
    across = (one.width + other.width) / 2
    return abs(one.at[0] - other.at[0]) < across and abs(one.at[1] - other.at[1]) < 4


def _corners(reach: Reach, obstacle: Obstacle) -> tuple[float, float, float, float]:
    """An obstacle (x0, y0, x1, y1), set back as far as the cut asks where it can be."""
    y0, y1 = reach.setting.across(obstacle)
    need = reach.set_backs.get(obstacle.name, obstacle.edge)
    edge = max(obstacle.edge, need) if obstacle.adjustable else obstacle.edge
    return (edge, y0, edge + _DEEP, y1) if obstacle.side == "feed" else (-edge - _DEEP, y0, -edge, y1)


def _obstacle(reach: Reach, obstacle: Obstacle, up: float) -> Entity:
    return _block(*_corners(reach, obstacle), up, 0.85)


def _name(reach: Reach, obstacle: Obstacle, up: float, k: float) -> Text:
    """An obstacle's name beyond its end that lies away from the bar."""
    x0, y0, x1, y1 = _corners(reach, obstacle)
    away, out = (y0, -1.0) if obstacle.stands == "fixed-jaw" else (y1, 1.0)
    return Text(((x0 + x1) / 2 * k, up * away * k + up * out * 3), obstacle.name, 2.8, "center", "middle")


def _blade_span(reach: Reach) -> tuple[float, float]:
    """From u to u of the blade as it is drawn: past the bar and past the guides."""
    setting = reach.setting
    u0, u1 = setting.extent or (-60.0, reach.section.width + 60)
    guides = setting.saw.guides
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        return min(u0, guides.fixed_u) - 60, max(u1, guides.fixed_u + reach.guide_setting) + 60
    return u0 - 60, u1 + 60


def _on_the_blade(reach: Reach, axis: float, low: float, high: float, up: float) -> Iterator[Entity]:
    """The blade as a line through the swing axis, the square cut line, and the guides on the blade."""
    m = radians(reach.swing)

    def at(u: float, off: float = 0.0) -> Point:
        return (u * sin(m) + off * cos(m), up * (axis + u * cos(m) - off * sin(m)))

    yield Line(at(low), at(high), OUTLINE)
    yield Line((0, up * (axis + low)), (0, up * (axis + high)), CENTER)
    guides = reach.setting.saw.guides
    if guides and guides.fixed_u is not None and reach.guide_setting is not None:
        g = guides.half_thickness
        for u, way in ((guides.fixed_u, -1), (guides.fixed_u + reach.guide_setting, 1)):
            yield Polygon([at(u, -g), at(u, g), at(u + way * 40, g), at(u + way * 40, -g)], THIN, fill=0.6)


def _blade_plane(reach: Reach) -> Drawing:
    """The face in the blade plane with the edge at first touch, half way and through; empty without an arm."""
    setting, travel = reach.setting, reach.travel_through
    if travel is None or setting.plane is None or setting.extent is None or reach.tilt:
        return Drawing(())
    m = cos(radians(reach.swing))
    axis = setting.saw.bed.swing_axis or 0.0
    u0, u1 = setting.extent
    face = _face(reach, axis / m)
    low, high = u0 - 70, u1 + 70
    parts: list[Entity] = [Line((low, 0), (high, 0), THIN)]
    places = (travel.first_touch, (travel.first_touch + travel.through) / 2, travel.through)
    for position, layer in zip(places, (HIDDEN, CENTER, OUTLINE), strict=True):
        ends = [(u, setting.edge_height(position, u)) for u in (low, high)]
        if all(z is not None for _, z in ends):
            parts.append(Line((ends[0][0], ends[0][1] or 0.0), (ends[1][0], ends[1][1] or 0.0), layer))
    drawing = face + Drawing(parts)
    x0, _, x1, _ = drawing.bounds()
    return drawing.scaled(min(_PLAN / (x1 - x0), 1.0))


def _face(reach: Reach, back: float) -> Drawing:
    """The true face of the cut, measured along the blade from the swing axis."""
    return face_view(Cut(reach.swing), reach.section).moved(-back, 0)


def _block(x0: float, y0: float, x1: float, y1: float, up: float, fill: float | None) -> Polygon:
    corners = [(x0, up * y0), (x1, up * y0), (x1, up * y1), (x0, up * y1)]
    return Polygon(corners, THIN if fill else OUTLINE, fill)
