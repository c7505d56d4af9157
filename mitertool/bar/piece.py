"""Pieces as they lie on a bar one behind another, and the kerfs that part them; lengths mm on the centerline."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from math import radians
from typing import Self

import attrs

from mitertool.bar.cut import BarCut
from mitertool.cut import Cut
from mitertool.geometry import Point
from mitertool.geometry.segments import turn
from mitertool.piece import POSES, Piece
from mitertool.quantity.compare import same_length
from mitertool.sections import Section


@attrs.frozen
class BarPiece:
    """A piece as it lies on a bar: its mark, its section and both its cuts in that pose, its centerline (mm).

    `at` is where its leading cut crosses the centerline, from the leading end of the bar, mm; `leads` is the end,
    "left" or "right", that meets the blade first.
    """

    mark: str
    section: Section
    left: Cut
    right: Cut
    centerline: float
    at: float = 0.0
    leads: str = "left"

    @classmethod
    def of(cls, mark: str, piece: Piece, pose: str = POSES[0], at: float = 0.0, leads: str = "left") -> Self:
        """A piece laid in a pose; raises `BadInput` for one that its section does not allow."""
        posed = piece if pose == POSES[0] else piece.posed(pose)
        return cls(mark, posed.section, posed.left, posed.right, posed.centerline, at, leads)

    def lying(self, section: Section, roll: float) -> Self:
        """The same piece on a bar that lies as `section`, and as the piece's own lay when it is rolled by degrees."""
        if not roll:
            return attrs.evolve(self, section=section)
        ends = {end: getattr(self, end) for end in ("left", "right")}
        for end, cut in ends.items():
            trails = end != self.leads
            plane = BarCut.of(cut, trails).rolled(-roll).plane
            ends[end] = plane if trails else plane.reversed
        return attrs.evolve(self, section=section, **ends)

    @cached_property
    def lead(self) -> BarCut:
        """Its leading cut on the bar."""
        return BarCut.of(self.left if self.leads == "left" else self.right, trailing=False)

    @cached_property
    def trail(self) -> BarCut:
        """Its trailing cut on the bar."""
        return BarCut.of(self.right if self.leads == "left" else self.left, trailing=True)

    @property
    def parallel(self) -> bool:
        """Whether both cuts have one slope."""
        return self.lead.parallel(self.trail)

    @property
    def along_bottom(self) -> tuple[float, float]:
        """How long it is along the bottom of the fixed and of the moving side, mm."""
        before, behind = self.lead.sides(self.section), self.trail.sides(self.section)
        return self.centerline + behind[0] - before[0], self.centerline + behind[1] - before[1]

    @property
    def end(self) -> float:
        """Where its trailing cut crosses the centerline, mm."""
        return self.at + self.centerline


@attrs.frozen
class Kerf:
    """A kerf of a bar: the plane of the cut, from where to where the blade takes steel, and the pieces on either side.

    `before` is the piece that it finishes, None for a first cut and for one that only parts off a wedge; `behind` the
    one that it begins.
    """

    cut: BarCut
    begin: float
    end: float
    before: BarPiece | None
    behind: BarPiece | None

    @property
    def face(self) -> float:
        """Where the face crosses the centerline: of the piece before it, else of the one behind it, mm."""
        return self.begin if self.before else self.end

    @property
    def middle(self) -> float:
        """Where the middle of the kerf crosses the centerline, mm."""
        return (self.begin + self.end) / 2

    @property
    def along(self) -> float:
        """What it takes along the bar, mm."""
        return self.end - self.begin

    @property
    def shared(self) -> bool:
        """Whether it parts two pieces."""
        return self.before is not None and self.behind is not None

    @property
    def mark(self) -> str:
        """The mark of the piece that it finishes, "" for none."""
        return self.before.mark if self.before else ""


def kerfs_of(pieces: Sequence[BarPiece], kerf: float) -> tuple[Kerf, ...]:
    """The kerfs (mm square to the blade) of a bar with these pieces in order; one where a cut is shared."""
    return tuple(_kerfs(pieces, kerf)) if pieces else ()


def _kerfs(pieces: Sequence[BarPiece], kerf: float) -> Iterator[Kerf]:
    yield _leading(pieces[0], kerf)
    for one, two in pairwise(pieces):
        last = _trailing(one, two, kerf)
        if one.trail.parallel(two.lead) and same_length(last.end, two.at):
            yield last
        else:
            yield from (attrs.evolve(last, behind=None), _leading(two, kerf))
    yield _trailing(pieces[-1], None, kerf)


def _leading(piece: BarPiece, kerf: float) -> Kerf:
    return Kerf(piece.lead, piece.at - piece.lead.kerf_along(kerf), piece.at, None, piece)


def _trailing(piece: BarPiece, behind: BarPiece | None, kerf: float) -> Kerf:
    return Kerf(piece.trail, piece.end, piece.end + piece.trail.kerf_along(kerf), piece, behind)


def middle_as_rolled(section: Section, roll: float) -> Point:
    """Where the middle of the section's box lies, (y, z) mm, with the bar rolled by degrees, top to moving jaw."""
    if not roll:
        return (section.width / 2, section.height / 2)
    turned = section.region.turned(-radians(roll))
    y, z = turn((section.width / 2, section.height / 2), -radians(roll))
    return (y - turned.bounds[0], z - turned.bounds[1])
