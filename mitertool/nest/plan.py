"""What is put on bars, the bars, and the plan that comes out; values only."""

from __future__ import annotations

import attrs

from mitertool.piece import Piece
from mitertool.sections import Section


@attrs.frozen
class Item:
    """`quantity` pieces of one mark; `turn` holds the poses they may take (empty: all that the section allows)."""

    mark: str
    piece: Piece
    quantity: int
    grade: str = ""
    turn: tuple[str, ...] = ()

    @property
    def poses(self) -> tuple[str, ...]:
        """The poses that both the section and the mark allow."""
        return tuple(pose for pose in self.piece.poses if not self.turn or pose in self.turn)


@attrs.frozen
class Stock:
    """Bars to cut from: `quantity` None means as many as needed; `cost` defaults to the length (mm)."""

    section: str
    length: float
    grade: str = ""
    quantity: int | None = None
    cost: float | None = None

    @property
    def price(self) -> float:
        """Cost of one bar, its length where no cost is given."""
        return self.length if self.cost is None else self.cost


@attrs.frozen
class Allowance:
    """What the saw takes besides the pieces, mm: kerf square to the blade, trim, grip, least wedge.

    `leads` is the end of a piece, "left" or "right", that meets the blade first.
    """

    kerf: float
    trim: float = 0.0
    grip: float = 0.0
    wedge_least: float = 0.0
    leads: str = "left"


@attrs.frozen
class Placed:
    """A piece on a bar: its mark and pose, and where its leading cut crosses the centerline from the bar's end, mm."""

    mark: str
    pose: str
    at: float


@attrs.frozen
class Bar:
    """`count` bars cut alike. `drop` is what is left behind the last kerf, on the centerline, mm.

    `swings` counts the changes of the arm from the first cut of a bar to its last.
    """

    section: Section
    grade: str
    stock_length: float
    count: int
    pieces: tuple[Placed, ...]
    drop: float
    swings: int
    rolls: int = 0


@attrs.frozen
class Plan:
    """Bars in the order of work, what they cost, a lower bound of that cost and whether the plan meets it."""

    bars: tuple[Bar, ...]
    cost: float
    lower_bound: float
    proved: bool
    swings: int
    rolls: int = 0
