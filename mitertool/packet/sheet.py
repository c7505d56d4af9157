"""The cut sheet: first page, pieces, one block a mark, frames and bars; knows packet's rooms and drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

import mitertool
from mitertool.cut import Cut
from mitertool.drawing import A4, FRAME, LETTER, Drawing, Line, Page, text_width, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.nest import Bar, Placed
from mitertool.packet.bar_blocks import bar_blocks
from mitertool.packet.cautions import CAUTIONS, SHORT
from mitertool.packet.frame_block import frame_block
from mitertool.packet.layout import CELL, FOOT, HEAD, MARGIN, Block, Column, Paper, boxed, cell, in_lines, pages, table
from mitertool.packet.mark_block import mark_block
from mitertool.packet.saw_blocks import feed_blocks, settings_block
from mitertool.packet.sketch_title import origin
from mitertool.packet.words import POSES, instead, reading
from mitertool.quantity import Units, show_length, show_mass
from mitertool.saw import Reach, Saw

_WARNING: Final = 3.2
_WARNING_PITCH: Final = 5.2
_MOST_LINES: Final = 20
"""Lines of one row of the list of bars, so that it fits any page; a longer list goes on in a row of its own."""

_PLURAL: Final = {True: "", False: "s"}


def cut_sheet(solution: Solution) -> tuple[Page, ...]:
    """All pages of the cut sheet, A4 for mm and Letter for inches."""
    units = solution.job.head.units
    paper = Paper(*(A4 if units == "mm" else LETTER))
    paper = Paper(paper.width, paper.height, _WARNING_PITCH * len(_warning(solution, paper.inner)))
    blocks = [*_first(solution, paper.inner), *_pieces(solution, paper.inner)]
    blocks += [frame_block(frame, paper.inner, units) for frame in solution.frames]
    blocks += [block for piece in solution.pieces for block in _mark(piece, paper.inner, solution)]
    blocks += [*bar_blocks(solution, paper.inner), *_bars(solution, paper.inner)]
    blocks += feed_blocks(solution, paper.inner)
    return pages(blocks, paper, lambda n, of: _head(solution, paper, n, of))


def _mark(piece: SolvedPiece, width: float, solution: Solution) -> Iterator[Block]:
    """The block of a mark, and below it what must be set where the saw file lets it be known."""
    units = solution.job.head.units
    below = list(settings_block(piece, width, units))
    block = mark_block(piece, width, units, solution.job.saw)
    yield attrs.evolve(block, keep_with_next=bool(below), gap=0.0 if below else block.gap)
    yield from below


def _warning(solution: Solution, width: float) -> list[str]:
    """What every page says of a job that cannot be made as asked."""
    if not solution.problems:
        return []
    marks = ", ".join(solution.problem_marks) or "see page 1"
    return list(wrap(f"CANNOT BE MADE AS ASKED: {marks}", width, _WARNING, bold=True))


def _head(solution: Solution, paper: Paper, number: int, of: int) -> Drawing:
    """What every page bears: job, revision, page, program version, hash of the inputs, saw, caution."""
    head, job = solution.job.head, solution.job
    top, low, inner = paper.height - MARGIN, MARGIN, paper.inner
    about = [head.customer, head.revision and f"revision {head.revision}", head.date]
    texts = [
        cell(head.name, (MARGIN, top - 6), inner - 30, 5.5, bold=True),
        cell(f"page {number} of {of}", (paper.width - MARGIN - 28, top - 6), 28, 3.5, "right"),
        cell(", ".join(word for word in about if word), (MARGIN, top - 12), inner, 3.0),
        cell(SHORT, (MARGIN, low + 4.5), inner, 2.8),
        cell(f"mitertool {mitertool.__version__}, {origin(job)}", (MARGIN, low), inner, 2.5),
        *(
            cell(line, (MARGIN, top - 18 - _WARNING_PITCH * i), inner, _WARNING, bold=True)
            for i, line in enumerate(_warning(solution, inner))
        ),
    ]
    rule = top - HEAD - paper.more_head + 2
    rules = [Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in (rule, low + FOOT - 1)]
    return Drawing([*texts, *rules])


def _first(solution: Solution, width: float) -> Iterator[Block]:
    yield _lines(_facts(solution), width, 3.5)
    if solution.problems:
        yield from boxed("Cannot be made as asked", solution.problems, width)
    if solution.past:
        ways = tuple(instead(past, solution.job.head.units) for past in solution.past)
        yield from boxed("Past the scale, and what to do instead", ways, width)
    yield from boxed("Before you start", CAUTIONS, width)


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
    lead = f"The {saw.leads} end of a piece as drawn leads; one that the list of bars calls end for end lies turned."
    return f"{scale} {lead} {_checked(saw)}"


def _checked(saw: Saw) -> str:
    """What the saw file does not tell of and so nobody checked."""
    missing = {"arm": saw.arm, "guides": saw.guides, "obstacles": saw.obstacles}
    words = ", ".join(word for word, value in missing.items() if not value)
    return f"NOT CHECKED, the saw file does not tell of them: {words}." if words else ""


def _lines(lines: list[str], width: float, height: float) -> Block:
    wrapped = [part for line in lines for part in wrap(line, width, height)]
    pitch = height * 1.7
    texts = [cell(part, (0, -pitch * (i + 1) + 1.5), width, height) for i, part in enumerate(wrapped)]
    return Block(pitch * len(wrapped), Drawing(texts))


def _pieces(solution: Solution, width: float) -> list[Block]:
    units = solution.job.head.units
    columns = [
        Column("Mark", 30, bold=True),
        Column("Pieces", 15, "right", bold=True),
        Column("Section", 31),
        Column("Grade", 20),
        Column("Long point", 26, "right", bold=True, height=3.5),
        Column("Short point", 24, "right"),
        Column("Left end", (width - 146) / 2, "right", bold=True, height=3.5),
        Column("Right end", (width - 146) / 2, "right", bold=True, height=3.5),
    ]
    return table(columns, [_piece_row(piece, units) for piece in solution.pieces])


def _piece_row(solved: SolvedPiece, units: Units) -> list[str]:
    piece = solved.piece
    return [
        in_lines(solved.mark, 25),
        str(solved.quantity),
        in_lines(piece.section.name, 28),
        in_lines(solved.order.grade, 17),
        show_length(piece.long_point, units),
        show_length(piece.short_point, units),
        _end(solved.left, piece.left),
        _end(solved.right, piece.right),
    ]


def _end(reach: Reach | None, cut: Cut) -> str:
    """A reading, and below it in a word what else the cut asks; the block of the mark tells it in full."""
    asked = {"roll": reach and reach.roll, "tilt": reach and reach.tilt, "bevel": reach is None and cut.bevel}
    extra = ", ".join(word for word, value in asked.items() if value)
    return f"{reading(reach, cut)}\n{extra}" if extra else reading(reach, cut)


def _bars(solution: Solution, width: float) -> list[Block]:
    if solution.plan is None or not solution.plan.bars:
        return []
    units = solution.job.head.units
    columns = [
        Column("Bars", 14, "right", bold=True),
        Column("Section", 36),
        Column("Length", 24, "right"),
        Column("Leading cuts on the centerline", width - 98),
        Column("Drop", 24, "right"),
    ]
    rows = [row for bar in solution.plan.bars for row in _bar_rows(bar, width, units)]
    return table(columns, rows)


def _bar_rows(bar: Bar, width: float, units: Units) -> Iterator[list[str]]:
    """The row of a bar, and the rows in which a long list of pieces goes on."""
    lines = _lines_of([_placed(p, units) for p in bar.pieces], width - 103)
    parts = ["\n".join(lines[i : i + _MOST_LINES]) for i in range(0, len(lines), _MOST_LINES)]
    name = "\n".join(word for word in (in_lines(bar.section.name, 33), in_lines(bar.grade, 33)) if word)
    yield [str(bar.count), name, show_length(bar.stock_length, units), parts[0], show_length(bar.drop, units)]
    for part in parts[1:]:
        yield ["", "", "", part, ""]


def _placed(placed: Placed, units: Units) -> str:
    """A piece on its bar: where its leading cut stands, and how it lies where that is not as drawn."""
    lies = POSES[placed.pose]
    return f"{placed.mark} at {show_length(placed.at, units)}{f' {lies}' if lies else ''}"


def _lines_of(items: list[str], width: float) -> list[str]:
    """The items with commas between, in lines no wider than `width`, no item broken."""
    lines = [""]
    for i, item in enumerate(items):
        says = item + ("," if i < len(items) - 1 else "")
        if lines[-1] and text_width(f"{lines[-1]} {says}", CELL) > width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {says}".strip()
    return lines
