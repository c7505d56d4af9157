"""The title block of a sketch: what the mark is, what is set at its ends, whose job it is; knows words. Paper mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import mitertool
from mitertool.drawing import FRAME, THIN, Drawing, Line, Polygon, Text, wrap
from mitertool.job import SolvedPiece
from mitertool.job.orders import Head
from mitertool.packet.cautions import for_cuts, short
from mitertool.packet.words import end_lines, hand_lines, lies, place_lines, worked_lines
from mitertool.quantity.problem_words import problem_says
from mitertool.quantity.units import said
from mitertool.words import counted, phrase

WIDTH: Final = 180.0
_LETTERS: Final = 3.5
_MARK: Final = 6.0
_COUNT: Final = 5.0
_INSET: Final = 2.0

Cell = tuple[str, float, float, bool]
"""What a cell says, its share of the width, its lettering and whether it is bold."""


def title(solved: SolvedPiece, head: Head, made_from: str) -> Drawing:
    """The block, hanging from (0, 0)."""
    drawing, y = Drawing(), 0.0
    for cells in _rows(solved, head, made_from):
        row, deep = _row(cells)
        drawing += row.moved(0, y)
        y -= deep
        drawing += Drawing([Line((0, y), (WIDTH, y), THIN)])
    return drawing + Drawing([Polygon([(0, 0), (WIDTH, 0), (WIDTH, y), (0, y)], FRAME)])


def _rows(solved: SolvedPiece, head: Head, made_from: str) -> list[list[Cell]]:
    order, piece = solved.order, solved.piece
    hand = phrase("sketch.opposite" if solved.hand == "opposite" else "sketch.as-drawn")
    count = counted("sketch.pieces", solved.quantity)
    way = order.lies or lies(piece.section)
    out = order.face_out and phrase("sketch.out", face=order.face_out)
    ways = [way, out, order.frame and phrase("sketch.frame", frame=order.frame)]
    about = [head.name, head.revision and phrase("sketch.revision", revision=head.revision), head.date]
    drawn = phrase("sketch.lengths", units=said(head.units))
    grade = phrase("sketch.grade", grade=order.grade) if order.grade else phrase("sketch.no-grade")
    return [
        [
            (solved.mark, 0.5, _MARK, True),
            (count, 0.22, _COUNT, True),
            (hand, 0.28, _LETTERS, solved.hand == "opposite"),
        ],
        *(
            [(phrase("sketch.cannot", why=problem_says(problem, head.units)), 1.0, _LETTERS, True)]
            for problem in solved.problems
        ),
        [_plain(phrase("sketch.section", section=piece.section.name), 0.5), _plain(grade, 0.5)],
        *([_plain(says)] for says in ["; ".join(filter(None, ways))] if says),
        *([_plain(line)] for line in end_lines(solved)),
        *([_plain(line)] for line in hand_lines(solved, head.units)),
        *([_plain(line)] for line in worked_lines(solved.worked, head.units)),
        *([_plain(line)] for line in place_lines(solved.places, head.units)),
        [_plain(", ".join(filter(None, about)))],
        [_plain(drawn, 0.66), _plain(f"mitertool {mitertool.__version__}", 0.34)],
        *([_plain(says)] for says in [made_from, for_cuts(solved.reaches) or short()] if says),
    ]


def _plain(says: str, share: float = 1.0) -> Cell:
    return says, share, _LETTERS, False


def _row(cells: Sequence[Cell]) -> tuple[Drawing, float]:
    """A row with its cells' text wrapped, first lines on one height, and a rule between cells; and how deep it is."""
    wrapped = [wrap(says, share * WIDTH - 2 * _INSET, size, bold) for says, share, size, bold in cells]
    first = _pitch(max(size for _, _, size, _ in cells))
    deep = max(first + _pitch(cell[2]) * (len(lines) - 1) for lines, cell in zip(wrapped, cells, strict=True)) + 1.5
    parts: list[Text | Line] = []
    x = 0.0
    for lines, (_, share, size, bold) in zip(wrapped, cells, strict=True):
        for i, line in enumerate(lines):
            parts.append(Text((x + _INSET, 0.4 - first - _pitch(size) * i), line, size, bold=bold))
        parts += [Line((x, 0), (x, -deep), THIN)] if x else []
        x += share * WIDTH
    return Drawing(parts), deep


def _pitch(size: float) -> float:
    return size * 1.6
