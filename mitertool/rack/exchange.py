"""The rack as a CSV table and back: a backup, and the way in for a list that was kept elsewhere; knows the table.

Everything that the file of the rack knows stands in it, so that a rack that was brought in is the one that was written.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

import attrs

from mitertool.base.cells import as_cell, of_cell, table
from mitertool.base.errors import BadInput, BadRows
from mitertool.base.letters import one_form
from mitertool.cut import Cut
from mitertool.quantity import angle, count, positive_length
from mitertool.rack.book import RackBook
from mitertool.rack.values import LONGEST, BookedBar, Booking, Claim, RackBar, rack_bar
from mitertool.sections import section
from mitertool.words import phrase

COLUMNS: Final = (
    *("number", "section", "grade", "heat", "length_mm", "left_deg", "right_deg", "place", "date", "whole_mm"),
    *("job", "revision", "plan", "bar", "left_by_job", "left_by_revision", "left_by_plan", "left_by_bar"),
)
"""Ends are miter, or miter/bevel; `job` and what follows tell who has booked it, `left_by_job` whose plan left it."""

_CLAIM: Final = ("job", "revision", "plan", "bar")

_NEEDED: Final = ("section", "length_mm")


def exported(rack: RackBook) -> bytes:
    """The whole rack as UTF-8 text with a heading row; no cell is one that a spreadsheet would run."""
    return table([COLUMNS, *map(_row, rack.lying())])


def imported(rack: RackBook, content: bytes, file: str) -> tuple[int, int]:
    """Bring a table in, in one change: how many left-overs were new, and how many lay there already just so.

    A row without a number is a new left-over. One that bears a number is that one: it is passed over where it lies
    there already, and refused where another has the number. What a job had booked comes in booked by it.
    Raises `BadRows` with every bad row, and then nothing was brought in.
    """
    with rack.changing():
        lying = {bar.number: bar for bar in rack.lying()}
        new: list[RackBar] = []
        against: list[BadInput] = []
        same = 0
        number = 0
        for number, row in _rows(content, file):
            try:
                bar = _bar(row)
                if bar.number in lying:
                    same += _same(bar, lying[bar.number])
                else:
                    new.append(bar)
            except BadInput as error:
                against.append(error.at(file, phrase("rack.row", number=number)))
        if against:
            raise BadRows(against, number)
        rack.restore(new, _bookings(new))
    return len(new), same


def _bookings(new: Sequence[RackBar]) -> Iterator[Booking]:
    """The bookings that were written with the left-overs, bar by bar."""
    claims = [(claim, bar, bar.taken is claim) for bar in new for claim in (bar.came, bar.taken) if claim]
    for job in dict.fromkeys((claim.job, claim.revision, claim.plan) for claim, *_ in claims):
        bars: dict[tuple[int, int], BookedBar] = {}
        for claim, bar, takes in claims:
            if (claim.job, claim.revision, claim.plan) == job:
                one = bars.get((claim.number, claim.copy), BookedBar(claim.number, claim.copy))
                made = attrs.evolve(one, takes=bar.number) if takes else attrs.evolve(one, leaves=bar)
                bars[claim.number, claim.copy] = made
        yield Booking(*job, bars=tuple(bars.values()))


def _row(bar: RackBar) -> list[object]:
    texts = (bar.section, bar.grade, bar.heat)
    ends = (_end(bar.left), _end(bar.right))
    return [
        *(bar.number, *map(as_cell, texts), repr(bar.length), *ends, as_cell(bar.place), as_cell(bar.date)),
        *(repr(bar.square), *_claimed(bar.taken), *_claimed(bar.came)),
    ]


def _claimed(claim: Claim | None) -> tuple[str, ...]:
    if claim is None:
        return ("",) * len(_CLAIM)
    return (as_cell(claim.job), as_cell(claim.revision), claim.plan, f"{claim.number}.{claim.copy}")


def _claim(row: Mapping[str, str], before: str) -> Claim | None:
    """Who has booked it, or with `left_by_` before the headings, whose plan left it."""
    job, revision, plan, bar = (row.get(f"{before}{key}", "") for key in _CLAIM)
    if not job:
        return None
    number, _point, copy = bar.partition(".")
    return Claim(job, revision, plan, count(number, f"{before}bar", least=0), count(copy or "1", f"{before}bar"))


def _end(cut: Cut) -> str:
    return f"{cut.miter:g}" if not cut.bevel else f"{cut.miter!r}/{cut.bevel!r}"


def _rows(content: bytes, file: str) -> Iterator[tuple[int, dict[str, str]]]:
    try:
        table = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    except (UnicodeDecodeError, csv.Error):
        table = []
    head = [cell.strip() for cell in table[0]] if table else []
    if not set(_NEEDED) <= set(head) <= set(COLUMNS):
        raise BadInput("columns", ", ".join(head), phrase("rack.no-table", columns=", ".join(COLUMNS)), (file,))
    for number, cells in enumerate(table[1:], 2):
        if any(cell.strip() for cell in cells):
            yield number, dict(zip(head, (of_cell(cell.strip()) for cell in cells), strict=False))


def _bar(row: Mapping[str, str]) -> RackBar:
    """A row as a left-over; a section of a job's own, which no catalogue has, comes by its whole length."""
    length = positive_length(row.get("length_mm", ""), "mm", "length_mm")
    left, right = (end_of(row.get(f"{end}_deg") or "0", f"{end}_deg") for end in ("left", "right"))
    whole = row.get("whole_mm", "")
    if whole:
        square = positive_length(whole, "mm", "whole_mm")
        if not square <= length <= LONGEST:
            raise BadInput("whole_mm", whole, phrase("rack.no-such-length", most=f"{LONGEST:g}"))
        made = RackBar(row["section"], length, square, left=left, right=right)
    else:
        made = rack_bar(section(row["section"]), length, left, right)
    texts: dict[str, Any] = {key: one_form(row.get(key, "")) for key in ("grade", "heat", "place", "date")}
    return attrs.evolve(
        made,
        **texts,
        number=count(row["number"], "number") if row.get("number") else 0,
        taken=_claim(row, ""),
        came=_claim(row, "left_by_"),
    )


def end_of(text: str, what: str) -> Cut:
    """An end as miter, or miter/bevel, degrees from square. Raises `BadInput` otherwise."""
    miter, _stroke, bevel = text.partition("/")
    try:
        return Cut(angle(miter, what), angle(bevel or "0", what))
    except BadInput as error:
        raise BadInput(what, text, phrase("rack.end")) from error


def _same(bar: RackBar, lying: RackBar) -> bool:
    """Whether it lies there just so. Raises `BadInput` where another has its number."""
    keys = ("section", "grade", "heat", "length", "left", "right")
    if any(getattr(bar, key) != getattr(lying, key) for key in keys):
        raise BadInput("number", bar.number, phrase("rack.other-number"))
    return True
