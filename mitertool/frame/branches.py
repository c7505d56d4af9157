"""A round branch on a round run: two straight cuts that come close, or a blank and the true edge; knows saddles."""

from __future__ import annotations

from math import cos, isfinite, radians, sin
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SETTING
from mitertool.cut import Cut
from mitertool.frame.assembly import Closure, Member, rounded
from mitertool.frame.in_space import Named, SpaceAssembly, Stand
from mitertool.frame.seats import Seat
from mitertool.frame.sizes import refuse_no_size
from mitertool.geometry.saddle import Saddle
from mitertool.geometry.vectors import plus
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, angles, lengths, names
from mitertool.sections import Section
from mitertool.words import phrase

BRANCH: Final = Named("BRANCH")

SLIMMEST: Final = 15.0
"""degrees. A branch that leans more lies along its run: its mark would be some four diameters long."""


@attrs.frozen
class OnRun:
    """How a branch stands on its run: `angle` between both, how far their middles pass, and how far it reaches, mm.

    `length` is from the run's middle along the branch's to its square end.
    """

    length: float
    angle: float = 90.0
    offset: float = 0.0


def branch(section: Section, run: Section, on: OnRun, named: Named = BRANCH) -> SpaceAssembly:
    """The branch alone, as it is cut; the run lies along X.

    Where the middles meet, its left end is cut twice, as near the true edge as straight cuts come; the gap that they
    leave is that of the closure. Where they pass each other it is a blank that is as long as its longest line. Its true
    edge stands in `saddles` for a template. Raises `BadInput` for sections that are not round, sizes that are none, a
    branch that does not stand on its run all around or that ends before it.
    """
    _refuse(section, run, on)
    saddle = Saddle(section.width / 2, run.width / 2, on.angle, on.offset)
    piece = _blank(section, on, saddle) if on.offset else _cut_twice(section, on, saddle)
    mark = f"{named.mark}-1"
    gap = 0.0 if on.offset else saddle.gap
    opened = gap + abs(rounded(piece, named.resolution).long_point - piece.long_point)
    member, closure = Member(mark, 1, piece), Closure(gap, 0.0, opened)
    stands = (_stand(piece, on),)
    seat = Seat(section, run, saddle, on.length)
    notes = (*_run_notes(seat), *_notes(on, saddle))
    made = SpaceAssembly(named.mark, "branch", (member,), (mark,), closure, notes=notes, stands=stands)
    return attrs.evolve(made, saddles=((mark, saddle),), seat=seat)


def _refuse(section: Section, run: Section, on: OnRun) -> None:
    refuse_no_size(length=on.length)
    for what, one in (("section", section), ("on", run)):
        if not one.shape.round or one.shape.solid:
            raise BadInput(what, one.name, phrase("refuse.not-round"))
    if not (isfinite(on.angle) and SLIMMEST <= on.angle <= 180 - SLIMMEST):
        allowed = phrase("refuse.branch-angle", least=f"{SLIMMEST:g}", most=f"{180 - SLIMMEST:g}")
        raise BadInput("between", on.angle, allowed)
    room = (run.width - section.width) / 2
    if room < 0:
        raise BadInput("section", section.name, Remark("refuse.wide-branch", lengths(most=run.width)))
    if not abs(on.offset) <= room:
        passes = Remark("found.length", lengths(length=on.offset))
        raise BadInput("passes", passes, Remark("refuse.off-the-run", lengths(most=room)))


def _from_run(on: OnRun, reached: float) -> float:
    """How long a branch is from where it reaches the run. Raises `BadInput` for one that ends before."""
    if on.length <= reached:
        found = Remark("found.length", lengths(length=on.length))
        raise BadInput("length", found, Remark("refuse.short-branch", lengths(least=reached)))
    return on.length - reached


def _cut_twice(section: Section, on: OnRun, saddle: Saddle) -> Piece:
    left = tuple(Cut.from_slopes(slope, 0.0) for slope in saddle.slopes)
    return Piece(section, _from_run(on, saddle.seat), left, at="centerline")


def _blank(section: Section, on: OnRun, saddle: Saddle) -> Piece:
    lowest = min(saddle.down(saddle.small * cos(radians(at)), saddle.small * sin(radians(at))) for at in range(360))
    return Piece(section, _from_run(on, lowest))


def _stand(piece: Piece, on: OnRun) -> Stand:
    lean = radians(on.angle)
    along, across = (cos(lean), 0.0, sin(lean)), (-sin(lean), 0.0, cos(lean))
    start = on.length - piece.centerline
    return Stand(plus((0.0, -on.offset, 0.0), along, start), along, across, (0.0, -1.0, 0.0))


def _run_notes(seat: Seat) -> tuple[Remark, ...]:
    """What the run is and how the branch sits on it, and where its outline is marked on the run."""
    run, saddle = seat.run, seat.saddle
    wall, offset = dict(run.dimensions)["wall"], abs(saddle.offset)
    sizes = lengths(diameter=run.width, wall=wall, length=seat.length, offset=offset)
    to_x, other = seat.along
    acute, obtuse = (to_x, other) if saddle.angle < 90 else (other, to_x)
    top, bottom = seat.around
    case = "top" if saddle.offset > 0 else "bottom" if saddle.offset < 0 else "meet"
    marks = lengths(acute=acute, obtuse=obtuse, top=top, bottom=bottom)
    square = abs(saddle.angle - 90) < SAME_SETTING
    return (
        Remark("note.run", names(run=run.name) + sizes + angles(angle=saddle.angle), case),
        Remark("note.run-marks", marks, "square" if square else ""),
    )


def _notes(on: OnRun, saddle: Saddle) -> tuple[Remark, ...]:
    if on.offset:
        return (Remark("note.branch-blank"),)
    return (Remark("note.branch", angles(angle=on.angle) + lengths(gap=saddle.gap)),)
