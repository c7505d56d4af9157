"""What there was of a job before: marks of an earlier packet, what changed, what becomes of cut pieces; values."""

from __future__ import annotations

from collections.abc import Mapping

import attrs

from mitertool.job.again import Again
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark
from mitertool.quantity.problem import Problem
from mitertool.quantity.telling import Number


@attrs.frozen
class OldMark:
    """A mark as an earlier packet has it; `piece` is None where its section is not known any more.

    `holes` are those that the drawing has, as the piece of the mark lies drawn.
    """

    mark: str
    count: int
    section: str
    grade: str
    piece: Piece | None = None
    holes: tuple[PieceMark, ...] = ()


@attrs.frozen
class OldPacket:
    """An earlier packet of a job: its revision and marks, in its order, and the hash of what it was made from."""

    revision: str
    marks: tuple[OldMark, ...]
    inputs: str = ""

    @property
    def asked(self) -> dict[str, int]:
        """How many of each mark."""
        return {one.mark: one.count for one in self.marks}


@attrs.frozen
class Difference:
    """What of a mark is another: a code of the table of words, and what it was and is."""

    code: str
    before: Number
    after: Number


@attrs.frozen
class MarkChange:
    """A mark beside an earlier revision: unchanged, changed, new or gone."""

    mark: str
    state: str
    differences: tuple[Difference, ...] = ()


@attrs.frozen
class CutAlready:
    """Pieces of a mark that are cut already, or spoiled ones, and what may come of them.

    `fate` is keep, finish (a blank gets the end that it wants yet), recut or scrap; `to` is the mark that they become,
    and `how` the recut. `length` is that of each as
    it was drawn, on the centerline, mm; 0 where it is not known. `revision` is that of the mark, `left` the longest
    line (mm) that is told of a spoiled one or a `blank`, and `piece` what each is by now, None where that is not known.
    `against` is why the saw makes nothing of scrap that is long enough, with the mark that it might become. `heats` are
    those that they may be of, none where that of one is not told.
    """

    mark: str
    count: int
    fate: str
    to: str = ""
    how: Again | None = None
    spoiled: bool = False
    length: float = 0.0
    revision: str = ""
    left: float = 0.0
    piece: Piece | None = None
    blank: bool = False
    against: Problem | None = None
    heats: tuple[str, ...] = ()

    @property
    def heat(self) -> str:
        """The heat that each of them is of; "" where that is not known."""
        return self.heats[0] if len(self.heats) == 1 else ""


@attrs.frozen
class Rest:
    """What a packet of the rest tells beside the rest: the `revision` before, what changed, what becomes of pieces.

    `good` are the pieces that need not be cut any more, by mark; `taken` says whether recuts are among them. `bars` are
    those of earlier packets that are told as cut, by number and what the packet was made from, and `inputs` is what
    that of the whole job before it was made from. `begun` are bars that are told as cut in part, by their revisions.
    """

    revision: str = ""
    changes: tuple[MarkChange, ...] = ()
    offers: tuple[CutAlready, ...] = ()
    good: Mapping[str, int] = attrs.field(factory=dict, hash=False)
    taken: bool = False
    bars: tuple[str, ...] = ()
    inputs: str = ""
    begun: tuple[tuple[str, str], ...] = ()

    @property
    def bars_of_whole(self) -> tuple[str, ...]:
        """The numbers of the bars of the whole job before it that are told as cut."""
        return tuple(bar.partition(" ")[0] for bar in self.bars if bar.endswith(f" {self.inputs}"))
