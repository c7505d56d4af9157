"""The cut sheet: first page, pieces, one block a mark, frames and bars; knows packet's rooms and drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import mitertool
from mitertool.cut import Cut
from mitertool.drawing import A4, FRAME, LETTER, Drawing, Line, Page, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.job.settings import number_of
from mitertool.job.solved import EndWay
from mitertool.packet.cautions import short
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.sheet.first_page import first_blocks
from mitertool.packet.pages.sheet.further_blocks import further_blocks
from mitertool.packet.pages.sheet.mark_block import mark_block
from mitertool.packet.pages.sheet.rack_block import rack_blocks
from mitertool.packet.pages.sheet.record_block import record_blocks
from mitertool.packet.pages.sheet.rest_block import rest_blocks
from mitertool.packet.pages.sheet.run_blocks import legend, run_blocks
from mitertool.packet.pages.sheet.settings_blocks import one_setting, settings_legend, settings_list, tells_more
from mitertool.packet.paper.layout import FOOT, HEAD, MARGIN, Block, Paper, TableColumn, cell, in_lines, pages, table
from mitertool.packet.words import as_drawn, cannot, long_points, origin, reasons_of, sided_reading
from mitertool.piece import Piece
from mitertool.quantity import Units, show_length

_WARNING: Final = 3.2
_WARNING_PITCH: Final = 5.2


def cut_sheet(solution: Solution) -> tuple[Page, ...]:
    """All pages of the cut sheet, A4 for mm and Letter for inches."""
    paper = Paper(*(A4 if solution.job.head.units == "mm" else LETTER))
    paper = Paper(paper.width, paper.height, _WARNING_PITCH * len(_warning(solution, paper.inner)))
    return pages(list(_blocks(solution, paper.inner)), paper, lambda n, of: _head(solution, paper, n, of))


def _blocks(solution: Solution, width: float) -> Iterator[Block]:
    """Everything on the sheet in its order: what and how many, every mark, then the work as it is done."""
    units = solution.job.head.units
    yield from first_blocks(solution, width)
    yield from rest_blocks(solution, width)
    yield from rack_blocks(solution, width)
    yield from _pieces(solution, width)
    yield from frame_blocks(solution, width)
    for piece in solution.pieces:
        yield mark_block(piece, width, units, solution.job.saw, solution.settings, with_stop=solution.plan is None)
    yield from settings_list(solution, width)
    if tells_more(solution.job.saw):
        yield from settings_legend(width)
    yield from _work(solution, width)
    yield from record_blocks(solution, width)


def _work(solution: Solution, width: float) -> Iterator[Block]:
    """Bars in their order, each setting walked down before the first bar that calls for it."""
    told: set[int] = set()
    if solution.runs:
        yield from legend(solution.job.saw, width)
    for run in solution.runs:
        asked = {number_of(solution.settings, cut.reach, run.bar.grade) for cut in run.cuts}
        yield from _told(solution, told, asked, width)
        yield from run_blocks(run, solution, width)
    yield from _told(solution, told, {setting.number for setting in solution.settings}, width)
    yield from further_blocks(solution, width)


def _told(solution: Solution, told: set[int], asked: set[int], width: float) -> Iterator[Block]:
    """The settings of the numbers `asked` not told before, where the saw file has more to tell than a reading."""
    if not tells_more(solution.job.saw):
        return
    for setting in solution.settings:
        if setting.number in asked - told:
            told.add(setting.number)
            yield from one_setting(setting, width, solution.job.head.units)


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
        cell(short(), (MARGIN, low + 4.5), inner, 2.8),
        cell(f"mitertool {mitertool.__version__}, {origin(job)}", (MARGIN, low), inner, 2.5),
        *(
            cell(line, (MARGIN, top - 18 - _WARNING_PITCH * i), inner, _WARNING, bold=True)
            for i, line in enumerate(_warning(solution, inner))
        ),
    ]
    rule = top - HEAD - paper.more_head + 2
    rules = [Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in (rule, low + FOOT - 1)]
    return Drawing([*texts, *rules])


def _pieces(solution: Solution, width: float) -> list[Block]:
    units = solution.job.head.units
    columns = [
        TableColumn("Mark", 30, bold=True),
        TableColumn("Pieces", 15, "right", bold=True),
        TableColumn("Section", 31),
        TableColumn("Grade", 20),
        TableColumn("Long point", 26, "right", bold=True, height=3.5),
        TableColumn("Short point", 24, "right"),
        TableColumn("Left end", (width - 146) / 2, "right", bold=True, height=3.5),
        TableColumn("Right end", (width - 146) / 2, "right", bold=True, height=3.5),
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
        "\n".join(_end(*cut) for cut in solved.cuts_of("left")),
        "\n".join((*(_end(*cut) for cut in solved.cuts_of("right")), *_apart(piece))),
    ]


def _apart(piece: Piece) -> Iterator[str]:
    """That the long points lie on opposite sides, a word a line: parallel ends have the readings of mirrored ones."""
    if long_points(piece) == "opposite sides":
        yield from ("points", "opposite")


def _end(ways: Sequence[EndWay], cut: Cut) -> str:
    """Every reading of an end; the block of the mark tells them in full."""
    return "\nor ".join(dict.fromkeys(_reading(way, cut) for way in ways))


def _reading(way: EndWay, cut: Cut) -> str:
    """A reading, below it its side where the scale reads up both ways, and in a word what else the cut asks."""
    if reasons_of(way):
        return cannot().replace(" ", "\n", 1)
    reach = as_drawn(way)
    asked = {
        "roll": reach and reach.roll,
        "tilt": reach and reach.tilt,
        "packed": reach and reach.pack,
        "bevel": reach is None and cut.bevel,
    }
    extra = ",\n".join(word for word, value in asked.items() if value)
    number = sided_reading(reach, cut).replace(" ", "\n")
    return f"{number}\n{extra}" if extra else number
