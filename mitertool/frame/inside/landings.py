"""Where the bars inside a frame land on the members around them, as a tape reads along those; knows assemblies."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

import attrs

from mitertool.base.tolerances import CLOSES
from mitertool.frame.assembly import Assembly, plan_end
from mitertool.frame.closure import Move
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark
from mitertool.piece.poses import TURNED


@attrs.frozen
class LandedBar:
    """A bar on member number `host` of `Assembly.every`: `near` and `far` mm from where its side begins at its left.

    What reaches past an end of the side, over a joint, counts to that end. `side` is "fixed", the inner one of a member
    of the order, or "moving"; `what` is the mark of the bar, "" for a hole, which is on any side.
    """

    host: int
    side: str
    near: float
    far: float
    what: str


def landings(assembly: Assembly) -> tuple[LandedBar, ...]:
    """Every landing, host by host, and along each side from its left end."""
    if not assembly.inside and not assembly.holes:
        return ()
    lying = list(_lying(assembly))
    found = (
        landing
        for bar, (piece, place) in zip(assembly.inside, lying[len(assembly.order) :], strict=True)
        for end, hosts in (("left", bar.left), ("right", bar.right))
        for host in hosts
        if 0 <= host < len(lying)
        for landing in _of_end(host, *lying[host], tuple(map(place, plan_end(piece, end))), bar.mark)
    )
    holes = (LandedBar(one.host, one.side, one.at, one.at, "") for one in assembly.holes)
    return tuple(sorted(dict.fromkeys((*found, *holes)), key=lambda one: (one.host, one.side, one.near)))


def marks_by_piece(assembly: Assembly) -> Mapping[str, tuple[PieceMark, ...]]:
    """By its mark what lands on a piece as drawn, from its left end; only where it is the same on all of a mark."""
    lying = list(_lying(assembly))
    poses = [*("as-drawn" for _ in assembly.order), *(bar.pose for bar in assembly.inside)]
    each: list[list[PieceMark]] = [[] for _ in lying]
    for one in landings(assembly):
        each[one.host].append(_as_drawn(one, lying[one.host][0], poses[one.host]))
    found: dict[str, list[tuple[PieceMark, ...]]] = {}
    for mark, marks in zip(assembly.every, each, strict=True):
        found.setdefault(mark, []).append(tuple(sorted(marks, key=lambda m: (m.side, m.at))))
    return {mark: sets[0] for mark, sets in found.items() if sets[0] and all(_same(sets[0], one) for one in sets)}


def with_holes(assembly: Assembly) -> frozenset[str]:
    """The marks whose pieces all have the same holes."""
    found = marks_by_piece(assembly).items() if assembly.holes else ()
    return frozenset(mark for mark, places in found if not all(place.what for place in places))


def _lying(assembly: Assembly) -> Iterator[tuple[Piece, Move]]:
    """Every piece as it is turned to lie, and where."""
    piece = {member.mark: member.piece for member in assembly.pieces}
    yield from ((piece[mark], place) for mark, place in zip(assembly.order, assembly.places, strict=True))
    yield from ((piece[bar.mark].posed(bar.pose), bar.place) for bar in assembly.inside)


def _of_end(host: int, piece: Piece, place: Move, corners: tuple[complex, ...], what: str) -> tuple[LandedBar, ...]:
    """The landings of an end: of its faces that lie along a side of a host, else of the corner nearest to it."""
    faces = [one for face in pairwise(corners) for one in _landed(host, piece, place, face, what)]
    if faces:
        return tuple(faces)

    def off(corner: complex) -> float:
        across = ((corner - place.shift) / place.turn).imag
        return max(-across, across - piece.section.width)

    nearest = min(corners, key=off)
    return tuple(_landed(host, piece, place, (nearest, nearest), what))


def _landed(host: int, piece: Piece, place: Move, face: tuple[complex, complex], what: str) -> Iterator[LandedBar]:
    """The landing of a face that lies along a side of a host; nothing for the face of another member."""
    a, b = ((point - place.shift) / place.turn for point in face)
    if abs(a.imag - b.imag) > CLOSES or CLOSES < a.imag < piece.section.width - CLOSES:
        return
    side, y = ("fixed", 0.0) if a.imag < piece.section.width / 2 else ("moving", piece.section.width)
    begins = -piece.end_roof("left").at(y, 0.0)
    most = piece.length_at(y, 0.0)
    near, far = (min(max(x.real - begins, 0.0), most) for x in sorted((a, b), key=lambda point: point.real))
    yield LandedBar(host, side, near, far, what)


def _as_drawn(landing: LandedBar, lies: Piece, pose: str) -> PieceMark:
    """A landing on the piece as it is drawn, from its left end: where it lies turned, from the end that is the left."""
    across = pose in ("end-for-end", "rolled")
    side = {"fixed": "moving", "moving": "fixed"}[landing.side] if across else landing.side
    y = 0.0 if landing.side == "fixed" else lies.section.width
    at = lies.length_at(y, 0.0) - landing.far if pose in TURNED else landing.near
    return PieceMark(at, "left", side, landing.what)


def _same(one: tuple[PieceMark, ...], other: tuple[PieceMark, ...]) -> bool:
    """Whether the same lands at the same places."""
    return len(one) == len(other) and all(
        (a.side, a.what) == (b.side, b.what) and abs(a.at - b.at) < CLOSES for a, b in zip(one, other, strict=True)
    )
