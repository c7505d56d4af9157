"""The title block of a sketch: what the mark is, what is set at its ends, whose job it is; knows words. Paper mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import mitertool
from mitertool.drawing import FRAME, THIN, Drawing, Line, Polygon, Text, wrap
from mitertool.job import SolvedPiece
from mitertool.job.model import Head
from mitertool.packet.cautions import SHORT, for_cuts
from mitertool.packet.words import end_words, lies
from mitertool.quantity.problem_words import problem_says
from mitertool.quantity.units import said

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
    hand = "OPPOSITE HAND" if solved.hand == "opposite" else "as drawn"
    count = f"{solved.quantity} piece{'s' if solved.quantity != 1 else ''}"
    way = order.lies or lies(piece.section)
    ways = [way, order.face_out and f"face out: {order.face_out}", order.frame and f"frame {order.frame}"]
    about = [head.name, head.revision and f"revision {head.revision}", head.date]
    drawn = f"lengths in {said(head.units)}, drawn 1:1 in mm"
    return [
        [
            (solved.mark, 0.5, _MARK, True),
            (count, 0.22, _COUNT, True),
            (hand, 0.28, _LETTERS, solved.hand == "opposite"),
        ],
        *(
            [(f"CANNOT BE MADE AS ASKED: {problem_says(problem, head.units)}", 1.0, _LETTERS, True)]
            for problem in solved.problems
        ),
        [_plain(f"section {piece.section.name}", 0.5), _plain(f"grade {order.grade or 'not given'}", 0.5)],
        *([_plain(says)] for says in ["; ".join(filter(None, ways))] if says),
        *([_plain(f"left end: {end_words(way, piece.left)}")] for way in solved.ways_of("left")),
        *([_plain(f"right end: {end_words(way, piece.right)}")] for way in solved.ways_of("right")),
        *([_plain(f"{one.end} end, cut {one.number}: {end_words(one.way, one.cut)}")] for one in solved.further),
        [_plain(", ".join(filter(None, about)))],
        [_plain(drawn, 0.66), _plain(f"mitertool {mitertool.__version__}", 0.34)],
        *([_plain(says)] for says in [made_from, for_cuts(solved.reaches) or SHORT] if says),
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
