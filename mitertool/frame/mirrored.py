"""The mirror image of a frame, as the second leaf of a double gate is one; knows assemblies.

It is taken about an upright line, x for -x. Each piece is the opposite hand of the one that it is the image of.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.base.tolerances import CLOSES
from mitertool.frame.assembly import Assembly, BarInside, Cap, Hole, Member
from mitertool.frame.closure import Move
from mitertool.frame.inside.landings import landings, with_holes
from mitertool.frame.joints import Joint, other_way
from mitertool.frame.rings import Ring
from mitertool.geometry.near import low_and_size
from mitertool.piece import Piece
from mitertool.piece.piece import same_ends
from mitertool.piece.poses import OTHER_END, opposite_mark


def image_of(assembly: Assembly) -> Assembly:
    """The image of a frame that lies in one plane, walked clockwise as well.

    A piece that is its own opposite hand and has no holes keeps its mark, the others have that of their opposite hand.
    """
    holed = with_holes(assembly)
    marks = {member.mark: _image_mark(member, holed) for member in assembly.pieces}
    pieces = {member.mark: member.piece for member in assembly.pieces}
    count = len(assembly.order)
    around = zip(assembly.order, assembly.places, strict=True)
    places = [_image_place(place, pieces[mark].opposite_hand()) for mark, place in around]
    return attrs.evolve(
        assembly,
        mark=opposite_mark(assembly.mark),
        pieces=tuple(_image_member(member, marks[member.mark]) for member in assembly.pieces),
        order=tuple(marks[mark] for mark in assembly.order[::-1]),
        joints=_image_joints(assembly.joints, closed=len(assembly.joints) == count),
        places=tuple(places[::-1]),
        ring=_image_ring(assembly.ring) if assembly.ring else None,
        holes=tuple(
            Hole(count - 1 - one.host, one.side, assembly.side_length(one.host, one.side) - one.at)
            for one in assembly.holes
        ),
        caps=tuple(Cap(count - 1 - one.host, OTHER_END[one.end], one.thick) for one in assembly.caps),
        inside=tuple(_image_bar(bar, pieces[bar.mark], marks[bar.mark], count) for bar in assembly.inside),
        notes=tuple(note.renamed(marks) for note in assembly.notes),
    )


def is_own_image(assembly: Assembly) -> bool:
    """Whether a frame is its own mirror image: every piece its own opposite hand, and all of them lying the same.

    One with holes is not.
    """
    if assembly.holes or not all(member.piece.is_own_opposite for member in assembly.pieces):
        return False
    here, image = _lying(assembly), _lying(image_of(assembly))
    return len(here) == len(image) and all(
        mark == other and all(abs(a - b) < CLOSES for a, b in zip(one, two, strict=True))
        for (mark, one), (other, two) in zip(here, image, strict=True)
    )


def marked_otherwise(image: Assembly) -> tuple[str, ...]:
    """Of the marks that a mirror image shares with its frame those whose places lie otherwise on them.

    On a piece that is only turned over, top for bottom, every place is as far from the same end of the same side.
    """
    met, holed = {image.every[one.host] for one in landings(image)}, with_holes(image)
    shared = (one for one in image.pieces if one.mark in met - holed and one.piece.is_own_opposite)
    return tuple(one.mark for one in shared if not _is_turned_over(one.piece))


def _is_turned_over(piece: Piece) -> bool:
    """Whether the opposite hand is the piece itself with its top below, either end and side where it is."""
    pose = "end-for-end-rolled"
    return pose in piece.poses and same_ends(piece.posed(pose), piece.opposite_hand())


def _lying(assembly: Assembly) -> list[tuple[str, tuple[complex, ...]]]:
    """Each mark with the corners of its piece, from the lower left of the frame, in an order of places."""
    low, _ = low_and_size(point for outline in assembly.outlines for point in outline)
    found = [
        (mark, tuple(sorted((point - low for point in outline), key=_by_place)))
        for mark, outline in zip(assembly.every, assembly.outlines, strict=True)
    ]
    return sorted(found, key=lambda one: (one[0], *map(_by_place, one[1])))


def _by_place(point: complex) -> tuple[float, float]:
    """Its place to a hundredth of a mm."""
    return round(point.real, 2), round(point.imag, 2)


def _image_mark(member: Member, holed: frozenset[str]) -> str:
    own = member.piece.is_own_opposite and member.mark not in holed
    return member.mark if own else opposite_mark(member.mark)


def _image_member(member: Member, mark: str) -> Member:
    return attrs.evolve(member, mark=mark, piece=member.piece.opposite_hand())


def _image_place(place: Move, image: Piece) -> Move:
    """Where an opposite hand lies: what was x along a piece is its whole inner edge less x."""
    turn = place.turn.conjugate()
    return Move(turn, -turn * image.s - place.shift.conjugate())


def _image_joints(joints: Sequence[Joint], closed: bool) -> tuple[Joint, ...]:
    turned = tuple(map(other_way, joints))
    return (*turned[-2::-1], turned[-1]) if closed else turned[::-1]


def _image_ring(ring: Ring) -> Ring:
    corners = tuple(-corner.conjugate() for corner in ring.corners)
    around = (corners[0], *corners[:0:-1]) if ring.closed else corners[::-1]
    joints = _image_joints(ring.joints, ring.closed)
    return Ring(around, ring.sections[::-1], joints, ring.closed, not ring.turned)


def _image_bar(bar: BarInside, piece: Piece, mark: str, count: int) -> BarInside:
    """The image of a bar inside; `count` members are around it, which are walked the other way."""
    lies = piece.posed(bar.pose).opposite_hand()
    place = _image_place(bar.place, lies)
    middle = lies.section.width / 2
    start = place(complex(-lies.end_roof("left").at(middle, 0.0), middle))
    ends = (tuple(sorted(count - 1 - i if 0 <= i < count else i for i in end)) for end in (bar.right, bar.left))
    return BarInside(mark, bar.called, bar.pose, place, start, *ends)
