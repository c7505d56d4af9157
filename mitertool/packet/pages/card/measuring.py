"""How each figure of a saw file is measured: two pictures with numbers, and a row a number; knows the saw's parts.

The pictures are not to scale. Paper mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import cos, radians, sin, tan
from typing import Final

from mitertool.cut.blade.arms import HingedArm
from mitertool.drawing import (
    CENTER,
    HIDDEN,
    OUTLINE,
    THIN,
    Arc,
    Dimension,
    Drawing,
    Entity,
    Line,
    Point,
    Polygon,
    Text,
    wrap,
)
from mitertool.packet.pages.card.told import NOTE, titled
from mitertool.packet.paper.layout import Block, TableColumn, table
from mitertool.packet.paper.stand import feed_way
from mitertool.quantity import Units, show_angle, show_gap
from mitertool.saw import Machine
from mitertool.saw.file.machine import Obstacle
from mitertool.saw.file.scale import SIDES
from mitertool.words import phrase

Figure = Callable[[Machine], float | None]

_LENGTHS: Final[dict[str, Figure]] = {
    "swing_axis": lambda saw: saw.bed.swing_axis,
    "blade_offset": lambda saw: saw.bed.blade_offset,
    "fixed_y": lambda saw: _from_jaw(saw, saw.guides.fixed_u if saw.guides else None),
    "thickness": lambda saw: 2 * saw.guides.half_thickness if saw.guides else None,
    "edge": lambda _: None,
    "slot": lambda saw: _slot(saw),
    "below_bed": lambda saw: saw.arm.below_bed if saw.arm else None,
    "lift_height": lambda saw: _lifted(saw),
    "lift_at": lambda saw: _from_jaw(saw, saw.arm.stop if saw.arm else None),
    "hinge_y": lambda saw: _from_jaw(saw, saw.arm.hinge_u if isinstance(saw.arm, HingedArm) else None),
    "hinge_z": lambda saw: saw.arm.hinge_z if isinstance(saw.arm, HingedArm) else None,
    "kerf": lambda saw: saw.kerf,
    "approach": lambda saw: saw.approach,
    "grip": lambda saw: saw.grip,
    "stroke": lambda saw: saw.feed.stroke if saw.feed else None,
    "dead_length": lambda saw: saw.feed.dead_length if saw.feed else None,
}
"""What is measured with a tape, by its key, with what the file says of it in mm; None: nothing."""

_ANGLES: Final[dict[str, Figure]] = {
    "square": lambda saw: saw.scale.square,
    "division": lambda saw: saw.scale.division,
    "feed_side_most": lambda saw: saw.scale.feed_side_most,
    "discharge_side_most": lambda saw: saw.scale.discharge_side_most,
    "highest": lambda saw: saw.tilt.highest if saw.tilt else None,
    "lowest": lambda saw: saw.tilt.lowest if saw.tilt else None,
    "cant": lambda saw: getattr(saw.arm, "cant", None),
}
"""The same in degrees, read on the scale."""

_HINGED, _FED = ("hinge_y", "hinge_z"), ("stroke", "dead_length")
_TILTED: Final = ("highest", "lowest")
"""Figures of a saw whose arm turns about a hinge, of one with a feed, and of one whose blade tilts."""

_DRAWN: Final = (
    *("swing_axis", "fixed_y", "thickness", "edge"),
    *("below_bed", "lift_height", "lift_at", "hinge_y", "hinge_z"),
)
"""Figures that a picture shows, each with its number there; last those that only some saws have, so that no number is
left out."""


def measured_pictures(saw: Machine | None) -> tuple[Drawing, Drawing]:
    """The saw from above and along its blade, with the numbers of what is measured; not to scale."""
    swings = -1.0 if saw and not saw.scale.feed_side_most else 1.0
    return _from_above(feed_way(saw), swings), _along(saw is None or saw.kind == HingedArm.kind)


def number_of(key: str) -> int | None:
    """The number by which a key of the saw file stands in these pictures; None for one that they do not show."""
    return _DRAWN.index(key) + 1 if key in _DRAWN else None


def measuring_blocks(saw: Machine | None, width: float, units: Units) -> Iterator[Block]:
    """The pictures and the table."""
    yield titled(phrase("card.measure"), width)
    yield _pictures(*measured_pictures(saw), width)
    columns = [
        TableColumn("", 8, "right", bold=True, height=NOTE),
        TableColumn(phrase("card.measure.key"), 40, bold=True, height=NOTE),
        TableColumn(phrase("card.measure.how"), width - 86, height=NOTE),
        TableColumn(phrase("card.measure.file"), 20, "right", height=NOTE),
        TableColumn(phrase("card.measure.found"), 18, height=NOTE),
    ]
    yield from table(columns, list(_rows(saw, width, units)))


def _rows(saw: Machine | None, width: float, units: Units) -> Iterator[list[str]]:
    for key in (*_LENGTHS, *_ANGLES):
        if _has(saw, key):
            lines = wrap(_how(saw, key), width - 89, NOTE)
            yield [str(number_of(key) or ""), key, "\n".join(lines), _said(saw, key, units), ""]


def _has(saw: Machine | None, key: str) -> bool:
    """Whether a saw has what a figure is of; before its file is begun whatever one may have."""
    hinged = saw is None or saw.kind == HingedArm.kind
    if key in _HINGED or key == "cant":
        return hinged == (key in _HINGED)
    if saw is None:
        return True
    if key in _FED:
        return saw.feed is not None
    if key == "slot":
        return _slot(saw) is not None
    if key in _TILTED:
        return saw.tilt is not None
    return key not in ("feed_side_most", "discharge_side_most") or bool(_ANGLES[key](saw))


def _how(saw: Machine | None, key: str) -> str:
    """How a figure is measured, on a saw whose arm swings one way only without a cut to the other."""
    if key == "edge" and saw and saw.obstacles:
        return phrase("card.measure.edge/named", things=", ".join(one.name for one in _in_order(saw)))
    one_way = saw is not None and not (saw.scale.feed_side_most and saw.scale.discharge_side_most)
    if key == "blade_offset" and saw and one_way:
        return phrase(f"card.measure.blade_offset/{'feed' if saw.scale.feed_side_most else 'discharge'}")
    return phrase("card.measure.swing_axis/one-way" if key == "swing_axis" and one_way else f"card.measure.{key}")


def _in_order(saw: Machine) -> list[Obstacle]:
    """What stands in the blade's way, on every card in one order: at the fixed jaw, at the moving one, across."""
    return sorted(saw.obstacles, key=lambda one: _STANDS.index(one.stands))


_STANDS: Final = ("fixed-jaw", "moving-jaw", "across")
"""Where a thing stands, in the order of the card."""


def _slot(saw: Machine) -> float | None:
    """How wide the slot of a plate is, which stands on either side of the blade; None where none has one."""
    edges = {one.name: one.edge for one in saw.obstacles}
    for name, edge in edges.items():
        stem, _, side = name.rpartition(", ")
        if side == SIDES[0] and f"{stem}, {SIDES[1]}" in edges:
            return edge + edges[f"{stem}, {SIDES[1]}"]
    return None


def _said(saw: Machine | None, key: str, units: Units) -> str:
    """What the saw file says of a figure, of the edges of things in their order; "" where it says nothing."""
    if saw and key == "edge":
        return "\n".join(show_gap(one.edge, units) for one in _in_order(saw))
    value = (_LENGTHS.get(key) or _ANGLES[key])(saw) if saw else None
    if value is None:
        return ""
    return show_angle(value) if key in _ANGLES else show_gap(value, units)


def _from_jaw(saw: Machine, u: float | None) -> float | None:
    """A place along the blade from the face of the fixed jaw, in a square cut."""
    return None if u is None or saw.bed.swing_axis is None else u + saw.bed.swing_axis


def _lifted(saw: Machine) -> float | None:
    """How high the edge stands above the bed with the arm as high as it goes."""
    if saw.arm is None or saw.arm.lift_highest is None:
        return None
    return saw.arm.height(saw.arm.lift_highest, saw.arm.stop)


def _pictures(left: Drawing, right: Drawing, width: float) -> Block:
    """Two pictures side by side, each in the middle of its height."""
    (x0, y0, _, y1), (_, v0, u1, v1) = left.bounds(), right.bounds()
    high = max(y1 - y0, v1 - v0) + 3
    placed = left.moved(-x0, -(high + y0 + y1) / 2) + right.moved(width - u1, -(high + v0 + v1) / 2)
    return Block(high, placed, keep_with_next=True, gap=2.0)


def _numbered(key: str, a: Point, b: Point, offset: float, along: float) -> Dimension:
    """A dimension line with the number of a figure in place of its size."""
    return Dimension(a, b, offset, str(_DRAWN.index(key) + 1), 3.5, along)


def _block(x0: float, y0: float, x1: float, y1: float, fill: float | None = 0.85) -> Polygon:
    return Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], THIN if fill else OUTLINE, fill)


def _named(code: str, at: Point) -> Text:
    return Text(at, phrase(f"card.part.{code}"), NOTE, "center", "middle")


_AXIS: Final = 9.0
_WIDE: Final = 24.0
"""Where the swing axis is drawn, and how wide the bar is."""


def _from_above(way: float, swings: float) -> Drawing:
    """The saw from the fixed jaw's side: bar, jaws, plate behind the cut, blade square and at 45, guides.

    The 45 goes to the feed side where `swings` is 1, to the discharge side at -1.
    """
    jaw, plate, reach = way * 14, -way * 14, _WIDE + 14
    parts: list[Entity] = [
        _block(-44, 0, 44, _WIDE, None),
        _block(jaw, -8, way * 42, 0),
        _block(jaw, _WIDE, way * 42, _WIDE + 8),
        _block(plate, -8, -way * 38, reach - 4),
        Line((0, -24), (0, reach), OUTLINE),
        Line((-way * swings * 22, _AXIS - 22), (way * swings * 22, _AXIS + 22), HIDDEN),
        Arc((0, _AXIS), 1.2, 0, 360, OUTLINE),
        _block(-2, -22, 2, -13, 0.6),
        _block(-2, reach - 10, 2, reach - 1, 0.6),
        _named("fixed-jaw", (way * 28, -4)),
        _named("moving-jaw", (way * 31, _WIDE + 4)),
        _named("feed", (way * 31, _WIDE / 2)),
        _named("discharge", (-way * 26, _WIDE / 2)),
        _named("plate", (-way * 31, _WIDE + 5)),
        _named("guide", (-way * 12, -18)),
    ]
    sizes = [
        _numbered("swing_axis", (0, 0), (0, _AXIS), 6 if way > 0 else -12.5, 90.0),
        _numbered("fixed_y", (0, 0), (0, -13), -way * 50, 90.0),
        _numbered("thickness", (-2, -22), (2, -22), -5, 0.0),
        _numbered("edge", (0, reach), (jaw, _WIDE + 8), 5, 0.0),
        _numbered("edge", (0, reach), (plate, reach - 4), 5, 0.0),
    ]
    return Drawing([*parts, *sizes])


def _along(hinged: bool) -> Drawing:
    """The blade from its side, the fixed jaw at the left: at rest below the bed, and as high as it goes."""
    parts: list[Entity] = [
        Line((-30, 0), (51, 0), OUTLINE),
        _block(-5, 0, 0, 12),
        _block(20, 0, 36, 12),
        _named("fixed-jaw-short", (10, 10)),
        _named("moving-jaw-short", (28, 6)),
        _named("bed", (28, -6.5)),
    ]
    return Drawing([*parts, *(_hinge() if hinged else _columns())])


_REST: Final = -3.0
_SPOT: Final = 42.0
"""How far below the bed the edge rests, and from the fixed jaw where its height is measured."""


def _hinge() -> Iterator[Entity]:
    """A hinge behind the fixed jaw, the blade at rest and lifted."""
    pin, lift = (-26.0, 7.0), radians(34)
    foot = (pin[0] + (pin[1] - _REST) * sin(lift), pin[1] - (pin[1] - _REST) * cos(lift))
    high = foot[1] + (_SPOT - foot[0]) * tan(lift)
    yield Arc(pin, 1.4, 0, 360, OUTLINE)
    yield Line((-20, _REST), (51, _REST), HIDDEN)
    yield Line((foot[0] + 4 * cos(lift), foot[1] + 4 * sin(lift)), (50, foot[1] + (50 - foot[0]) * tan(lift)), OUTLINE)
    yield _numbered("hinge_y", (pin[0], 0), (0, 0), -11, 0.0)
    yield _numbered("hinge_z", (pin[0], 0), pin, 6, 90.0)
    yield from _lift(high)


def _columns() -> Iterator[Entity]:
    """A blade that comes down parallel to itself."""
    yield Line((-20, _REST), (51, _REST), HIDDEN)
    yield Line((-20, 34), (51, 34), OUTLINE)
    yield Line((-17, -6), (-17, 40), CENTER)
    yield from _lift(34.0)


def _lift(high: float) -> Iterator[Entity]:
    yield _numbered("below_bed", (12, _REST), (12, 0), 2, 90.0)
    yield _numbered("lift_at", (0, 0), (_SPOT, 0), -11, 0.0)
    yield _numbered("lift_height", (_SPOT, 0), (_SPOT, high), 0, 90.0)
