"""The rack as a CSV table and back: a backup, and the way in for a list that was kept elsewhere; knows the table.

Everything that the file of the rack knows stands in it, so that a rack that was brought in is the one that was written.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Container, Iterator, Mapping
from typing import Any, Final

import attrs

from mitertool.base.cells import as_cell, of_cell, table
from mitertool.base.errors import BadInput, BadRows
from mitertool.base.letters import one_form
from mitertool.base.names import all_of, among, refuse_unknown_keys
from mitertool.cut import Cut
from mitertool.quantity import angle, count, positive_length
from mitertool.rack.book import RackBook
from mitertool.rack.values import LONGEST, BookedBar, Booking, Claim, Closed, RackBar, rack_bar
from mitertool.sections import section
from mitertool.words import phrase

COLUMNS: Final = (
    *("number", "section", "grade", "heat", "length_mm", "left_deg", "right_deg", "place", "date", "whole_mm"),
    *("job", "revision", "plan", "bar", "left_by_job", "left_by_revision", "left_by_plan", "left_by_bar"),
    *("kind", "work", "bought_for"),
)
"""Ends are miter, or miter/bevel; `job` and what follows tell who has booked it, `left_by_job` whose plan leaves it.

`bought_for` is the job that a bar of new steel was bought for. `kind` is "" for a left-over; "booking" and "closed" for
what a job has booked, and what was closed as cut, `work` the pieces of either; "new" for a bar of such a booking that
is no left-over.
"""

BOOKING, NEW, CLOSED = ("booking", "new", "closed")
_KINDS: Final = ("", BOOKING, NEW, CLOSED)

_CLAIM: Final = ("job", "revision", "plan", "bar")

_MOST_RECUTS: Final = 100_000
"""More recuts than a job has pieces: a number below is a slip."""

_NEEDED: Final = ("section", "length_mm")


def exported(rack: RackBook) -> bytes:
    """The whole rack as UTF-8 text with a heading row; no cell is one that a spreadsheet would run."""
    lying = rack.lying()
    told = ({**dict(zip(COLUMNS, _row(bar), strict=False)), "bought_for": as_cell(bar.bought)} for bar in lying)
    rows = [_filled(row) for row in told]
    booked = [_filled(row) for one in rack.bookings() for row in _booking_rows(one)]
    return table([COLUMNS, *rows, *booked, *(_filled(_closed_row(one)) for one in rack.closed())])


def _filled(row: Mapping[str, object]) -> list[object]:
    return [row.get(column, "") for column in COLUMNS]


def _booking_rows(one: Booking) -> Iterator[dict[str, object]]:
    """A booking, and each of its bars that is no left-over: what it takes and leaves stands with the left-overs."""
    whose: dict[str, object] = {"job": as_cell(one.job), "revision": as_cell(one.revision), "plan": as_cell(one.plan)}
    yield {"kind": BOOKING, **whose, "work": one.work, "date": as_cell(one.date)}
    for bar in one.bars:
        if not bar.takes:
            claimed = {"kind": NEW, **whose, "bar": f"{bar.number}.{bar.copy}"}
            new = bar.new
            texts = (("section", new.section), ("grade", new.grade), ("heat", new.heat)) if new else ()
            yield {
                **claimed,
                **{key: as_cell(text) for key, text in texts},
                "length_mm": repr(new.length) if new else "",
            }


def _closed_row(one: Closed) -> dict[str, object]:
    whose = {"job": as_cell(one.job), "revision": as_cell(one.revision), "plan": as_cell(one.plan)}
    return {"kind": CLOSED, **whose, "work": one.work, "bar": as_cell(", ".join(one.bars))}


def imported(rack: RackBook, content: bytes, file: str) -> tuple[int, int]:
    """Bring a table in, in one change: how many left-overs were new, and how many lay there already just so.

    A row without a number is a new left-over. One that bears a number is that one: it is passed over where it lies
    there already, and refused where another has the number. What a job had booked comes in booked by it.
    Raises `BadRows` with every bad row, and then nothing was brought in.
    """
    with rack.changing():
        found = _Found({bar.number: bar for bar in rack.lying()})
        against: list[BadInput] = []
        number = 0
        for number, row in _rows(content, file):
            try:
                found.take(row)
            except BadInput as error:
                against.append(error.at(file, phrase("rack.row", number=number)))
        if against:
            raise BadRows(against, number)
        there = {(one.job, one.revision, one.plan) for one in rack.bookings()}
        rack.restore(found.new, found.bookings(there), found.closed)
    return len(found.new), found.same


@attrs.define
class _Found:
    """What the rows told so far, beside what is `lying` on the rack."""

    lying: Mapping[int, RackBar]
    new: list[RackBar] = attrs.field(factory=list)
    same: int = 0
    told: dict[tuple[str, str, str], Booking] = attrs.field(factory=dict)
    bars: list[tuple[Claim, RackBar | None]] = attrs.field(factory=list)
    closed: list[Closed] = attrs.field(factory=list)

    def take(self, row: Mapping[str, str]) -> None:
        """Take a row in. Raises `BadInput` for one that cannot be so."""
        kind = row.get("kind", "")
        if kind not in _KINDS:
            raise BadInput("kind", kind, among([one for one in _KINDS if one]))
        job, revision, plan, work = (row.get(key, "") for key in ("job", "revision", "plan", "work"))
        if not kind:
            self._bar(_bar(row))
        elif kind == CLOSED:
            self.closed.append(Closed(job, revision, plan, work, tuple(row.get("bar", "").split(", "))))
        elif kind == BOOKING:
            self.told[job, revision, plan] = Booking(job, revision, plan, row.get("date", ""), (), work)
        else:
            claim = _claim(row, "")
            if claim:
                self.bars.append((claim, _bar(row) if row.get("section") else None))

    def _bar(self, bar: RackBar) -> None:
        if bar.number in self.lying:
            self.same += _same(bar, self.lying[bar.number])
        else:
            self.new.append(bar)

    def bookings(self, there: Container[tuple[str, str, str]]) -> Iterator[Booking]:
        """The bookings that the rows told, and that are not there already; bar by bar."""
        found: dict[tuple[str, str, str], dict[tuple[int, int], BookedBar]] = {job: {} for job in self.told}
        for claim, more in self._claims():
            bars = found.setdefault((claim.job, claim.revision, claim.plan), {})
            one = bars.get((claim.number, claim.copy), BookedBar(claim.number, claim.copy))
            bars[claim.number, claim.copy] = attrs.evolve(one, **more)
        for job, bars in found.items():
            if job not in there or any(bar.takes or bar.leaves for bar in bars.values()):
                yield attrs.evolve(self.told.get(job, Booking(*job)), bars=tuple(bars[one] for one in sorted(bars)))

    def _claims(self) -> Iterator[tuple[Claim, dict[str, Any]]]:
        yield from ((bar.came, {"leaves": bar}) for bar in self.new if bar.came)
        yield from ((bar.taken, {"takes": bar.number}) for bar in self.new if bar.taken)
        yield from ((claim, {"new": bar}) for claim, bar in self.bars)


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
    return Claim(
        job, revision, plan, count(number, f"{before}bar", least=-_MOST_RECUTS), count(copy or "1", f"{before}bar")
    )


def _end(cut: Cut) -> str:
    return f"{cut.miter:g}" if not cut.bevel else f"{cut.miter!r}/{cut.bevel!r}"


def _rows(content: bytes, file: str) -> Iterator[tuple[int, dict[str, str]]]:
    try:
        table = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    except (UnicodeDecodeError, csv.Error):
        table = []
    head = [cell.strip() for cell in table[0]] if table else []
    missing = [one for one in _NEEDED if one not in head]
    if missing:
        shown = ", ".join(head) or phrase("found.nothing")
        raise BadInput("columns", shown, phrase("rack.no-table", columns=all_of(missing)), (file,))
    try:
        refuse_unknown_keys(phrase("what.column"), head, COLUMNS)
    except BadInput as error:
        raise error.at(file) from None
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
        bought=one_form(row.get("bought_for", "")),
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
