"""What is worked at the corners after the saw, as allowances and notes: coped and notched ends, plates, bevels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly
from mitertool.frame.joints import FIRST_THROUGH, MITER, Joint
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, counts, lengths, names
from mitertool.words import phrase

LENGTH_TO: Final = ("root", "face")
"""Of a beveled end what root gap and lengths go to: the edge that the bevel leaves, or the outside where it begins."""


@attrs.frozen
class CornerWork:
    """How the ends at corners are worked, mm square to the joint.

    A butted end reaches `cope` past the face it meets, of angle iron with a `thickness` to the standing leg there,
    which leaves that leg running on when the flat one is notched. A member that runs through stays back by a plate on
    its end, `cap` thick. A `bevel` takes so much off the outside of an end; `length_to` is one of `LENGTH_TO`.
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
        meets = list(_butted(assembly))
        if meets and (self.cope or self.thickness is not None):
            yield self._reaching(assembly, [butted for _, butted, _ in meets])
        if meets and self.cap:
            yield from self._plates(assembly, [(mark, piece, end) for (mark, piece, end), _, _ in meets])
        if self.bevel:
            yield Remark("note.bevel", lengths(bevel=self.bevel), self.length_to)

    def _reaching(self, assembly: Assembly, butted: Sequence[str]) -> Remark:
        marks = names(marks=list(dict.fromkeys(butted)))
        reach = max(joint.reach for joint in assembly.joints)
        if self.thickness is None:
            return Remark("note.cope", marks + lengths(reach=reach))
        return Remark("note.notch", marks + lengths(reach=reach, thickness=self.thickness))

    def _plates(self, assembly: Assembly, ends: Sequence[tuple[str, Piece, str]]) -> Iterator[Remark]:
        """A sentence a size of plate, each with a mark of its own."""
        sizes: dict[tuple[float, float], list[str]] = {}
        for mark, piece, end in ends:
            face = piece.section.width * hypot(1, piece.cuts(end)[0].p)
            sizes.setdefault((round(face, 3), round(piece.section.height, 3)), []).append(mark)
        for number, ((wide, high), marks) in enumerate(sizes.items(), 1):
            told = names(plate=f"{assembly.mark}-CAP{number}", marks=list(dict.fromkeys(marks)))
            yield Remark("note.cap", told + counts(count=len(marks)) + lengths(wide=wide, high=high, cap=self.cap))


def _butted(assembly: Assembly) -> Iterator[tuple[tuple[str, Piece, str], str, Joint]]:
    """Of every butted corner the through piece and its end, the mark that butts, and the joint."""
    pieces = {member.mark: member.piece for member in assembly.pieces}
    for i, joint in enumerate(assembly.joints):
        first, second = assembly.order[i], assembly.order[(i + 1) % len(assembly.order)]
        if joint.kind == FIRST_THROUGH:
            yield (first, pieces[first], "right"), second, joint
        elif joint.kind != MITER:
            yield (second, pieces[second], "left"), first, joint
