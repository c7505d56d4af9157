"""What a packet of the rest says first: what changed since the revision before, what becomes of pieces; see layout."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.job import Solution
from mitertool.job.before import MarkChange, Rest
from mitertool.packet.pages import rest_said as said
from mitertool.packet.paper.layout import Block, TableColumn, in_lines, kept_together, table, titled
from mitertool.quantity import Units
from mitertool.words import phrase

_ROW = 3.5


def rest_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """Nothing for a whole job; of a rest the marks that changed, then every piece that is cut already."""
    rest, units = solution.job.rest, solution.job.head.units
    if rest is None:
        return
    if rest.changes:
        before = rest.revision or phrase("rest.revision-none")
        title = phrase("rest.title-after", revision=solution.job.head.revision, before=before)
        rows = [row for change in rest.changes for row in _rows(change, units)]
        yield from kept_together([titled(title, width), *table(_change_columns(width), rows)])
    if rest.offers:
        rows = list(_offers(rest, units, width))
        yield from kept_together([titled(phrase("rest.cut-already"), width), *table(_offer_columns(width), rows)])


def _change_columns(width: float) -> list[TableColumn]:
    return [
        TableColumn(phrase("rest.column.mark"), 34, bold=True, height=_ROW),
        TableColumn(phrase("rest.column.state"), 28, bold=True, height=_ROW),
        TableColumn(phrase("rest.column.what"), 42, height=_ROW),
        TableColumn(phrase("rest.column.from"), (width - 104) / 2, height=_ROW),
        TableColumn(phrase("rest.column.to"), (width - 104) / 2, bold=True, height=_ROW),
    ]


def _rows(change: MarkChange, units: Units) -> Iterator[list[str]]:
    """A row for each thing that is another, the mark told once."""
    state = phrase(f"rest.state/{change.state}")
    told = [said.difference(one, units) for one in change.differences] or [("", "", "")]
    for i, (what, before, after) in enumerate(told):
        yield [in_lines(change.mark, 31, bold=True) if i == 0 else "", state if i == 0 else "", what, before, after]


def _offer_columns(width: float) -> list[TableColumn]:
    return [
        TableColumn(phrase("rest.column.mark"), 34, bold=True, height=_ROW),
        TableColumn(phrase("rest.column.count"), 16, "right", bold=True, height=_ROW),
        TableColumn(phrase("rest.column.fate"), 54, bold=True, height=_ROW),
        TableColumn(phrase("rest.column.how"), width - 104),
    ]


def _offers(rest: Rest, units: Units, width: float) -> Iterator[list[str]]:
    for offer in rest.offers:
        mark = in_lines(said.called(offer), 31, bold=True)
        fate = in_lines(said.fate(offer, rest), 51, bold=True)
        yield [mark, str(offer.count), fate, in_lines(said.how(offer, units), width - 107)]
