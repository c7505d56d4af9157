"""The boxes to tick, and the rows of done.csv that ticks become; knows bars and the columns of done.csv."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.base.cells import as_cell
from mitertool.job.done import (
    BAR,
    BEGUN,
    COLUMNS,
    JOB,
    LATER,
    LEFT,
    PIECE,
    RECUT,
    REVISION,
    SECOND,
    SPOILED,
    USED,
)
from mitertool.job.orders import Head
from mitertool.job.recut_pieces import RecutPiece
from mitertool.job.recuts import RecutRun, second_end
from mitertool.nest import Bar
from mitertool.packet.floor.values import BarWork, CutRow, PieceRow
from mitertool.packet.pages.browser.markup import Attribute, Markup, element, joined
from mitertool.words import phrase

_COUNT: Final = "\ue000"
"""Stands in a row for the cell that the page fills in."""


MOST: Final = 2000
"""Boxes of a bar, a batch or a mark. What is more is counted in a field a row, so that the page of a great run stays
small enough for a telephone: 2000 boxes are half a MB."""


def box(name: str, number: int, says: str, **data: Attribute) -> Markup:
    """One box with its number in it; `says` is read aloud."""
    inside = element("input", type="checkbox", id=name, aria_label=says, **data)
    return element("label", inside, element("span", str(number), aria_hidden="true"), class_="box")


def counter(name: str, count: int, makes: str, **data: Attribute) -> Markup:
    """A field for how many of `count` cuts are done."""
    limits: dict[str, Attribute] = {"min": 0, "max": count, "step": 1, "value": 0, "inputmode": "numeric"}
    says = phrase("browser.count", makes=makes)
    field = element("input", type="number", id=name, aria_label=says, **limits, **data)
    return element("div", field, element("span", phrase("browser.of-many", count=count)), class_="boxes")


def bar_boxes(bar: BarWork, row: CutRow, makes: str) -> Iterator[Markup]:
    """For each of the bars alike a line of boxes, one a cut; a field for the row where they are too many."""
    cuts = sum(len(one.numbers) for one in bar.rows)
    if bar.count * cuts > MOST:
        many = len(row.numbers)
        yield counter(f"n{bar.number}-{row.numbers[0]}", bar.count * many, makes, data_cuts=many)
    else:
        yield from _lines(bar.number, bar.count, row.numbers, makes)


def _lines(bar: int, count: int, numbers: Sequence[int], makes: str) -> Iterator[Markup]:
    for copy in range(1, count + 1):
        said = {number: phrase("browser.box", bar=bar, copy=copy, cut=number, makes=makes) for number in numbers}
        boxes = (
            box(f"b{bar}-{copy}-{number}", number, said[number], data_bar=copy, data_cut=number) for number in numbers
        )
        which = element("span", phrase("browser.copy", copy=copy, count=count)) if count > 1 else None
        yield element("div", which, joined(*boxes), class_="boxes")


def piece_boxes(name: str, count: int, says: str) -> Markup:
    """A box for each of `count` pieces; a field for them where they are too many."""
    if count > MOST:
        return counter(f"n{name}", count, says)
    boxes = (box(f"{name}-{number}", number, f"{says}, {number}") for number in range(1, count + 1))
    return element("div", joined(*boxes), class_="boxes")


def opening(head: Head) -> str:
    """The first rows of done.csv: its columns, and of which job and revision it tells."""
    rows = (COLUMNS, (JOB, as_cell(head.name), "", "1", ""), (REVISION, as_cell(head.revision), "", "1", ""))
    return "\n".join(_row(*cells) for cells in rows)


def of_row(row: CutRow) -> dict[str, Attribute]:
    """The marks that a tick of the row makes one piece of, or more where bars are cut at once; or of a blank."""
    if row.recut:
        return {"data_blank": row.mark}
    each = row.each if row.each > 1 else None
    return {"data_mark": row.mark or None, "data_beside": row.beside or None, "data_each": each}


def of_second_ends(one: RecutRun, inputs: str, heat: str) -> dict[str, Attribute]:
    """What a tick of a row of second ends makes a piece of, and the rows of the blanks that are still there."""
    recut = one.recut
    cells = (as_cell(recut.mark), f"{recut.blank:.10g} mm", _COUNT, "", *_told_heat(heat))
    later = _row(LATER[recut.end], *cells)
    return {"data_mark": recut.mark, "data_later": later, **_told(second_end(one.number), inputs)}


def of_recut(one: RecutPiece, own: str, inputs: str) -> dict[str, Attribute]:
    """The rows that pieces which become others make: they are not there any more as what they were.

    `own` is the revision of the job.
    """
    offer = one.offer
    what = SECOND if offer.blank else RECUT
    left = f"{offer.left:.10g} mm" if offer.spoiled or offer.blank else ""
    rows = [_row(what, as_cell(offer.mark), left, _COUNT, "")]
    if offer.revision != own:
        rows = [_row(REVISION, as_cell(offer.revision), "", "1", ""), *rows, _row(REVISION, as_cell(own), "", "1", "")]
    rows.append(_row(PIECE, as_cell(offer.to), "", _COUNT, "", *_told_heat(offer.heat)))
    return {"data_becomes": "\n".join(rows), **_told(one.called, inputs)}


def _told(name: str, inputs: str) -> dict[str, Attribute]:
    """The rows that it is cut, or begun."""
    found = {"data_cut_row": BAR, "data_begun_row": BEGUN}
    return {key: _row(what, as_cell(f"{name} {inputs}"), "", "1", "") for key, what in found.items()}


def of_bar(number: int, bar: Bar, inputs: str, off_rack: int = 0) -> dict[str, Attribute]:
    """What the page makes rows of a bar of: which are cut, whole bars gone, how much is left of one behind each cut.

    Bars side by side are so many bars of the single section. Of those `off_rack` the rack keeps count.
    """
    section, grade = as_cell(bar.section.one_bar.name), as_cell(bar.grade)
    used, after = _row(USED, section, f"{bar.stock_length:.10g} mm", _COUNT, grade).split(_COUNT)
    left = _row(LEFT, section, _COUNT, "1", grade).split(_COUNT)[0]
    row: dict[str, Attribute] = {
        "data_used": used,
        "data_left": left,
        "data_after": after,
        "data_bars": bar.section.bars,
        "data_off_rack": off_rack,
    }
    return {"data_rests": " ".join(_rests(bar)), **row, **_told(f"{number}.{_COUNT}", inputs)}


def of_piece(row: PieceRow) -> dict[str, Attribute]:
    """What the page makes a row of a mark of: how many are asked for, and the cells around the count of good ones."""
    solved = row.solved
    before, after = _row(PIECE, as_cell(solved.mark), "", _COUNT, "", *_told_heat(row.heat)).split(_COUNT)
    thrown = _row(SPOILED, as_cell(solved.mark), "", _COUNT, "").split(_COUNT)[0]
    rows: dict[str, Attribute] = {"data_before": before, "data_spoiled": thrown, "data_after": after}
    return {"data_piece": solved.mark, "data_asked": solved.quantity, **rows}


def _rests(bar: Bar) -> Iterator[str]:
    """Whole lengths behind each cut, tenths of a mm."""
    yield from (f"{int(rest * 10) / 10:g}" for rest in bar.rests)


def _told_heat(heat: str) -> tuple[str, ...]:
    """The last cell of a row, where it is known."""
    return (as_cell(heat),) if heat else ()


def _row(*cells: str) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="").writerow(cells)
    return text.getvalue()
