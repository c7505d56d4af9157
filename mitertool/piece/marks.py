"""Places along a piece where something lands or a hole is made, each from one end along one side; knows pieces."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import SAME_LENGTH
from mitertool.piece.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.quantity.problem import Remark, lengths, words
from mitertool.quantity.telling import Numbers

SIDES: Final = ("fixed", "moving", "bottom", "top")
"""The sides of a bar along which a place is marked: in the middle of each."""


@attrs.frozen
class PieceMark:
    """A place `at` mm from the "left" or "right" end along a side; `what` lands there, "" for a hole."""

    at: float
    end: str
    side: str
    what: str = ""

    def __attrs_post_init__(self) -> None:
        if self.end not in OTHER_END:
            raise BadInput("from", self.end, among(OTHER_END))
        if self.side not in SIDES:
            raise BadInput("side", self.side, among(SIDES))

    @property
    def mirrored(self) -> Self:
        """The same on the opposite hand, whose ends have changed places."""
        return attrs.evolve(self, end=OTHER_END[self.end])

    def from_left(self, piece: Piece) -> float:
        """How far it lies from the left end along its side, mm."""
        return self.at if self.end == "left" else side_length(piece, self.side) - self.at


@attrs.frozen
class EndWork:
    """What is done after the saw at the "left" or "right" end of a piece, or at "both": a code and its numbers."""

    end: str
    code: str
    numbers: Numbers = ()

    @property
    def mirrored(self) -> Self:
        """The same on the opposite hand, whose ends have changed places."""
        return attrs.evolve(self, end=OTHER_END.get(self.end, self.end))

    @property
    def told(self) -> Remark:
        """What is to be done."""
        return Remark(f"worked.{self.code}", words(end=f"worked.end/{self.end}") + self.numbers)


def side_length(piece: Piece, side: str) -> float:
    """How long a piece is along the middle of a side, mm."""
    return piece.length_at(*place_of(piece, side))


def place_of(piece: Piece, side: str) -> tuple[float, float]:
    """Where the middle of a side lies in the section, (y, z), mm."""
    width, height = piece.section.width, piece.section.height
    return {
        "fixed": (0.0, height / 2),
        "moving": (width, height / 2),
        "bottom": (width / 2, 0.0),
        "top": (width / 2, height),
    }[side]


def refuse_beyond(piece: Piece, marks: Iterable[PieceMark]) -> None:
    """Raise `BadInput` for a place that lies past the end of its side."""
    for mark in marks:
        along = side_length(piece, mark.side)
        if not 0 <= mark.at <= along + SAME_LENGTH:
            found = Remark("found.length", lengths(length=mark.at))
            raise BadInput("holes", found, Remark("refuse.beyond", lengths(along=along)))
