"""Bars that stand in the corners of a hopper, their ends level: where each stands and how it is cut; knows in_space.

A bar runs along its corner from the bottom to the top. It is turned with the edge between its fixed side and its bottom
outward, as the heel of an angle lies in a corner. Corners are walked counter-clockwise seen from above; the first is
where the last side meets the first one, which lies along X.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, degrees, pi
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import COINCIDENT
from mitertool.frame.assembly import Closure, marked, rounded
from mitertool.frame.hoppers import HOPPER, Sizes, outline, refuse_no_frustum, side_stand
from mitertool.frame.in_space import (
    Named,
    SpaceAssembly,
    Stand,
    face_corners,
    faced,
    neighbours,
    outward_of,
    toward_moving_side,
)
from mitertool.frame.leaning import Leaning
from mitertool.frame.sizes import refuse_no_size
from mitertool.geometry.vectors import (
    Vector,
    angle_between,
    cross,
    dot,
    minus,
    norm,
    plus,
    turned,
    unit,
)
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section
from mitertool.words import phrase

MEASURED: Final = ("outside", "inside", "centerline")

AGAINST: Final = ("both", "before", "after")
"""The sides that a corner bar is turned to: alike to both, or flat on the one before the corner, or after it."""

_UP: Final[Vector] = (0.0, 0.0, 1.0)


@attrs.frozen
class _Corner:
    """A corner of a hopper: its line from bottom to top, and which way the sides before and after it look outward."""

    low: Vector
    high: Vector
    before: Vector
    after: Vector

    @property
    def along(self) -> Vector:
        return unit(minus(self.high, self.low))

    def up(self, against: str) -> Vector:
        """Where the top of a bar looks that is turned so."""
        inward = minus((0.0, 0.0, 0.0), unit(plus(self.before, self.after)))
        if against == "both":
            return turned(inward, self.along, pi / 4)
        if against == "before":
            return turned(minus((0.0, 0.0, 0.0), self.before), self.along, pi / 2)
        return minus((0.0, 0.0, 0.0), self.after)


def corner_bars(
    section: Section, sides: int, sizes: Sizes, measured: str, against: str = "both", named: Named = HOPPER
) -> SpaceAssembly:
    """A bar in every corner of a hopper of so many sides, cut level at the bottom and at the top.

    `sizes` are those of the planes of the sides. The bars stand within them and touch both ("outside"), or beyond
    them ("inside"), or run with their middles along the corners ("centerline"). A bar is turned alike to both sides,
    or lies flat "against" one of `AGAINST`. Raises `BadInput` for words that are none, no height, and as `hopper`.
    """
    for key, word, allowed in (("measured", measured, MEASURED), ("against", against, AGAINST)):
        if word not in allowed:
            raise BadInput(key, word, among(allowed))
    refuse_no_frustum(sides, sizes)
    if sizes.height is None:
        raise BadInput("height", phrase("found.none"), phrase("refuse.bars-height"))
    refuse_no_size(height=sizes.height)
    corners = _corners(sides, sizes, sizes.height)
    stands = [_stand(section, corner, measured, against) for corner in corners]
    _refuse_crossing(section, corners, stands)
    pieces = [_piece(section, stand, sizes.height) for stand in stands]
    members, order = marked(named.mark, pieces, COINCIDENT)
    floor = [rounded(piece, named.resolution) for piece in pieces]
    closure = Closure(_missed(pieces, stands, sizes.height), 0.0, _missed(floor, stands, sizes.height))
    told = {mark: _leaning(mark, piece, at) for mark, piece, at in zip(order, pieces, corners, strict=True)}
    leaning = tuple(told[member.mark] for member in members)
    notes = (*map(_note, leaning), Remark("note.corner-bars", case=against))
    made = SpaceAssembly(named.mark, "hopper", members, order, closure, notes=notes, stands=tuple(stands))
    return attrs.evolve(made, leaning=leaning)


def _corners(sides: int, sizes: Sizes, height: float) -> list[_Corner]:
    low, high = outline(sides, sizes.bottom, 0.0), outline(sides, sizes.top, height)
    outward = [side_stand(low, high, i)[0].up for i in range(sides)]
    return [_Corner(low[i], high[i], outward[i - 1], outward[i]) for i in range(sides)]


def _stand(section: Section, corner: _Corner, measured: str, against: str) -> Stand:
    """The bar's directions, from where its middle crosses the level of the bottom."""
    up = corner.up(against)
    turned_so = Stand(corner.low, corner.along, cross(up, corner.along), up)
    before, after = (_reach(section, turned_so, way, measured) for way in (corner.before, corner.after))
    at = plus(corner.low, _between(corner, before, after))
    down = (at[2] - corner.low[2]) / corner.along[2]
    return attrs.evolve(turned_so, at=plus(at, corner.along, -down))


def _refuse_crossing(section: Section, corners: Sequence[_Corner], stands: Sequence[Stand]) -> None:
    """Raise `BadInput` where the bars of two neighbours have no room beside each other at the bottom."""
    pairs = zip(neighbours(corners, True), neighbours(stands, True), strict=True)
    for (corner, after), (stand, next_stand) in pairs:
        side = minus(after.low, corner.low)
        way, back = unit(side), unit(minus(corner.low, after.low))
        least = _out(section, stand, corner.low, way) + _out(section, next_stand, after.low, back)
        if least > norm(side) + COINCIDENT:
            found = Remark("found.length", lengths(length=norm(side)))
            raise BadInput("bottom", found, Remark("refuse.bars-cross", lengths(least=least)))


def _out(section: Section, stand: Stand, low: Vector, way: Vector) -> float:
    """How far the level end of a bar at the bottom reaches from its corner along a side, mm."""
    lean = dot(way, stand.along) / stand.along[2]
    p, q = (dot(way, one) - lean * one[2] for one in (stand.across, stand.up))
    out = section.support(p, q) - p * section.width / 2 - q * section.height / 2
    return out + dot(way, minus(stand.at, low))


def _reach(section: Section, stand: Stand, outward: Vector, measured: str) -> float:
    """How far the middle of a bar lies outward of a side's plane, mm."""
    if measured == "centerline":
        return 0.0
    way = 1.0 if measured == "outside" else -1.0
    p, q = way * dot(outward, stand.across), way * dot(outward, stand.up)
    return -way * (section.support(p, q) - p * section.width / 2 - q * section.height / 2)


def _between(corner: _Corner, before: float, after: float) -> Vector:
    """Square to the corner's line, so far outward of both its sides."""
    shared = dot(corner.before, corner.after)
    sine = 1 - shared**2
    one, other = (before - shared * after) / sine, (after - shared * before) / sine
    return plus(plus((0.0, 0.0, 0.0), corner.before, one), corner.after, other)


def _piece(section: Section, stand: Stand, height: float) -> Piece:
    left, right = (stand.cut(_UP, end) for end in ("left", "right"))
    return Piece(section, height / stand.along[2], left, right, at="centerline")


def _leaning(mark: str, piece: Piece, corner: _Corner) -> Leaning:
    slope = degrees(asin(min(corner.along[2], 1.0)))
    dihedral = 180 - degrees(angle_between(corner.before, corner.after))
    return Leaning(mark, piece, slope, norm(minus(corner.high, corner.low)), dihedral)


def _missed(pieces: Sequence[Piece], stands: Sequence[Stand], height: float) -> float:
    """How far the ends of bars stood on the level of the bottom by their left cuts lie off where they should, mm."""
    return max(_off(piece, stand, height) for piece, stand in zip(pieces, stands, strict=True))


def _off(piece: Piece, stand: Stand, height: float) -> float:
    """What a bar that stands on its left end misses its level top and its place there by."""
    stood = _stood(piece, stand)
    tops = face_corners(piece, stood, "right")
    wanted = plus(stand.at, stand.along, height / stand.along[2])
    middle = stood.place(piece.centerline, 0.0, 0.0)
    return max(norm(minus(middle, wanted)), *(abs(top[2] - stand.at[2] - height) for top in tops))


def _stood(piece: Piece, stand: Stand) -> Stand:
    """The bar with its left face on the level of the bottom, the line across it as it should lie."""
    own = (outward_of(piece.left, -1.0), toward_moving_side(piece.left, -1.0))
    level = unit(plus(stand.across, stand.along, -stand.across[2] / stand.along[2]))
    return faced(own, ((0.0, 0.0, -1.0), level), stand.at)


def _note(one: Leaning) -> Remark:
    """How a bar stands, and how its cuts are set in other ways than lying flat."""
    return Remark(
        "note.corner-bar", (*one.numbers, *lengths(slant=one.slant)), "fixed" if one.fixture[0] < 0 else "moving"
    )
