"""What a job says of itself and of a mark, read and checked, not yet solved; values only."""

from __future__ import annotations

import attrs

from mitertool.job.particulars import Particulars
from mitertool.piece import Piece
from mitertool.piece.marks import EndWork, PieceMark
from mitertool.piece.poses import opposite_mark
from mitertool.quantity import Units
from mitertool.sections.abreast import boxed, row
from mitertool.words import phrase


@attrs.frozen
class Head:
    """The [job] table: what stands in the title of every page, and the `language` of the paper, "" for the screen's."""

    name: str
    revision: str = ""
    date: str = ""
    customer: str = ""
    units: Units = "mm"
    tolerance: str = ""
    language: str = ""
    particulars: Particulars = attrs.field(factory=Particulars)


@attrs.frozen
class PieceOrder:
    """A mark: how many of the piece as drawn and of its opposite hand, and what the floor must know of it.

    `side_by_side` bars are cut at once; with `boxed` two of them as a box, which gives one of either hand. `places` are
    where a hole is made or another piece lands, and `worked` what is done at its ends after the saw, as drawn. `shows`
    is which side as drawn is the outside of its frame: "moving" where a frame in one plane is measured, "top" of a
    plate of a hopper, "" of any other.
    """

    mark: str
    piece: Piece
    quantity: int = 1
    opposite: int = 0
    grade: str = ""
    lies: str = ""
    out: str = ""
    turn: tuple[str, ...] = ()
    frame: str = ""
    particulars: Particulars = attrs.field(factory=Particulars)
    side_by_side: int = 1
    boxed: bool = False
    places: tuple[PieceMark, ...] = ()
    worked: tuple[EndWork, ...] = ()
    shows: str = ""

    def in_vise(self, piece: Piece) -> Piece:
        """A piece of this mark as the saw meets it: of all bars that are cut at once."""
        if self.side_by_side == 1 and not self.boxed:
            return piece
        section = row(boxed(piece.section) if self.boxed else piece.section, self.side_by_side)
        return Piece(section, piece.centerline, piece.left, piece.right, at="centerline")

    @property
    def is_own_opposite(self) -> bool:
        """Whether the opposite hand is the same piece, laid another way: not where it has holes."""
        return self.piece.is_own_opposite and all(place.what for place in self.places)

    @property
    def a_cut(self) -> int:
        """How many pieces of a mark a cut gives; of a box one of either mark, or two where both go by one."""
        return self.side_by_side * (2 if self.boxed and self.is_own_opposite else 1)

    def comes_with(self, mark: str) -> str:
        """The other mark that a cut of this one gives, "" for none."""
        if not self.boxed or self.is_own_opposite:
            return ""
        return self.opposite_mark if mark == self.mark else self.mark

    @property
    def face_out(self) -> str:
        """Which face shows, in words; "" where nobody says. Of a frame that is its outside."""
        return phrase(f"side.{self.shows}") if self.shows and not self.out else self.out

    @property
    def opposite_mark(self) -> str:
        """The mark of the opposite hand on the sheet and in the plan."""
        return opposite_mark(self.mark)

    @property
    def marks(self) -> tuple[str, ...]:
        """All marks that this order brings about."""
        return (self.mark, self.opposite_mark) if self.opposite else (self.mark,)

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        """Every mark that is cut with how many; an opposite hand that is the same piece goes by the first mark."""
        if self.opposite and self.is_own_opposite:
            return ((self.mark, self.quantity + self.opposite),)
        both = ((self.mark, self.quantity), (self.opposite_mark, self.opposite))
        return tuple((mark, count) for mark, count in both if count)
