"""The cut sheet: the job, bars in the order of work, further cuts, frames, last page; knows packet's rooms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import mitertool
from mitertool.drawing import A4, FRAME, LETTER, Drawing, Line, Page, Text, text_width, wrap
from mitertool.drawing.lettering import fit
from mitertool.job import FrameOrder, Solution
from mitertool.packet.cautions import short
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.values import BarWork, FloorSheet
from mitertool.packet.pages.fitter.frame_blocks import frames_in_blocks
from mitertool.packet.pages.fitter.loose import loose_blocks
from mitertool.packet.pages.sheet.bar_block import bar_blocks
from mitertool.packet.pages.sheet.bar_rows import OnPage
from mitertool.packet.pages.sheet.detail_blocks import detail_blocks
from mitertool.packet.pages.sheet.first_page import OnPages, first_blocks
from mitertool.packet.pages.sheet.further_blocks import further_blocks
from mitertool.packet.pages.sheet.last_page import last_blocks
from mitertool.packet.pages.sheet.rack_block import rack_blocks
from mitertool.packet.pages.sheet.rest_block import rest_blocks
from mitertool.packet.pages.sheet.second_ends import recut_blocks, second_end_blocks
from mitertool.packet.paper.layout import FOOT, HEAD, MARGIN, Block, Paper, cell, each_page, page_numbers
from mitertool.packet.words import are_many, origin
from mitertool.words import phrase

_WARNING: Final = 3.2
_WARNING_PITCH: Final = 5.2
_NAME: Final = 4.2
_SMALLER, _LEAST = 3.5, 3.0
_SOME_PAGE: Final = 10
"""Where the page of a frame is not known yet, of as many figures as it may have."""

_PAGE: Final = 32.0
"""mm: what the number of the page and the space before it take of a head at least."""


def cut_sheet(solution: Solution, detail: bool = False, floor: FloorSheet | None = None) -> tuple[Page, ...]:
    """All pages of the cut sheet, A4 for mm and Letter for inches; with `detail` what each setting comes to behind it.

    `floor` is what stands on it where it is made already.
    """
    return tuple(sheet_pages(solution, detail, floor))


def sheet_pages(solution: Solution, detail: bool = False, floor: FloorSheet | None = None) -> Iterator[Page]:
    """The same one by one. The first page tells on which page each bar stands, so it is laid out twice."""
    floor = floor or floor_of(solution)
    paper = Paper(*(A4 if floor.head.units == "mm" else LETTER))
    paper = Paper(paper.width, paper.height, _WARNING_PITCH * len(_warning(solution, paper.inner)))
    told = list(frames_in_blocks(solution, paper.inner))
    before = _before(floor, solution, paper, OnPages())
    work = _all_work(floor, paper, dict.fromkeys(_marks(told), _SOME_PAGE))
    if _points_behind(floor):
        work = _all_work(floor, paper, _marked(before, work, told, floor, paper))
    after = [*_after(told, floor, solution, paper.inner), *(detail_blocks(solution, paper.inner) if detail else ())]
    on = _on_pages(before, work, paper)
    bars = (block for blocks in work.values() for block in blocks)
    blocks = [*(block for part in _before(floor, solution, paper, on) for block in part), *bars, *after]
    yield from each_page(blocks, paper, lambda n, of: _head(solution, paper, n, of))


Told = Sequence[tuple[FrameOrder, list[Block]]]
"""The frames, each with its blocks."""


def _all_work(floor: FloorSheet, paper: Paper, marked: OnPage) -> dict[int, list[Block]]:
    return {bar.number: _bar(bar, floor, paper.inner, marked) for bar in floor.bars}


def _bar(bar: BarWork, floor: FloorSheet, width: float, marked: OnPage) -> list[Block]:
    """A bar, and the second ends of blanks that are cut when it is done."""
    after = [one for one in floor.second_ends if one.after == bar.number]
    return [*bar_blocks(bar, floor, width, marked), *second_end_blocks(after, floor, width, marked)]


def _points_behind(floor: FloorSheet) -> bool:
    """Whether a row names the page of a frame, which is known when all before it is laid out."""
    rows = [*(row for bar in floor.bars for row in bar.rows), *(one.row for one in floor.second_ends)]
    return any(are_many(row.places) for row in rows)


def _marks(told: Told) -> Iterator[str]:
    return (mark for order, _ in told for mark in order.assembly.every)


def _marked(
    before: Before, work: Mapping[int, list[Block]], told: Told, floor: FloorSheet, paper: Paper
) -> dict[str, int]:
    """The page on which the frame of each mark begins, the first that has it."""
    ahead = [block for part in (*before, *work.values(), further_blocks(floor, paper.inner)) for block in part]
    numbers = page_numbers([*ahead, *(block for _, blocks in told for block in blocks)], paper)
    found, at = dict[str, int](), len(ahead)
    for order, blocks in told:
        found = dict.fromkeys(order.assembly.every, numbers[at]) | found
        at += len(blocks)
    return found


Before = tuple[list[Block], list[Block], list[Block], list[Block]]
"""What comes before the bars: the job, what changed since before, what is recut, and what is taken off the rack."""


def _before(floor: FloorSheet, solution: Solution, paper: Paper, on: OnPages) -> Before:
    """What comes before the bars; the first page tells where the rest stands."""
    width = paper.inner
    rest = list(rest_blocks(solution, width))
    top = first_blocks(floor, width, on, _rest_told(solution, on.rest) if rest else "")
    return list(top), rest, list(recut_blocks(floor, width)), rack_blocks(solution, width)


def _rest_told(solution: Solution, page: int) -> str:
    """On which page stands what changed, and what becomes of pieces that are cut."""
    rest = solution.job.rest
    if rest is None or not rest.changes:
        return phrase("rest.on-page/cut", page=page)
    code = "rest.on-page/both" if rest.offers else "rest.on-page/changed"
    return phrase(code, before=rest.revision or phrase("rest.revision-none"), page=page)


def _on_pages(before: Before, work: Mapping[int, list[Block]], paper: Paper) -> OnPages:
    """The page on which each part begins."""
    first, rest, recut, rack = before
    blocks = [*first, *rest, *recut, *rack]
    numbers = page_numbers([*blocks, *(block for blocks in work.values() for block in blocks)], paper)
    found, at = {}, len(blocks)
    for number, of_bar in work.items():
        found[number] = numbers[at]
        at += len(of_bar)
    return OnPages(
        found,
        rest=numbers[len(first)] if rest else 1,
        recut=numbers[len(first) + len(rest)] if recut else 1,
    )


def _after(told: Told, floor: FloorSheet, solution: Solution, width: float) -> Iterator[Block]:
    """What follows the bars: cuts on parted pieces, the fitter's pages, what is left over and who cut it."""
    yield from further_blocks(floor, width)
    yield from (block for _, blocks in told for block in blocks)
    yield from loose_blocks(solution, width)
    yield from last_blocks(floor, width)


def _warning(solution: Solution, width: float) -> list[str]:
    """What every page says of a job that cannot be made as asked: which marks."""
    if not solution.problems:
        return []
    marks = ", ".join(solution.problem_marks) or phrase("sheet.see-page-one")
    return list(wrap(phrase("sheet.refused-marks", marks=marks), width, _WARNING, bold=True))


def _revision(solution: Solution) -> str:
    """The revision, and that the packet is of the rest of a job."""
    revision, rest = solution.job.head.revision, solution.job.rest is not None
    if not revision:
        return phrase("rest.part/rest") if rest else ""
    return phrase("sheet.revision-rest" if rest else "sheet.revision", revision=revision)


def _in_mm(solution: Solution, paper: Paper, page: str) -> Drawing:
    """In what lengths are told, before the number of a page, where name and revision leave room; inches bear marks."""
    if solution.job.head.units != "mm":
        return Drawing()
    says, name, revision = phrase("sheet.all-in-mm"), solution.job.head.name, _revision(solution)
    right = paper.width - MARGIN - max(text_width(page, _SMALLER) + 4, _PAGE)
    left = MARGIN + text_width(name, _NAME, bold=True) + text_width(revision, _SMALLER) + 9
    if text_width(says, _LEAST, bold=True) > right - left:
        return Drawing()
    height = fit(says, right - left, _SMALLER, bold=True, least=_LEAST)
    return Drawing([Text((right, paper.height - MARGIN - 5), says, height, "right", "baseline", 0.0, bold=True)])


def _head(solution: Solution, paper: Paper, number: int, of: int) -> Drawing:
    """What every page bears: job, revision, page, program version, hash of the inputs, saw, caution."""
    head = solution.job.head
    top, low, inner = paper.height - MARGIN, MARGIN, paper.inner
    revision = _revision(solution)
    page = phrase("sheet.page", number=number, of=of)
    made_by = phrase("sheet.made-by", version=mitertool.__version__, origin=origin(solution.job))
    right = text_width(page, _SMALLER) + 3
    name = min(text_width(head.name, _NAME, bold=True), (inner - right - 3) * (0.6 if revision else 1.0))
    texts = [
        cell(head.name, (MARGIN, top - 5), name, _NAME, bold=True),
        cell(revision, (MARGIN + name + 3, top - 5), inner - right - name - 3, _SMALLER),
        cell(page, (paper.width - MARGIN - right, top - 5), right, _SMALLER, "right"),
        cell(short(), (MARGIN, low + 4.5), inner, 2.8),
        cell(made_by, (MARGIN, low), inner, 2.5),
        *(
            cell(line, (MARGIN, top - 11.5 - _WARNING_PITCH * i), inner, _WARNING, bold=True)
            for i, line in enumerate(_warning(solution, inner))
        ),
    ]
    rule = top - HEAD - paper.more_head + 2
    rules = [Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in (rule, low + FOOT - 1)]
    return Drawing([*(text for text in texts if text.says), *rules]) + _in_mm(solution, paper, page)
