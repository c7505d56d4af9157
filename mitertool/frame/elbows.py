"""A bend made of straight segments: its miter and lengths, and the segments as an open frame; knows planar."""

from __future__ import annotations

import itertools
from cmath import exp
from collections.abc import Iterator, Sequence
from math import cos, isfinite, radians, sin, tan
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CROSSING, LEAST_CORNER
from mitertool.base.totals import summed
from mitertool.frame.assembly import Assembly
from mitertool.frame.corners import SHARPEST
from mitertool.frame.facts import fact
from mitertool.frame.in_plane import planar
from mitertool.frame.in_space import Named
from mitertool.frame.joints import Joint
from mitertool.frame.sizes import refuse_no_size
from mitertool.quantity.problem import Remark, counts, lengths, names
from mitertool.sections import Section
from mitertool.words import phrase

MOST_CUTS: Final = 180

BEND: Final = Named("BEND")


@attrs.frozen
class Bend:
    """The figures of a bend; lengths are mm, of a full segment where nothing else is said.

    `miter` is the angle of every cut from square, degrees. `heel`, `throat` and `centerline` are the outside, the
    inside and the middle of a full segment, `end_centerline` the middle of an end, which is half of one. `cut_back`
    is how far a cut leans over half of the diameter. Source: the geometry of closely spaced mitered bends, as in
    ASME B31.3 304.2.3 and the pipe-stress handbooks.
    """

    miter: float
    centerline: float
    end_centerline: float
    heel: float
    throat: float
    cut_back: float


def bend(diameter: float, radius: float, angle: float, cuts: int) -> Bend:
    """A bend of `angle` degrees and centerline `radius` in tube of this outside diameter (mm), by so many cuts.

    Each cut turns the bend by an equal share. Raises `BadInput` for no sizes, no cuts, a cut that turns it by more than
    170 degrees, and a radius inside the tube.

    >>> round(mt.bend(273, 381, 90, 4).centerline, 1)
    151.6
    """
    refuse_no_size(diameter=diameter, radius=radius)
    if not (isinstance(cuts, int) and 1 <= cuts <= MOST_CUTS):
        raise BadInput("cuts", cuts, phrase("refuse.from-to", least=1, most=MOST_CUTS))
    miter = angle / 2 / cuts
    if not (isfinite(angle) and LEAST_CORNER <= 2 * miter <= SHARPEST):
        raise BadInput("angle", angle, phrase("refuse.bend-angle", least=LEAST_CORNER, most=SHARPEST))
    if radius <= diameter / 2:
        outside = Remark("refuse.bend-radius", lengths(half=diameter / 2))
        raise BadInput("radius", Remark("found.length", lengths(length=radius)), outside)
    slope = tan(radians(miter))
    full = 2 * radius * slope
    heel, throat = (2 * radius + diameter) * slope, (2 * radius - diameter) * slope
    return Bend(miter, full, full / 2, heel, throat, diameter / 2 * slope)


@attrs.frozen
class Straights:
    """What stands beside a bend: its straight `tangents` at both ends, mm, and by how much an S is set over.

    Or `ends` says how long its end pieces are along their middles, mm, which are half a segment and the tangent else.
    With an `offset` (mm between the middles of its ends) the bend is followed by one that goes as far back.
    """

    tangents: tuple[float, float] = (0.0, 0.0)
    offset: float | None = None
    ends: tuple[float, float] | None = None

    def __attrs_post_init__(self) -> None:
        for tangent in self.tangents:
            if not (isfinite(tangent) and tangent >= 0):
                raise BadInput("tangents", Remark("found.length", lengths(length=tangent)), phrase("refuse.0-or-more"))

    def refuse_short_ends(self, least: float) -> None:
        """Raise `BadInput` for an end piece whose throat would be less than nothing."""
        for end in self.ends or ():
            if not (isfinite(end) and end >= least):
                raise BadInput(
                    "ends", Remark("found.length", lengths(length=end)), Remark("refuse.bend-end", lengths(least=least))
                )


PLAIN: Final = Straights()


def elbow(
    section: Section, radius: float, angle: float, cuts: int, run: Straights = PLAIN, named: Named = BEND
) -> Assembly:
    """The segments of a bend in order, halves at its ends, or of an S of two such bends.

    The outside of the first bend is the moving side. Raises `BadInput` as `bend`, and for an S whose bends alone are
    set over by more than its offset.
    """
    figures = bend(section.width, radius, angle, cuts)
    run.refuse_short_ends(figures.cut_back)
    half, full = figures.end_centerline, [figures.centerline] * (cuts - 1)
    first, last = run.ends or (half + run.tangents[0], half + run.tangents[1])
    runs, turns = [first, *full, last], [-1.0] * cuts
    if run.offset is not None:
        between = _between(radius, angle, run.offset)
        runs = [first, *full, 2 * half + between, *full, last]
        turns += [1.0] * cuts
    corners = list(itertools.accumulate(_steps(runs, turns, radians(2 * figures.miter)), initial=0j))
    given = (corners, [section] * len(runs), "centerline", [Joint()] * len(turns), False)
    made = planar("bend", *given, named.mark, named.resolution)
    facts = fact("bend-miter", D=angle, N=cuts), fact("segment", R=radius, m=figures.miter)
    return attrs.evolve(made, facts=(*facts, *made.facts), notes=(*made.notes, *_notes(figures, made)))


def _steps(runs: Sequence[float], turns: Sequence[float], turn: float) -> Iterator[complex]:
    """Each run with its direction, turned by so much (radians) before each but the first."""
    heading = 0.0
    for run, way in zip(runs, (0.0, *turns), strict=True):
        heading += way * turn
        yield run * exp(1j * heading)


def _between(radius: float, angle: float, offset: float) -> float:
    """How much is straight between the two bends of an S, mm."""
    bends = 2 * radius * (1 - cos(radians(angle)))
    between = (offset - bends) / sin(radians(angle)) if 0 < angle < 180 else -1.0
    if not between >= -CROSSING:
        raise BadInput(
            "offset", Remark("found.length", lengths(length=offset)), Remark("refuse.offset", lengths(bends=bends))
        )
    return max(between, 0.0)


def _notes(figures: Bend, made: Assembly) -> tuple[Remark, ...]:
    """A full segment, and how the pieces follow on one bar where its section looks alike when it is turned over."""
    segment = Remark("note.segment", lengths(heel=figures.heel, throat=figures.throat, centerline=figures.centerline))
    if "half-turn" not in made.pieces[0].piece.section.symmetry:
        return (segment,)
    turned = [f"{mark}*" if over else mark for mark, over in zip(made.order, _turned_over(made), strict=True)]
    piece = {member.mark: member.piece for member in made.pieces}
    used = summed(piece[mark].centerline for mark in made.order)
    told = (*names(order=turned), *lengths(used=used), *counts(pieces=len(made.order), cuts=len(made.order) - 1))
    return segment, Remark("note.segments", told)


def _turned_over(made: Assembly) -> Iterator[bool]:
    """Of each piece whether it is turned half round on the bar, so that it shares its cut with the one before."""
    piece = {member.mark: member.piece for member in made.pieces}
    over, before = False, None
    for mark in made.order:
        if before is not None:
            over ^= (piece[before].right.p > 0) == (piece[mark].left.p > 0)
        yield over
        before = mark
