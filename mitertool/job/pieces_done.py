"""What there is of the pieces of a revision, and what it becomes with each thing that is told; values only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_LEFT_OVER
from mitertool.words import phrase


@attrs.frozen
class Spoiled:
    """`count` pieces of a mark that went wrong; `length` is the longest line (mm) that is left of each, 0: not told."""

    mark: str
    count: int
    length: float = 0.0


@attrs.frozen
class BlanksDone:
    """`count` blanks of a mark whose `end`, "left" or "right" as drawn, is cut later; each `length` mm long."""

    mark: str
    end: str
    length: float
    count: int


@attrs.frozen
class PiecesDone:
    """What there is of the pieces of a revision: good ones by mark, those that went wrong, and blanks.

    `bars` are those of its sheets that are told as cut, by packet and number, `begun` those that are cut in part.
    `heats` are those of all pieces of a mark, "" among them where one is not told.
    """

    good: Mapping[str, int] = attrs.field(factory=dict, hash=False)
    spoiled: tuple[Spoiled, ...] = ()
    bars: tuple[str, ...] = ()
    blanks: tuple[BlanksDone, ...] = ()
    begun: tuple[str, ...] = ()
    heats: Mapping[str, tuple[str, ...]] = attrs.field(factory=dict, hash=False)

    @property
    def begun_alone(self) -> tuple[str, ...]:
        """The numbers of the bars that are begun, where no other packet's bar of that number is cut."""
        cut = {name.partition(" ")[0] for name in self.bars}
        return tuple(bar for bar in (name.partition(" ")[0] for name in self.begun) if bar not in cut)

    def of_heat(self, mark: str, heat: str) -> Self:
        """The same with pieces of a mark that are of a heat, "": not told."""
        return attrs.evolve(self, heats={**self.heats, mark: tuple(dict.fromkeys((*self.heats.get(mark, ()), heat)))})

    def heats_of(self, mark: str) -> tuple[str, ...]:
        """The heats that pieces of a mark may be of; none where that of one is not told."""
        found = self.heats.get(mark, ())
        return found if all(found) else ()

    def blanks_of(self, mark: str) -> int:
        """How many blanks there are of a mark."""
        return sum(one.count for one in self.blanks if one.mark == mark)

    def with_bar(self, name: str, begun: bool) -> Self:
        """The same with a bar that is cut, or begun. Raises `BadInput` for one that is told already."""
        if name in self.bars:
            raise BadInput(phrase("what.bar"), name, phrase("rest.bar-twice"))
        if name in self.begun:
            raise BadInput(phrase("what.bar"), name, phrase("rest.bar-begun"))
        if begun:
            return attrs.evolve(self, begun=(*self.begun, name))
        return attrs.evolve(self, bars=(*self.bars, name))

    def with_good(self, mark: str, count: int, asked: int) -> Self:
        """The same with good pieces; what is more than asked beside the blanks was made of them.

        Raises `BadInput` for more than are asked.
        """
        good = self.good.get(mark, 0) + count
        if good > asked:
            raise BadInput(phrase("what.good-pieces", mark=mark), good, phrase("refuse.good-pieces", most=asked))
        made = max(0, good + self.blanks_of(mark) - asked)
        return attrs.evolve(self.without_blanks(mark, made), good={**self.good, mark: good})

    def with_spoiled(self, spoiled: Spoiled) -> Self:
        """The same with pieces that went wrong."""
        return attrs.evolve(self, spoiled=(*self.spoiled, spoiled))

    def with_blanks(self, made: BlanksDone, asked: int) -> Self:
        """The same with blanks. Raises `BadInput` for more than are asked."""
        there = self.good.get(made.mark, 0) + self.blanks_of(made.mark) + made.count
        if there > asked:
            told = phrase("what.pieces-and-blanks", mark=made.mark)
            raise BadInput(told, there, phrase("refuse.good-pieces", most=asked))
        return attrs.evolve(self, blanks=(*self.blanks, made))

    def without_blanks(self, mark: str, count: int, length: float = 0.0) -> Self:
        """The same without so many blanks, of a length where it is told. Raises `BadInput` for more than there are."""
        more, left = count, []
        for one in self.blanks:
            taken = min(more, one.count) if one.mark == mark and _so_long(one, length) else 0
            more -= taken
            left.append(attrs.evolve(one, count=one.count - taken))
        if more:
            raise BadInput(phrase("what.blanks", mark=mark), count, phrase("rest.no-blanks", there=count - more))
        return attrs.evolve(self, blanks=tuple(one for one in left if one.count))

    def without(self, recut: Spoiled) -> Self:
        """The same without pieces that are none any more: spoiled ones of a length, or good ones without it.

        Raises `BadInput` where there are not so many.
        """
        if not recut.length:
            left = self.good.get(recut.mark, 0) - recut.count
            if left < 0:
                raise _none_to_recut(recut)
            return attrs.evolve(self, good={**self.good, recut.mark: left})
        more, spoiled = recut.count, list(self.spoiled)
        for i, one in enumerate(spoiled):
            if one.mark == recut.mark and _so_long(one, recut.length):
                taken = min(more, one.count)
                more -= taken
                spoiled[i] = attrs.evolve(one, count=one.count - taken)
        if more:
            raise _none_to_recut(recut)
        return attrs.evolve(self, spoiled=tuple(one for one in spoiled if one.count))


def _so_long(one: Spoiled | BlanksDone, length: float) -> bool:
    """Whether pieces are of a length; 0 is any."""
    return not length or abs(one.length - length) <= SAME_LEFT_OVER


def _none_to_recut(recut: Spoiled) -> BadInput:
    return BadInput(phrase("what.recut"), recut.mark, phrase("rest.none-to-recut"))
