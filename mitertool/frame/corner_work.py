"""What is worked at the corners after the saw, as allowances and notes: coped and notched ends, plates, bevels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly, Cap
from mitertool.frame.joints import FIRST_THROUGH, MITER, Joint
from mitertool.piece.marks import EndWork
from mitertool.quantity.problem import Remark, counts, lengths, names
from mitertool.words import phrase

LENGTH_TO: Final = ("root", "face")
"""Of a beveled end what root gap and lengths go to: the edge that the bevel leaves, or the outside where it begins."""


@attrs.frozen
class CornerWork:
    """How the ends at corners are worked, mm square to the joint.

    A butted end reaches `cope` past the face it meets, of angle iron with a `thickness` to the standing leg there,
    which leaves that leg running on when the flat one is notched. A member that runs through, and a free end of an open
    frame, stays back by a plate on its end, `cap` thick.

    A bevel goes from the root, which stays where the saw left it, to a line `bevel` behind it on the outside, the face.
    `length_to` is one of `LENGTH_TO`: sizes and gap of a drawing that go to the face leave each beveled end `bevel`
    longer at its root, and the roots nearer by that for every beveled end of a joint; to the root nothing is added. The
    sums follow from the shape; which of both a drawing means it must say: common practice, no source.
    """

    cope: float = 0.0
    thickness: float | None = None
    cap: float = 0.0
    bevel: float = 0.0
    length_to: str = "root"

    def joint(self, kind: str, gap: float, width: float) -> Joint:
        """The joint of a kind, its gap as drawn, against a member so wide. Raises `BadInput` for faces too near."""
        if kind == MITER:
            return Joint(kind, self._root(gap, 2))
        reach = width - self.thickness if self.thickness is not None else self.cope
        if reach > width:
            raise BadInput("cope", Remark("found.length", lengths(length=reach)), phrase("refuse.cope"))
        return Joint(kind, self._root(gap, 1), reach, self.cap)

    def _root(self, gap: float, ends: int) -> float:
        """The gap that is left between the roots of so many beveled ends."""
        if self.length_to == "root" or not self.bevel:
            return gap
        if gap < ends * self.bevel:
            least = Remark("refuse.bevel-face", lengths(least=ends * self.bevel))
            raise BadInput("root_gap", Remark("found.length", lengths(length=gap)), least)
        return gap - ends * self.bevel

    def notes(self, assembly: Assembly) -> Iterator[Remark]:
        """What is to be done at the ends, on which marks."""
        butted = [mark for mark, _ in _butted(assembly)]
        if butted and (self.cope or self.thickness is not None):
            yield self._reaching(assembly, butted)
        for plate in self._plates(assembly) if self.cap else ():
            told = names(plate=plate.name, marks=list(dict.fromkeys(mark for mark, _ in plate.ends)))
            sizes = lengths(wide=plate.wide, high=plate.high, cap=self.cap)
            yield Remark("note.cap", told + counts(count=len(plate.ends)) + sizes)
        if self.bevel:
            yield Remark("note.bevel", lengths(bevel=self.bevel), self.length_to)

    def _reaching(self, assembly: Assembly, butted: Sequence[str]) -> Remark:
        marks = names(marks=list(dict.fromkeys(butted)))
        reach = max(joint.reach for joint in assembly.joints)
        if self.thickness is None:
            return Remark("note.cope", marks + lengths(reach=reach))
        return Remark("note.notch", marks + lengths(reach=reach, thickness=self.thickness))

    def capped(self, assembly: Assembly) -> tuple[Cap, ...]:
        """The plates on the open ends of a frame."""
        return tuple(Cap(host, end, self.cap) for host, end in _open_ends(assembly)) if self.cap else ()

    def ends(self, assembly: Assembly) -> Mapping[str, tuple[EndWork, ...]]:
        """By its mark what is done at the ends of a piece as drawn, where it is the same on all pieces of the mark."""
        each: list[dict[str, list[EndWork]]] = [{"left": [], "right": []} for _ in assembly.order]
        for host, end, does in self._at_ends(assembly):
            each[host][end].append(does)
        found: dict[str, list[dict[str, list[EndWork]]]] = {}
        for mark, one in zip(assembly.order, each, strict=True):
            found.setdefault(mark, []).append(one)
        same = {mark: ones[0] for mark, ones in found.items() if all(one == ones[0] for one in ones)}
        return {mark: _both(one["left"], one["right"]) for mark, one in same.items() if any(one.values())}

    def _at_ends(self, assembly: Assembly) -> Iterator[tuple[int, str, EndWork]]:
        """What is done at which end of which member of the order."""
        by_end = {end: plate for plate in self._plates(assembly) if self.cap for end in plate.places}
        for (host, end), plate in by_end.items():
            sizes = lengths(wide=plate.wide, high=plate.high, cap=self.cap)
            yield host, end, EndWork(end, "cap", names(plate=plate.name) + sizes)
        for i, joint in enumerate(assembly.joints):
            ends = (i, "right"), ((i + 1) % len(assembly.order), "left")
            yield from self._at_joint(ends, joint)

    def _at_joint(self, ends: tuple[_End, _End], joint: Joint) -> Iterator[tuple[int, str, EndWork]]:
        cut = ends if joint.kind == MITER else ends[1:] if joint.kind == FIRST_THROUGH else ends[:1]
        for host, end in cut:
            if joint.reach and self.thickness is not None:
                yield host, end, EndWork(end, "notch", lengths(reach=joint.reach, thickness=self.thickness))
            elif joint.reach:
                yield host, end, EndWork(end, "cope", lengths(reach=joint.reach))
            if self.bevel:
                yield host, end, EndWork(end, "bevel", lengths(bevel=self.bevel))

    def _plates(self, assembly: Assembly) -> Iterator[Plate]:
        """A plate a size, with a name of its own."""
        sizes: dict[tuple[float, float], list[_End]] = {}
        pieces = {member.mark: member.piece for member in assembly.pieces}
        for host, end in _open_ends(assembly):
            piece = pieces[assembly.order[host]]
            face = piece.section.width * hypot(1, piece.cuts(end)[0].p)
            sizes.setdefault((round(face, 3), round(piece.section.height, 3)), []).append((host, end))
        for number, ((wide, high), places) in enumerate(sizes.items(), 1):
            marked = tuple((assembly.order[host], end) for host, end in places)
            yield Plate(f"{assembly.mark}-CAP{number}", wide, high, tuple(places), marked)


_End = tuple[int, str]
"""A member by its number in the order, and its "left" or "right" end."""


@attrs.frozen
class Plate:
    """A plate that closes open ends, mm: which members of the order it goes on, and their marks."""

    name: str
    wide: float
    high: float
    places: tuple[_End, ...]
    ends: tuple[tuple[str, str], ...]


def _both(left: Sequence[EndWork], right: Sequence[EndWork]) -> tuple[EndWork, ...]:
    """What is done at either end of a piece; the same at both as one."""
    other = [attrs.evolve(one, end="left") for one in right]
    both = [attrs.evolve(one, end="both") for one in left if one in other]
    alone = [one for one in left if one not in other]
    alone += [one for one, as_left in zip(right, other, strict=True) if as_left not in left]
    return (*both, *alone)


def _butted(assembly: Assembly) -> Iterator[tuple[str, Joint]]:
    """Of every butted corner the mark that butts, and the joint."""
    for i, joint in enumerate(assembly.joints):
        if joint.kind != MITER:
            butts = (i + 1) % len(assembly.order) if joint.kind == FIRST_THROUGH else i
            yield assembly.order[butts], joint


def _open_ends(assembly: Assembly) -> Iterator[_End]:
    """The ends of members that run through butted corners, the free ends of an open frame, all where none is joined."""
    count = len(assembly.order)
    if not assembly.joints:
        yield from ((host, end) for host in range(count) for end in ("left", "right"))
    for i, joint in enumerate(assembly.joints):
        if joint.kind != MITER:
            yield (i, "right") if joint.kind == FIRST_THROUGH else ((i + 1) % count, "left")
    if assembly.joints and len(assembly.joints) < count:
        yield from ((0, "left"), (count - 1, "right"))
