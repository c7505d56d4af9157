"""Holes in the members around a frame, told from its corners, as hinges and latches are drawn; knows setting out.

They are for words and marks only.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly, Hole
from mitertool.frame.setting_out import SetCorner, SettingOut, setting_out
from mitertool.quantity.problem import Remark, lengths
from mitertool.words import phrase

SIDES: Final = {"outside": "moving", "inside": "fixed", "front": "top", "back": "bottom"}
"""The sides of a member as the frame is seen, and as its piece has them."""


@attrs.frozen
class FrameHole:
    """A hole `at` mm from the first of two neighboring `corners` toward the second, on one of `SIDES`."""

    corners: tuple[int, int]
    at: float
    side: str


def drilled(assembly: Assembly, holes: Sequence[FrameHole]) -> Assembly:
    """The frame with holes. Raises `BadInput` for corners that are no neighbors, and for a place off the member."""
    out = setting_out(assembly)
    if out is None or not out.closed:
        raise BadInput("holes", phrase("found.no-corners"), phrase("refuse.hole-frame"))
    return attrs.evolve(assembly, holes=tuple(_hole(assembly, out, hole) for hole in holes))


def _hole(assembly: Assembly, out: SettingOut, hole: FrameHole) -> Hole:
    start, forward = _member(out, hole.corners)
    host = ((start.joint or 0) + 1) % len(assembly.order)
    inner_start, outer_start, outer_end, _ = assembly.edges[host]
    way = (outer_end - outer_start) / abs(outer_end - outer_start)
    corner = out.origin + start.at
    end = out.origin + out.corners[start.number % len(out.corners)].at
    along = hole.at if forward else abs(end - corner) - hole.at
    side = SIDES[hole.side]
    begins = {"moving": outer_start, "fixed": inner_start}.get(side, (inner_start + outer_start) / 2)
    at, whole = along - ((begins - corner) * way.conjugate()).real, assembly.side_length(host, side)
    if not 0 <= at <= whole:
        found = Remark("found.length", lengths(length=hole.at))
        raise BadInput("holes", found, phrase("refuse.hole-off"))
    return Hole(host, side, at)


def _member(out: SettingOut, corners: tuple[int, int]) -> tuple[SetCorner, bool]:
    """The corner before the member between two corners, and whether that is the first of them."""
    count = len(out.corners)
    for (a, b), forward in ((corners, True), (corners[::-1], False)):
        if 1 <= a <= count and b == a % count + 1:
            return out.corners[a - 1], forward
    raise BadInput("holes", list(corners), phrase("refuse.hole-corners", count=count))
