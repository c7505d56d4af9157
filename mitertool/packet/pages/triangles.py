"""Paper triangles at 1:1 for the set-backs of a job: cut out and laid on a face they give the line; knows words.

One right-angle side lies along the bar, the other is the size of the face; the slanting one is the line to mark. A
solid round bar has no face: it has a strip to lay around it. mm of steel and of paper are one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, pi
from typing import Final

import attrs

import mitertool
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut.by_hand import set_backs
from mitertool.drawing import A4, LETTER, OUTLINE, Drawing, Line, Page, Polygon, Text, wrap
from mitertool.job import Solution
from mitertool.packet.cautions import short
from mitertool.packet.paper.control import control_line
from mitertool.packet.paper.layout import MARGIN, cell
from mitertool.packet.words import origin
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LETTERS: Final = 3.0
_APART: Final = 16.0
_HEAD: Final = 16.0
_FOOT: Final = 22.0
_HOLD: Final = 15.0
_STEPS: Final = 48
"""mm of a strip below its lowest place, and lines of its edge."""

_LEAST: Final = 1.0
_FACE: Final = 8.0
"""mm. A set-back of less, or one over so narrow a face, is marked better by its figure than by paper."""


@attrs.frozen
class Triangle:
    """A set-back, mm, and the ends of marks that have it; `around` a solid round bar so thick."""

    back: float
    over: float
    ends: tuple[str, ...]
    around: bool = False


def triangles(solution: Solution) -> tuple[Triangle, ...]:
    """Every set-back of the job once, the largest face first, those around bars last."""
    found: dict[tuple[bool, float, float], dict[str, None]] = {}
    for solved in solution.pieces:
        for end in ("left", "right"):
            named = phrase("triangle.end", mark=solved.mark, end=phrase(f"end.{end}"))
            for cut, around, back, over in _set_backs(solved.piece, end):
                says = _to_the_tip(named, solved.piece, end, cut, solution.job.head.units)
                found.setdefault((around, round(back, 2), round(over, 2)), {})[says] = None
    ranked = sorted(found.items(), key=lambda one: (one[0][0], -one[0][2], -one[0][1]))
    shown = (one for one in ranked if one[0][1] >= _LEAST and one[0][2] >= _FACE)
    return tuple(Triangle(back, over, tuple(ends), around) for (around, back, over), ends in shown)


def _set_backs(piece: Piece, end: str) -> Iterator[tuple[int, bool, float, float]]:
    """Those of an end by its cuts; of a solid round bar where it has one cut, whichever way that leans."""
    shape, cuts = piece.section.shape, piece.cuts(end)
    if shape.round and shape.solid and len(cuts) == 1:
        yield 1, True, hypot(cuts[0].p, cuts[0].q) * piece.section.width, piece.section.width
    for number, cut in enumerate(cuts, 1):
        yield from ((number, False, one.back, one.over) for one in set_backs(piece.section, cut))


def _to_the_tip(named: str, piece: Piece, end: str, cut: int, units: Units) -> str:
    """Which cut of an end with two it is, and where its line stops: at the other one, in the tip."""
    slants = piece.end_roof(end).slants
    if len(piece.cuts(end)) == 1:
        return named
    told = phrase("end.cut", end=named, cut=cut)
    if len(slants) != 2 or any(abs(one.q) > SAME_SLOPE for one in slants):
        return told
    first, second = slants
    tip = (second.o - first.o) / (first.p - second.p)
    return phrase("triangle.tip", cut=told, tip=show_length(tip, units))


def triangle_pages(solution: Solution) -> tuple[Page, ...]:
    """All of them that a sheet holds, on as many sheets as they need; none where no end leans."""
    paper = A4 if solution.job.head.units == "mm" else LETTER
    room = (paper[0] - 2 * MARGIN, paper[1] - 2 * MARGIN - _HEAD - _FOOT)
    drawn = [_drawn(one, solution, room[0]) for one in triangles(solution) if _fits(one, room)]
    sheets: list[list[Drawing]] = []
    left = 0.0
    for drawing in drawn:
        _, low, _, high = drawing.bounds()
        if not sheets or high - low > left:
            sheets, left = [*sheets, []], room[1]
        sheets[-1].append(drawing)
        left -= high - low + _APART
    return tuple(_page(some, solution, paper) for some in sheets)


def _fits(one: Triangle, room: tuple[float, float]) -> bool:
    if one.around:
        return pi * one.over <= room[0] and one.back + _HOLD <= room[1] - 30
    return min(one.back, one.over) <= room[1] - 30 and max(one.back, one.over) <= room[0]


def _drawn(one: Triangle, solution: Solution, width: float) -> Drawing:
    """A triangle, its longer short side level, with what it is and whose below it, hanging from (0, 0)."""
    units = solution.job.head.units
    says = phrase("triangle.says", back=show_length(one.back, units), over=show_length(one.over, units))
    shape, along = _strip(one) if one.around else _triangle(one)
    low = min(y for _, y in shape.points)
    lines = wrap(phrase("triangle.of", says=says, along=along, ends=", ".join(one.ends)), width, _LETTERS)
    return Drawing([shape, *(Text((0, low - 5.0 * (i + 1)), line, _LETTERS) for i, line in enumerate(lines))])


def _triangle(one: Triangle) -> tuple[Polygon, str]:
    wide, high = max(one.back, one.over), min(one.back, one.over)
    along = phrase("triangle.along/level" if wide == one.back else "triangle.along/upright")
    return Polygon([(0, -high), (wide, -high), (0, 0)], OUTLINE), along


def _strip(one: Triangle) -> tuple[Polygon, str]:
    """Once around the bar, its upper edge the line to mark: the longest line of the piece at both ends."""
    turns = [2 * pi * i / _STEPS for i in range(_STEPS + 1)]
    edge = [(turn * one.over / 2, one.back * (cos(turn) - 1) / 2) for turn in turns]
    low = -one.back - _HOLD
    return Polygon([(0, low), (pi * one.over, low), *reversed(edge)], OUTLINE), phrase("triangle.around")


def _page(some: Sequence[Drawing], solution: Solution, paper: tuple[float, float]) -> Page:
    whole, y = Drawing([*_around(solution, paper)]), paper[1] - MARGIN - _HEAD
    for drawing in some:
        _, low, _, high = drawing.bounds()
        whole += drawing.moved(MARGIN, y - high)
        y -= high - low + _APART
    return Page(*paper, whole)


def _around(solution: Solution, paper: tuple[float, float]) -> Iterator[Line | Text]:
    """What every sheet bears: what it is for, a line to measure, what can hurt, what it was made from."""
    top, inner, low = paper[1] - MARGIN, paper[0] - 2 * MARGIN, MARGIN + 13.0
    yield Text((MARGIN, top - 5), phrase("triangle.title", job=solution.job.head.name), 4.0, bold=True)
    yield cell(phrase("triangle.how"), (MARGIN, top - 10.5), inner, _LETTERS)
    yield from control_line((MARGIN, low), inner, solution.job.head.units)
    yield cell(short(), (MARGIN, MARGIN + 4.0), inner, 2.5)
    made_from = f"{solution.job.head.name}, mitertool {mitertool.__version__}, {origin(solution.job)}"
    yield cell(made_from, (MARGIN, MARGIN), inner, 2.5)
