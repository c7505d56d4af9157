"""Any planar frame from the lines that a drawing gives; knows polygons, rings and assembly."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES
from mitertool.frame.assembly import Assembly, Resolution, assemble, plan_of
from mitertool.frame.closure import Move, overlap
from mitertool.frame.joints import Joint, other_way
from mitertool.frame.measured import outward
from mitertool.frame.polygons import clockwise, neighbours, offset, refuse_crossing
from mitertool.frame.rings import Ring, facts, solve, start
from mitertool.geometry.near import box_of, near_pairs
from mitertool.quantity.problem import Remark, counts, lengths
from mitertool.sections import Section
from mitertool.words import phrase


def planar(
    shape: str,
    lines: Sequence[complex],
    sections: Sequence[Section],
    measured: str,
    joints: Sequence[Joint],
    closed: bool = True,
    mark: str = "FRAME",
    resolution: Resolution | None = None,
    deduct: tuple[float, float] = (0.0, 0.0),
) -> Assembly:
    """The frame whose measured lines have their corners at `lines` (x + iy, mm).

    `sections` has one section a side as it lies; `joints` one joint a shared corner, in the order of the sides. A
    closed frame given counter-clockwise is walked the other way from its first corner. An open one has its outside on
    the left of the lines as given. Raises `BadInput` for members that cross and sides that leave no piece.
    """
    count = len(lines) if closed else len(lines) - 1
    if len(sections) != count:
        raise BadInput("section", phrase("found.sections", count=len(sections)), phrase("refuse.sections", count=count))
    refuse_crossing(lines, closed)
    turned = closed and not clockwise(lines)
    if turned:
        lines, sections, joints = _turned(lines, sections, joints)
    corners = offset(lines, [outward(section, measured) for section in sections], closed)
    refuse_crossing(corners, closed)
    ring = Ring(corners, tuple(sections), tuple(joints), closed, turned)
    pieces = solve(ring, deduct)
    heading = (corners[1] - corners[0]) / abs(corners[1] - corners[0])
    first = Move(heading, start(ring, deduct) - heading * plan_of(pieces[0]).left[0])
    solved = assemble(mark, shape, pieces, joints, resolution, first)
    _refuse_overlap(solved.outlines, ring)
    return attrs.evolve(solved, facts=facts(ring, deduct), ring=ring)


def _refuse_overlap(outlines: Sequence[Sequence[complex]], ring: Ring) -> None:
    """Raise `BadInput` for the two members that run deepest into each other without being neighbours."""
    near = near_pairs([box_of(outline) for outline in outlines])
    apart = ((i, j) for i, j in near if not neighbours(i, j, len(outlines), ring.closed))
    depth, i, j = max(((overlap(outlines[i], outlines[j]), i, j) for i, j in apart), default=(0.0, 0, 0))
    if depth > CLOSES:
        first, second = sorted((ring.number(i), ring.number(j)))
        found = Remark("found.overlap", counts(first=first, second=second) + lengths(depth=depth))
        raise BadInput(phrase("what.members"), found, phrase("refuse.overlap"))


def _turned(
    lines: Sequence[complex], sections: Sequence[Section], joints: Sequence[Joint]
) -> tuple[list[complex], list[Section], list[Joint]]:
    """The same frame walked the other way, the first corner still first."""
    turned = list(map(other_way, joints))
    return [lines[0], *lines[:0:-1]], list(sections[::-1]), [*turned[-2::-1], turned[-1]]
