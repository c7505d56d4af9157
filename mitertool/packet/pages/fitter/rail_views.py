"""A rail from above and from the side, its nodes numbered, and the table of its nodes; knows rails. Paper mm.

The view from the side is laid out along the run: every member has its true length and slope there, whichever way it
goes in plan.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from math import degrees, hypot
from typing import Final

from mitertool.base.tolerances import COINCIDENT
from mitertool.drawing import OUTLINE, Drawing, Line, Point
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.geometry.near import low_and_size
from mitertool.geometry.vectors import Vector
from mitertool.packet.pages.fitter.picture import numbered
from mitertool.packet.paper.clear import strokes
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import phrase

_ROOM: Final = (66.0, 38.0)
_LEAST: Final = 1e-6
"""mm of either view, and below how many degrees a rail does not turn in plan."""


def is_rail(assembly: Assembly) -> bool:
    """Whether it has nodes, and these views."""
    return isinstance(assembly, SpaceAssembly) and assembly.shape == "rail"


def rail_views(assembly: Assembly) -> Iterator[tuple[str, Drawing]]:
    """What each view is called, and the view, both to one scale; none of another frame."""
    if not isinstance(assembly, SpaceAssembly) or not is_rail(assembly):
        return
    nodes = _walked(assembly)
    above = [complex(x, y) for x, y, _ in nodes]
    side = [complex(along, z) for along, (_, _, z) in zip(_along(nodes), nodes, strict=True)]
    k = min(_scale(above), _scale(side))
    numbers = [str(i % len(assembly.nodes) + 1) for i in range(len(nodes))]
    shown = len(assembly.nodes)
    yield phrase("frame.rail.above"), _view(above, numbers[:shown], k)
    yield phrase("frame.rail.side"), _view(side, numbers, k)


def _walked(rail: SpaceAssembly) -> tuple[Vector, ...]:
    """The nodes in their order; of a closed rail the first one again at last."""
    return (*rail.nodes, *rail.nodes[: rail.closed])


def _along(nodes: Sequence[Vector]) -> list[float]:
    """How far each node lies along the level run."""
    return list(accumulate((hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(nodes)), initial=0.0))


def _scale(points: Sequence[complex]) -> float:
    _, size = low_and_size(points)
    return min(_ROOM[0] / max(size.real, COINCIDENT), _ROOM[1] / max(size.imag, COINCIDENT))


def _view(points: Sequence[complex], numbers: Sequence[str], k: float) -> Drawing:
    """The middles of the members as lines, and the numbers of the nodes in rings."""
    places: list[Point] = [(point.real * k, point.imag * k) for point in points]
    lines = Drawing(Line(a, b, OUTLINE) for a, b in pairwise(places) if a != b)
    rings, texts = numbered(list(zip(numbers, places, strict=False)), list(strokes(lines)))
    return lines + Drawing([*rings, *texts])


def node_titles() -> tuple[str, ...]:
    """The titles of the table of nodes."""
    return tuple(phrase(f"frame.rail.{one}") for one in ("node", "right", "back", "up", "going", "rise", "turn"))


def node_rows(rail: SpaceAssembly, units: Units) -> tuple[tuple[str, ...], ...]:
    """Each node: where it is, how far level and up it goes to the next one, and how the rail turns there in plan."""
    nodes = rail.nodes
    ways = [complex(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(_walked(rail))]
    rises = [b[2] - a[2] for a, b in pairwise(_walked(rail))]
    return tuple(
        (
            str(i + 1),
            *(show_length(part, units) for part in node),
            *((show_length(abs(ways[i]), units), show_length(rises[i], units)) if i < len(ways) else ("", "")),
            _turn(ways[i - 1], ways[i]) if i < len(ways) and (i or rail.closed) else "",
        )
        for i, node in enumerate(nodes)
    )


def _turn(before: complex, after: complex) -> str:
    """By how much and to which side a rail turns in plan; nothing where it does not, or runs plumb."""
    if min(abs(before), abs(after)) < COINCIDENT:
        return ""
    turn = degrees(phase(after / before))
    if abs(turn) < _LEAST:
        return ""
    return phrase("frame.rail.turn/left" if turn > 0 else "frame.rail.turn/right", angle=show_angle(abs(turn)))
