"""The cut sheet: first page, pieces, one block a mark, frames and bars; knows packet's rooms and drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import mitertool
from mitertool.drawing import A4, FRAME, LETTER, Drawing, Line, Page, text_width, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.packet.cautions import CAUTIONS, SHORT
from mitertool.packet.frame_block import frame_block
from mitertool.packet.layout import CELL, FOOT, HEAD, MARGIN, Block, Column, Paper, box, cell, in_lines, pages, table
from mitertool.packet.mark_block import mark_block
from mitertool.packet.words import instead, reading
from mitertool.quantity import Units, show_length, show_mass

_LINE: Final = 5.0
_PLURAL: Final = {True: "", False: "s"}


def cut_sheet(solution: Solution) -> tuple[Page, ...]:
    """All pages of the cut sheet, A4 for mm and Letter for inches."""
    units = solution.job.head.units
    paper = Paper(*(A4 if units == "mm" else LETTER))
    blocks = [*_first(solution, paper.inner), *_pieces(solution, paper.inner)]
    blocks += [frame_block(frame, paper.inner, units) for frame in solution.frames]
    blocks += [mark_block(piece, paper.inner, units, solution.job.saw) for piece in solution.pieces]
    blocks += _bars(solution, paper.inner)
    return pages(blocks, paper, lambda n, of: _head(solution, paper, n, of))


def _head(solution: Solution, paper: Paper, number: int, of: int) -> Drawing:
    """What every page bears: job, revision, page, program version, hash of the inputs, saw, caution."""
    head, job = solution.job.head, solution.job
    top, low = paper.height - MARGIN, MARGIN
    about = [head.customer, head.revision and f"revision {head.revision}", head.date]
    saw = f"saw file {job.saw_path}" if job.saw else "no saw file"
    if job.saw and job.saw.scale.offset_date:
        saw += f", corrected {job.saw.scale.offset_date}"
    texts = [
        cell(head.name, (MARGIN, top - 6), paper.inner - 30, 5.5, bold=True),
        cell(f"page {number} of {of}", (paper.width - MARGIN - 28, top - 6), 28, 3.5, "right"),
        cell(", ".join(word for word in about if word), (MARGIN, top - 12), paper.inner, 3.0),
        cell(SHORT, (MARGIN, low + 4.5), paper.inner, 2.8),
        cell(
            f"mitertool {mitertool.__version__}, inputs {job.digest}, {saw}",
            *((MARGIN, low), paper.inner, 2.5),
        ),
    ]
    if solution.problems:
        marks = ", ".join(sorted({problem.split(",")[0].split(":")[0] for problem in solution.problems}))
        warning = f"CANNOT BE MADE AS ASKED: {marks}"
        texts[2] = cell(warning, (MARGIN, top - 12), paper.inner, 3.5, bold=True)
    rules = [Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in (top - HEAD + 2, low + FOOT - 1)]
    return Drawing([*texts, *rules])


def _first(solution: Solution, width: float) -> Iterator[Block]:
    yield _lines(_facts(solution), width, 3.5)
    if solution.problems:
        yield _boxed("Cannot be made as asked", solution.problems, width)
    if solution.past:
        ways = tuple(instead(past, solution.job.head.units) for past in solution.past)
        yield _boxed("Past the scale, and what to do instead", ways, width)
    yield _boxed("Before you start", CAUTIONS, width)


def _facts(solution: Solution) -> list[str]:
    job, units = solution.job, solution.job.head.units
    count = sum(piece.quantity for piece in solution.pieces)
    mass = sum(piece.piece.mass * piece.quantity for piece in solution.pieces)
    facts = [f"{count} pieces of {len(solution.pieces)} marks, {show_mass(mass, units)} in pieces"]
    if solution.plan:
        bars = sum(bar.count for bar in solution.plan.bars)
        bought = sum(bar.count * bar.stock_length for bar in solution.plan.bars)
        facts.append(f"{bars} bar{_PLURAL[bars == 1]}, {show_length(bought, units)} of stock")
    else:
        facts.append("No stock lengths in the job: no list of bars")
    words = {"mm": "mm", "in": "inches", "ft-in": "feet and inches to 1/16"}[units]
    facts.append(f"Lengths in {words}. Long point and short point are on the steel, not on a corner beyond it.")
    facts.append(_scale_fact(solution))
    if job.head.tolerance:
        facts.append(f"Tolerance {job.head.tolerance}")
    return facts


def _scale_fact(solution: Solution) -> str:
    saw = solution.job.saw
    if saw is None:
        return "No saw file: every angle is degrees from a square cut, not what a scale reads."
    made_up = " (an invented saw)" if saw.invented else ""
    scale = f"Angles as the scale of {saw.name}{made_up} reads them; square reads {saw.scale.square:g}."
    return f"{scale} The {saw.leads} end of a piece leads."


def _lines(lines: list[str], width: float, height: float) -> Block:
    wrapped = [part for line in lines for part in wrap(line, width, height)]
    pitch = height * 1.7
    texts = [cell(part, (0, -pitch * (i + 1) + 1.5), width, height) for i, part in enumerate(wrapped)]
    return Block(pitch * len(wrapped), Drawing(texts))


def _boxed(title: str, lines: tuple[str, ...], width: float) -> Block:
    wrapped = [(i == 0, part) for line in lines for i, part in enumerate(wrap(line, width - 12, 3.0))]
    height = 9 + _LINE * len(wrapped) + 1
    texts = [cell(title, (3, -6), width - 6, 3.8, bold=True)]
    for n, (first, part) in enumerate(wrapped):
        y = -6 - _LINE * (n + 1)
        texts += [cell("-", (4, y), 3, 3.0)] if first else []
        texts.append(cell(part, (8, y), width - 10, 3.0))
    return Block(height, box(width, height) + Drawing(texts))


def _pieces(solution: Solution, width: float) -> list[Block]:
    units = solution.job.head.units
    columns = [
        Column("Mark", 30, bold=True),
        Column("Pieces", 15, "right", bold=True),
        Column("Section", 33),
        Column("Grade", 21),
        Column("Long point", 26, "right", bold=True),
        Column("Short point", 24, "right"),
        Column("Left end", (width - 149) / 2, "right", bold=True),
        Column("Right end", (width - 149) / 2, "right", bold=True),
    ]
    return table(columns, [_piece_row(piece, units) for piece in solution.pieces])


def _piece_row(solved: SolvedPiece, units: Units) -> list[str]:
    piece = solved.piece
    return [
        solved.mark,
        str(solved.quantity),
        in_lines(piece.section.name, 30),
        in_lines(solved.order.grade, 18),
        show_length(piece.long_point, units),
        show_length(piece.short_point, units),
        reading(solved.left, piece.left),
        reading(solved.right, piece.right),
    ]


def _bars(solution: Solution, width: float) -> list[Block]:
    if solution.plan is None or not solution.plan.bars:
        return []
    units = solution.job.head.units
    columns = [
        Column("Bars", 14, "right", bold=True),
        Column("Section", 36),
        Column("Length", 24, "right"),
        Column("Leading cuts, from the bar's end", width - 98),
        Column("Drop", 24, "right"),
    ]
    rows = [
        [
            str(bar.count),
            "\n".join(word for word in (bar.section.name, bar.grade) if word),
            show_length(bar.stock_length, units),
            "\n".join(_lines_of([f"{p.mark} at {show_length(p.at, units)}" for p in bar.pieces], width - 103)),
            show_length(bar.drop, units),
        ]
        for bar in solution.plan.bars
    ]
    return table(columns, rows)


def _lines_of(items: list[str], width: float) -> list[str]:
    """The items with commas between, in lines no wider than `width`, no item broken."""
    lines = [""]
    for i, item in enumerate(items):
        says = item + ("," if i < len(items) - 1 else "")
        if lines[-1] and text_width(f"{lines[-1]} {says}", CELL) > width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {says}".strip()
    return lines
