"""Three equal tubes that meet in one point: each end cut by two planes; knows in_space.

The trunk comes from below; both arms go off to either side of its line, in one plane with it.
"""

from __future__ import annotations

from math import cos, isfinite, radians, sin
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import LEAST_CORNER
from mitertool.frame.assembly import Closure, Member, rounded
from mitertool.frame.in_space import Named, SpaceAssembly, Stand
from mitertool.frame.sizes import refuse_no_size
from mitertool.geometry.vectors import Vector, angle_between, cross, minus, plus, unit
from mitertool.piece import Piece
from mitertool.sections import Section
from mitertool.words import phrase

WYE: Final = Named("WYE")

_SQUARE: Final[Vector] = (0.0, -1.0, 0.0)
"""Square to the plane of the three, toward who looks."""


def wye(section: Section, between: float, trunk: float, arms: tuple[float, float], named: Named = WYE) -> SpaceAssembly:
    """A trunk and two arms with so many degrees `between` the arms; lengths from the point where all middles meet, mm.

    Every two of them meet in the plane that halves their angle, so each end is cut twice; the other ends are square.
    Raises `BadInput` for sizes that are none and an angle past what leaves two cuts on every end.
    """
    refuse_no_size(trunk=trunk, arms=min(arms))
    if not (isfinite(between) and LEAST_CORNER <= between <= 180 - LEAST_CORNER):
        allowed = phrase("refuse.wye", least=f"{LEAST_CORNER:g}", most=f"{180 - LEAST_CORNER:g}")
        raise BadInput("between", between, allowed)
    half = radians(between / 2)
    ways: list[Vector] = [(0.0, 0.0, -1.0), (-sin(half), 0.0, cos(half)), (sin(half), 0.0, cos(half))]
    stands = [Stand((0.0, 0.0, 0.0), way, cross(_SQUARE, way), _SQUARE) for way in ways]
    pieces = [_piece(section, length, i, ways, stands) for i, length in enumerate((trunk, *arms))]
    return _assembled(named, pieces, stands)


def _piece(section: Section, length: float, i: int, ways: list[Vector], stands: list[Stand]) -> Piece:
    planes = (minus(ways[i], ways[j]) for j in ((i + 1) % 3, (i + 2) % 3))
    return Piece(section, length, tuple(stands[i].cut(plane, "left") for plane in planes), at="centerline")


def _assembled(named: Named, pieces: list[Piece], stands: list[Stand]) -> SpaceAssembly:
    marks = [f"{named.mark}-{i}" for i in (1, 2, 3)]
    same = abs(pieces[1].centerline - pieces[2].centerline) < 1e-9
    members = [Member(marks[0], 1, pieces[0]), Member(marks[1], 2 if same else 1, pieces[1])]
    members += [] if same else [Member(marks[2], 1, pieces[2])]
    order = (marks[0], marks[1], marks[1] if same else marks[2])
    floor = [rounded(piece, named.resolution) for piece in pieces]
    closure = Closure(_open(pieces, stands), 0.0, _open(floor, stands))
    return SpaceAssembly(named.mark, "wye", tuple(members), order, closure, stands=tuple(stands))


def _open(pieces: list[Piece], stands: list[Stand]) -> float:
    """How far the faces of any two stand off each other at the furthest place of their section, mm."""
    reach = pieces[0].section.width / 2
    apart = []
    for i, j in ((0, 1), (1, 2), (2, 0)):
        other = _normal(pieces[j], stands[j], 1)
        apart.append(angle_between(_normal(pieces[i], stands[i], 0), minus((0.0, 0.0, 0.0), other)))
    return reach * sin(max(apart))


def _normal(piece: Piece, stand: Stand, which: int) -> Vector:
    """Out of the steel, square to one of the planes of the left end."""
    cut = piece.cuts("left")[which]
    return unit(plus(plus(stand.along, stand.across, cut.p), stand.up, cut.q))
