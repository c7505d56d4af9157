"""A member that leans, as a side or a corner bar of a hopper: its angles, and its cuts set in other ways; knows pieces.

Of the other ways one stands the bar on its edge, its top to the moving side, and one rolls it in a fixture until a
swing alone makes the cut, on a saw whose blade does not tilt.
"""

from __future__ import annotations

from math import atan, atan2, copysign, degrees, hypot

import attrs

from mitertool.cut import Cut
from mitertool.piece import Piece
from mitertool.quantity.problem import angles, names
from mitertool.quantity.telling import Numbers


def on_edge(cut: Cut) -> Cut:
    """The same cut of a bar that stands on its edge, what was its top to the moving side."""
    return Cut.from_slopes(cut.q, -cut.p)


def in_a_fixture(cut: Cut) -> tuple[float, float]:
    """How far a bar is rolled in a fixture, a quarter at most, and the swing that then makes the cut alone, degrees.

    Rolled by more than 0 its top goes to the moving side. The swing is above 0 where the long point then lies there.
    """
    roll, swing = degrees(atan2(cut.q, cut.p)), degrees(atan(hypot(cut.p, cut.q)))
    return (roll, swing) if abs(roll) <= 90 else (roll - copysign(180, roll), -swing)


@attrs.frozen
class Leaning:
    """A mark of a hopper as it stands: `slope` from the horizontal, and `dihedral` between the sides there, degrees.

    `slant` is how far it goes from bottom to top along its slope, mm. `face_up` is which face of it is up on the bed,
    "outside" of a plate, "" where the bar's own sides tell.
    """

    mark: str
    piece: Piece
    slope: float
    slant: float
    dihedral: float
    face_up: str = ""

    @property
    def outside(self) -> tuple[float, float] | None:
        """Bottom and top of the outside of a plate that lies with its outside up, mm: with the slant its pattern."""
        edges = self.piece.edges
        return (edges.fixed_top, edges.moving_top) if self.face_up else None

    @property
    def inside(self) -> tuple[float, float] | None:
        """The same of its inside."""
        edges = self.piece.edges
        return (edges.fixed_bottom, edges.moving_bottom) if self.face_up else None

    @property
    def on_edge(self) -> Cut:
        """The cut of its right end, standing on its edge."""
        return on_edge(self.piece.right)

    @property
    def fixture(self) -> tuple[float, float]:
        """The roll of its right end in a fixture, and the swing that is left, degrees."""
        return in_a_fixture(self.piece.right)

    @property
    def numbers(self) -> Numbers:
        """What a sentence shows of it."""
        roll, swing = self.fixture
        leans = {"slope": self.slope, "dihedral": self.dihedral}
        edge = {"miter": self.on_edge.miter, "bevel": self.on_edge.bevel}
        return (*names(mark=self.mark), *angles(**leans, **edge, leans=abs(roll), swing=abs(swing)))
