"""Where the bars inside a frame land on the members around them, as a tape reads along those; knows assemblies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

import attrs

from mitertool.base.tolerances import CLOSES
from mitertool.frame.assembly import Assembly, plan_end
from mitertool.frame.closure import Move
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark, side_length
from mitertool.piece.piece import same_ends
from mitertool.piece.poses import ACROSS, ROLLED, TURNED

_LEVEL: Final = 1e-6
"""How far a level piece rises at most, mm in a mm: less than a thousandth of a mm over a metre."""


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
    lapped = _lapped(assembly, lying)
    return tuple(sorted(dict.fromkeys((*found, *lapped, *holes)), key=lambda one: (one.host, one.side, one.near)))


def marks_by_piece(assembly: Assembly) -> Mapping[str, tuple[PieceMark, ...]]:
    """By its mark what lands on a piece as drawn; only where it is the same on all of a mark.

    It counts from the end that lies lower, or at the left of a level piece, as along the frame. A piece that is itself
    when it is turned, as a stile with equal ends, has the same on it where that is so turned; it is told of one that
    runs up or to the right.
    """
    lying = list(_lying(assembly))
    poses = [*("as-drawn" for _ in assembly.order), *(bar.pose for bar in assembly.inside)]
    each: list[list[LandedBar]] = [[] for _ in lying]
    for one in landings(assembly):
        each[one.host].append(_turned(one, lying[one.host][0], poses[one.host]))
    drawn = {member.mark: member.piece for member in assembly.pieces}
    found: dict[str, list[int]] = {}
    for host in sorted(range(len(lying)), key=lambda host: runs_back(lying[host][1].turn)):
        found.setdefault(assembly.every[host], []).append(host)
    told = {}
    for mark, (first, *others) in found.items():
        if each[first] and _all_alike(drawn[mark], each[first], [each[host] for host in others]):
            turned = runs_back(lying[first][1].turn) != (poses[first] in TURNED)
            told[mark] = _as_drawn(each[first], drawn[mark], "right" if turned else "left")
    return told


def _all_alike(piece: Piece, first: Sequence[LandedBar], others: Sequence[Sequence[LandedBar]]) -> bool:
    """Whether the same lands on all of a piece, each turned in some way in which it is itself."""
    marks = _as_drawn(first, piece)
    own = [pose for pose in piece.poses if same_ends(piece.posed(pose), piece)] if others else []
    turned = ((_as_drawn([_turned(one, piece, pose) for one in copy], piece) for pose in own) for copy in others)
    return all(any(_same(marks, way) for way in ways) for ways in turned)


def with_holes(assembly: Assembly) -> frozenset[str]:
    """The marks whose pieces all have the same holes."""
    found = marks_by_piece(assembly).items() if assembly.holes else ()
    return frozenset(mark for mark, places in found if not all(place.what for place in places))


def runs_back(way: complex) -> bool:
    """Whether a direction of length 1 runs down, or level to the left: all is set out from below, or from the left."""
    return way.real < 0 if abs(way.imag) < _LEVEL else way.imag < 0


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


def _lapped(assembly: Assembly, lying: Sequence[tuple[Piece, Move]]) -> Iterator[LandedBar]:
    """Where a brace passes another bar and both are whole: each lies over both sides of the other."""
    count, edges = len(assembly.order), assembly.edges
    braces = [i for i, bar in enumerate(assembly.inside, count) if bar.called == "brace"]
    for i, j in ((i, j) for i in braces for j in range(count, len(lying)) if i != j):
        here, there = _passing(*lying[i], edges[j]), _passing(*lying[j], edges[i])
        if here and there:
            yield from (LandedBar(i, side, *span, assembly.every[j]) for side, span in here)
            if assembly.inside[j - count].called != "brace":
                yield from (LandedBar(j, side, *span, assembly.every[i]) for side, span in there)


def _passing(piece: Piece, place: Move, other: Sequence[complex]) -> list[tuple[str, tuple[float, float]]]:
    """What each side of a piece has of a bar that passes all of it, by its edges; nothing of one that ends there."""
    inner_start, outer_start, outer_end, inner_end = ((point - place.shift) / place.turn for point in other)
    width, found = piece.section.width, []
    for side, y in (("fixed", 0.0), ("moving", width)):
        edges = (inner_start, inner_end), (outer_start, outer_end)
        begins = -piece.end_roof("left").at(y, 0.0)
        at = sorted(x - begins for edge in edges for x in _crosses(edge, y))
        if len(at) < len(edges) or not 0.0 < at[0] < at[1] < piece.length_at(y, 0.0):
            return []
        near, far = at
        found.append((side, (near, far)))
    return found


def _crosses(edge: tuple[complex, complex], y: float) -> Iterator[float]:
    """Where an edge passes a line along x at y, well within its own length; nowhere where it ends before or on it."""
    a, b = edge
    if min(a.imag, b.imag) < y - CLOSES and max(a.imag, b.imag) > y + CLOSES:
        yield a.real + (b - a).real * (y - a.imag) / (b - a).imag


def _turned(landing: LandedBar, piece: Piece, pose: str) -> LandedBar:
    """A landing on a piece as it lies in a pose, told of it unturned: a pose turned twice is none."""
    y = 0.0 if landing.side == "fixed" else piece.section.width
    near, far = landing.near, landing.far
    if pose in TURNED:
        near, far = piece.length_at(y, 0.0) - far, piece.length_at(y, 0.0) - near
    return LandedBar(landing.host, _side_turned(landing.side, pose), near, far, landing.what)


def _side_turned(side: str, pose: str) -> str:
    """Which side of the unturned piece one of the piece in a pose is."""
    across = {"fixed": "moving", "moving": "fixed"} if pose in ACROSS else {}
    over = {"bottom": "top", "top": "bottom"} if pose in ROLLED else {}
    return {**across, **over}.get(side, side)


def _as_drawn(landed: Iterable[LandedBar], piece: Piece, end: str = "left") -> tuple[PieceMark, ...]:
    """The marks that landings on a piece make, all from one end."""
    marks = (
        PieceMark(one.near if end == "left" else side_length(piece, one.side) - one.far, end, one.side, one.what)
        for one in landed
    )
    return tuple(sorted(marks, key=lambda mark: (mark.side, mark.at)))


def _same(one: tuple[PieceMark, ...], other: tuple[PieceMark, ...]) -> bool:
    """Whether the same lands at the same places."""
    return len(one) == len(other) and all(
        (a.side, a.what) == (b.side, b.what) and abs(a.at - b.at) < CLOSES for a, b in zip(one, other, strict=True)
    )
