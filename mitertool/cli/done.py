"""`mitertool done`: what is cut, counted in a file that packet and nest read; knows job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated, Self

import attrs
import typer

from mitertool.base.cells import as_cell, of_cell, table
from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.cli.booked import bar_numbers, free_command
from mitertool.cli.commands import command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import Printed, answer
from mitertool.job import Job
from mitertool.job.done import (
    BAR,
    BEGUN,
    COLUMNS,
    ENTRY,
    JOB,
    LATER,
    LEFT,
    OFF,
    PIECE,
    RECUT,
    REVISION,
    SECOND,
    SPOILED,
    USED,
    WorkDone,
    read_work,
    rows_of_done,
)
from mitertool.job.pieces_done import PiecesDone
from mitertool.packet.records.bars_cut import BarDone, CutPacket, RecutDone, cut_packet
from mitertool.packet.records.earlier import earlier, folder_name
from mitertool.quantity import count as whole_number
from mitertool.quantity.tables import read_whole
from mitertool.rack import Booking, RackBook
from mitertool.rack.values import ALL
from mitertool.words import phrase


@options
class DoneOptions(JobRead, Printed):
    """A job, and what of it was done."""

    file: Annotated[Path, typer.Option("--file", help="option.done.file")] = Path("done.csv")
    good: Annotated[list[str] | None, typer.Option("--good", help="option.done.good", metavar="MARK=N")] = None
    spoiled: Annotated[
        list[str] | None,
        typer.Option("--spoiled", help="option.done.spoiled", metavar="MARK=N[@L]"),
    ] = None
    used: Annotated[list[str] | None, typer.Option("--used", help="option.done.used", metavar="SECTION=L[=N]")] = None
    left: Annotated[list[str] | None, typer.Option("--left", help="option.done.left", metavar="SECTION=L[=N]")] = None
    cut: Annotated[str, typer.Option("--cut", help="option.done.cut")] = ""
    begun: Annotated[list[str] | None, typer.Option("--begun", help="option.done.begun", metavar="BAR=N")] = None
    of: Annotated[Path | None, typer.Option("--of", metavar="PACKET", help="option.done.of")] = None
    heat: Annotated[str, typer.Option("--heat", help="option.done.heat")] = ""
    add: Annotated[Path | None, typer.Option("--add", metavar="FILE", help="option.done.add")] = None
    undo: Annotated[bool, typer.Option("--undo", help="option.done.undo")] = False


@command(
    DoneOptions,
    "done job.toml --good STAY=2 --spoiled STRAP=1",
    "done job.toml --cut 1,2 --of packet --file cut.csv",
    "done job.toml --cut 1 --of packet --heat 4711",
    "done job.toml --good STAY=1 --spoiled STRAP=1@900 --used 'RHS 80x40x3=6000'",
    "done job.toml --add done-2.csv",
    "done job.toml --undo",
)
def done(o: DoneOptions) -> None:
    """What `mitertool done` does."""
    job = o.read()
    of = _packet(o, job)
    revision = of.whose.revision if of else job.head.revision
    before = [earlier(o.of, job, "--of")] if o.of and revision != job.head.revision else []
    kept = list(_before(o.file)) if o.file.exists() else list(_heading(job))
    so_far = [of_cell(row[1]) for row in kept if row[0] in (BAR, BEGUN)]
    bars = (*of.named(bar_numbers(o.cut), so_far), *_begun(o, of)) if of else ()
    recuts = of.recut(bar_numbers(o.cut), so_far) if of else ()
    there = read_work(o.file, job, before, alone=True) if o.file.exists() else WorkDone()
    blanks = _blanks(there.of(revision), bars)
    rows = [row for bar in bars if of for row in _rows_of(bar, of.called(bar), there, o.heat)]
    if ALL in bar_numbers(o.cut):
        recuts = tuple(_as_many(one, blanks, revision) for one in recuts)
    rows += [row for one in recuts if of for row in _rows_recut(one, of.called(one), revision, o.heat)]
    given = _ByBars.of([*kept, *((*row, "new") for row in rows)], revision)
    apart = list(_apart(o, blanks, given))
    rows += list(_rows(o, blanks, given))
    if o.undo:
        kept, back = _taken_back(kept, o.file)
    elif not rows and o.add is None:
        raise BadInput("done", phrase("found.nothing"), phrase("rest.nothing-told"))
    content = table([(*COLUMNS, ENTRY), *kept, *(() if o.undo else _entry(kept, revision, rows, o.add))])
    work = read_work(o.file, job, before, content, alone=True)
    write_whole(o.file, content)
    good = {mark: count for mark, count in work.of(revision).good.items() if count}
    shown = ", ".join(f"{count} {mark}" for mark, count in good.items()) or "0"
    told = [phrase("rest.undone", file=o.file, rows="; ".join(map(_shown, back)))] if o.undo else []
    told += [line for bar in bars if of for line in _counted_bar(bar, of)]
    told += [phrase("rest.recut-counted", number=one.name, count=one.count, mark=one.to) for one in recuts if one.count]
    told += apart
    code = "rest.written-of" if revision else "rest.written"
    told.append(phrase(code, file=o.file, good=shown, revision=revision))
    answer(
        {"file": str(o.file), "good": good}, [*told, *_close(job, of, work.of(revision) if bars or recuts else None)], o
    )


def _packet(o: DoneOptions, job: Job) -> CutPacket | None:
    """The packet that is named, or that of the job where bars are told by their numbers; None where it is not asked."""
    if o.of is None and not o.cut and not o.begun:
        return None
    folder = o.of or Path(folder_name(job.head))
    if o.of is None and not folder.exists():
        raise BadInput("--cut" if o.cut else "--begun", o.cut or str(folder), phrase("rest.which-packet"))
    return cut_packet(folder, job, "--of")


def _begun(o: DoneOptions, of: CutPacket) -> Iterator[BarDone]:
    """The bars of which only the first pieces are cut."""
    for given in o.begun or ():
        name, number = _counted(given, "--begun", "rest.begun-form")
        yield of.bar(name).so_far(whole_number(number, "--begun"))


def _blanks(done: PiecesDone, bars: Sequence[BarDone]) -> Counter[str]:
    """The blanks that there are by their marks, with those of bars that are cut."""
    there: Counter[str] = Counter()
    for one in done.blanks:
        there[one.mark] += one.count
    for bar in bars:
        for (mark, _, _), count in bar.later.items():
            there[mark] += count
    return there


def _as_many(one: RecutDone, blanks: Counter[str], revision: str) -> RecutDone:
    """The second ends of as many blanks as there are: some may be told already."""
    if not one.blank or one.revision != revision:
        return one
    count = min(one.count, blanks[one.mark])
    blanks[one.mark] -= count
    return attrs.evolve(one, count=count)


@attrs.frozen
class _ByBars:
    """The good pieces of a revision by their marks that were told with bars, by the numbers of these; their heats."""

    good: Counter[str] = attrs.field(factory=Counter)
    heats: dict[str, set[str]] = attrs.field(factory=dict)

    @classmethod
    def of(cls, rows: Sequence[Row], revision: str) -> Self:
        """What rows tell, each with its entry."""
        found = cls()
        entries = {row[-1] for row in rows if row[0] in (BAR, BEGUN)}
        told = revision
        for what, name, _, quantity, _, heat, entry in rows:
            told = of_cell(name) if what == REVISION else told
            if told == revision and entry in entries and what in (PIECE, OFF):
                found.good[of_cell(name)] += int(quantity or 1) * (1 if what == PIECE else -1)
                found.heats.setdefault(of_cell(name), set()).update([of_cell(heat)] if what == PIECE else [])
        return found

    def heat_of(self, mark: str, count: str) -> str:
        """The heat of so many of them; "" where it is not known, or where they are not among them."""
        heats = self.heats.get(mark, set())
        known = count.isdecimal() and int(count) <= self.good[mark] and len(heats) == 1
        return next(iter(heats)) if known else ""


Row = tuple[str, ...]
"""Cells in the order of the columns, the number of the entry last."""


def _row(what: str, name: str, length: str = "", count: str = "1", grade: str = "", heat: str = "") -> Row:
    """The cells of a row without the number of its entry."""
    return what, as_cell(name), length, count, as_cell(grade), as_cell(heat)


def _before(file: Path) -> Iterator[Row]:
    """What stands in the file, in all columns: it may have been typed with fewer."""
    for _, row in rows_of_done(file, read_whole(file)):
        yield tuple(row.get(column, "") for column in (*COLUMNS, ENTRY))


def _heading(job: Job) -> Iterator[Row]:
    yield (*_row(JOB, job.head.name), "")


def _entry(kept: Sequence[Row], revision: str, rows: Sequence[Row], add: Path | None) -> Iterator[Row]:
    """Rows as one entry behind what stands there, and before them their revision where the last rows are of another.

    With them go the rows of another file, which tell their own job and revision.
    """
    number = str(1 + max((int(row[-1]) for row in kept if row[-1].isdecimal()), default=0))
    last = next((of_cell(row[1]) for row in reversed(kept) if row[0] == REVISION), None)
    if last != revision and (revision or last is not None):
        yield (*_row(REVISION, revision), number)
    yield from ((*row, number) for row in rows)
    yield from ((*row[:-1], number) for row in (_before(add) if add else ()))


def _taken_back(kept: Sequence[Row], file: Path) -> tuple[list[Row], list[Row]]:
    """What stands in the file without its last entry, and that; a row that was typed is an entry of its own."""
    told = [i for i, row in enumerate(kept) if row[0] not in (JOB, REVISION)]
    if not told:
        raise BadInput("--undo", str(file), phrase("rest.nothing-to-undo"))
    entry = kept[told[-1]][-1]
    back = {i for i, row in enumerate(kept) if entry and row[-1] == entry} or {told[-1]}
    return [row for i, row in enumerate(kept) if i not in back], [kept[i] for i in told if i in back]


def _shown(row: Row) -> str:
    what, name, length, quantity = row[:4]
    told = {"what": what, "name": of_cell(name), "quantity": quantity or "1"}
    return phrase("rest.undone-length", length=length, **told) if length else phrase("rest.undone-row", **told)


def _rows(o: DoneOptions, blanks: Counter[str], by_bars: _ByBars) -> Iterator[Row]:
    """The rows that the options ask for, in the order of the columns.

    Pieces of marks with `blanks` are some of these, and spoiled ones are among those that were counted `by_bars`.
    """
    for given in o.good or ():
        mark, count = _counted(given, "--good", "rest.count-form")
        yield from _of_blanks(mark, count, blanks)
        yield _row(PIECE, mark, count=count, heat=o.heat)
    for given in o.spoiled or ():
        mark, count = _counted(given, "--spoiled", "rest.spoiled-form")
        count, _at, length = (part.strip() for part in count.partition("@"))
        heat = o.heat or by_bars.heat_of(mark, count)
        yield from _of_blanks(mark, count, blanks) if blanks[mark] else _no_more_good(mark, count, by_bars)
        yield _row(SPOILED, mark, length, count, heat=heat)
    for what, name, bars in ((USED, "--used", o.used), (LEFT, "--left", o.left)):
        for given in bars or ():
            section, length = _parts(given, name, "rest.bar-form")
            length, _equals, count = length.partition("=")
            yield _row(what, section, length.strip(), count.strip() or "1")


def _apart(o: DoneOptions, blanks: Counter[str], by_bars: _ByBars) -> Iterator[str]:
    """That spoiled pieces are of no bar that was told, where some were: nobody counts its steel then."""
    for given in o.spoiled or ():
        mark, count = _counted(given, "--spoiled", "rest.spoiled-form")
        count = count.partition("@")[0].strip()
        if by_bars.good and count.isdecimal() and int(count) > by_bars.good[mark] + blanks[mark]:
            yield phrase("rest.spoiled-apart", mark=mark)


def _no_more_good(mark: str, count: str, by_bars: _ByBars) -> Iterator[Row]:
    """So many that were counted as good with their bars, as far as there are any."""
    off = min(int(count) if count.isdecimal() else 0, by_bars.good[mark])
    if off > 0:
        by_bars.good[mark] -= off
        yield _row(OFF, mark, count=str(off))


def _of_blanks(mark: str, count: str, blanks: Counter[str]) -> Iterator[Row]:
    """So many of a mark are blanks no more, as far as there are any."""
    made = min(int(count) if count.isdecimal() else 0, blanks[mark])
    if made:
        blanks[mark] -= made
        yield _row(SECOND, mark, count=str(made))


def _rows_of(bar: BarDone, called: str, there: WorkDone, heat: str) -> Iterator[Row]:
    """A bar that is cut, as the rows that it comes to.

    One that came off a piece that is recut is no bar gone, and of one off the rack the rack keeps count.
    """
    yield _row(BEGUN if bar.begun else BAR, called)
    yield from (_row(PIECE, mark, count=str(count), heat=heat or bar.heat) for mark, count in bar.pieces.items())
    for (mark, end, length), count in bar.later.items():
        yield _row(LATER[end], mark, f"{length:.10g} mm", str(count), heat=heat or bar.heat)
    if not bar.off_rack and (bar.of_stock or there.has_left(bar.section, bar.length)):
        yield _row(USED, bar.section, f"{bar.length:.10g} mm", str(bar.bars), bar.grade)
    left = int(bar.left * 10) / 10
    if left:
        yield _row(LEFT, bar.section, f"{left:g} mm", str(bar.bars), bar.grade)


def _rows_recut(one: RecutDone, called: str, revision: str, heat: str) -> Iterator[Row]:
    """Pieces that became others, or blanks: they are not there any more as what they were."""
    if not one.count:
        yield _row(BAR, called)
        return
    if one.revision != revision:
        yield _row(REVISION, one.revision)
    what = SECOND if one.blank else RECUT
    yield _row(what, one.mark, f"{one.left:.10g} mm" if one.left else "", str(one.count))
    if one.revision != revision:
        yield _row(REVISION, revision)
    yield _row(BAR, called)
    yield _row(PIECE, one.to, count=str(one.count), heat=heat or one.heat)


def _counted_bar(bar: BarDone, of: CutPacket) -> Iterator[str]:
    later = {mark: count for (mark, _, _), count in bar.later.items()}
    ends = ",".join(one.name for one in of.recuts if one.second_end and one.mark in later)
    for code, marks in (("rest.bar-counted", bar.pieces), ("rest.bar-later", later)):
        if marks:
            told = ", ".join(f"{count} {mark}" for mark, count in marks.items())
            yield phrase(code, bar=bar.name, pieces=told, ends=ends)


def _close(job: Job, of: CutPacket | None, told: PiecesDone | None) -> Iterator[str]:
    """How the rack is told of all bars of the packet that are cut or begun, where a booking of it is open."""
    if of is None or told is None or job.rack is None or not job.rack.file.exists():
        return
    parts: tuple[BarDone | RecutDone, ...] = (*of.bars, *of.recuts)
    cut, begun = ([one.name for one in parts if of.called(one) in names] for names in (told.bars, told.begun))
    with RackBook.opened(job.rack.file, new=False) as book:
        bookings = [one for one in book.bookings() if (one.job, one.plan) == (of.whose.job, of.booked)]
    for one in bookings:
        own, half = (",".join(name for name in names if _has(one, name)) for names in (cut, begun))
        if own or half:
            yield phrase("rest.close-booking", command=free_command(one, job.rack.file, own, begun=half))


def _has(booking: Booking, name: str) -> bool:
    return any(bar.is_among([name]) for bar in booking.bars)


def _counted(given: str, what: str, form: str) -> tuple[str, str]:
    """A mark and what stands behind the last =, so that a mark may hold one."""
    mark, _equals, count = given.rpartition("=")
    return _both(mark, count, given, what, form)


def _parts(given: str, what: str, form: str) -> tuple[str, str]:
    name, _equals, rest = given.partition("=")
    return _both(name, rest, given, what, form)


def _both(name: str, rest: str, given: str, what: str, form: str) -> tuple[str, str]:
    if not (name.strip() and rest.strip()):
        raise BadInput(what, given, phrase(form))
    return name.strip(), rest.strip()
