"""`mitertool done`: what is cut, counted in a file that packet and nest read; knows job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path
from typing import Annotated

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
from mitertool.quantity.tables import read_whole
from mitertool.rack import RackBook
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
    of: Annotated[Path | None, typer.Option("--of", metavar="PACKET", help="option.done.of")] = None
    add: Annotated[Path | None, typer.Option("--add", metavar="FILE", help="option.done.add")] = None
    undo: Annotated[bool, typer.Option("--undo", help="option.done.undo")] = False


@command(
    DoneOptions,
    "done job.toml --good STAY=2 --spoiled STRAP=1",
    "done job.toml --cut 1,2 --of packet --file cut.csv",
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
    bars = of.named(bar_numbers(o.cut), so_far) if of else ()
    recuts = of.recut(bar_numbers(o.cut), so_far) if of else ()
    there = read_work(o.file, job, before, alone=True) if o.file.exists() else WorkDone()
    blanks = _blanks(there.of(revision), bars)
    rows = [row for bar in bars if of for row in _rows_of(bar, of.called(bar), there)]
    if ALL in bar_numbers(o.cut):
        recuts = tuple(_as_many(one, blanks, revision) for one in recuts)
    rows += [row for one in recuts if of for row in _rows_recut(one, of.called(one), revision)]
    given = _given_by_bars([*kept, *((*row, "new") for row in rows)], revision)
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
    code = "rest.written-of" if revision else "rest.written"
    told.append(phrase(code, file=o.file, good=shown, revision=revision))
    answer({"file": str(o.file), "good": good}, [*told, *_close(job, of, work.of(revision).bars if o.cut else ())], o)


def _packet(o: DoneOptions, job: Job) -> CutPacket | None:
    """The packet that is named, or that of the job where bars are told by their numbers; None where it is not asked."""
    if o.of is None and not o.cut:
        return None
    folder = o.of or Path(folder_name(job.head))
    if o.of is None and not folder.exists():
        raise BadInput("--cut", o.cut, phrase("rest.which-packet"))
    return cut_packet(folder, job, "--of")


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


def _given_by_bars(rows: Sequence[Row], revision: str) -> Counter[str]:
    """The good pieces of a revision by their marks that were told with bars, by the numbers of these."""
    entries = {row[-1] for row in rows if row[0] in (BAR, BEGUN)}
    given: Counter[str] = Counter()
    told = revision
    for what, name, _, quantity, _, entry in rows:
        told = of_cell(name) if what == REVISION else told
        if told == revision and entry in entries and what in (PIECE, OFF):
            given[of_cell(name)] += int(quantity or 1) * (1 if what == PIECE else -1)
    return given


Row = tuple[str, ...]
"""Cells in the order of the columns, the number of the entry last."""


def _before(file: Path) -> Iterator[Row]:
    """What stands in the file, in all columns: it may have been typed with fewer."""
    for _, row in rows_of_done(file, read_whole(file)):
        yield tuple(row.get(column, "") for column in (*COLUMNS, ENTRY))


def _heading(job: Job) -> Iterator[Row]:
    yield (JOB, as_cell(job.head.name), "", "1", "", "")


def _entry(kept: Sequence[Row], revision: str, rows: Sequence[Row], add: Path | None) -> Iterator[Row]:
    """Rows as one entry behind what stands there, and before them their revision where the last rows are of another.

    With them go the rows of another file, which tell their own job and revision.
    """
    number = str(1 + max((int(row[-1]) for row in kept if row[-1].isdecimal()), default=0))
    last = next((of_cell(row[1]) for row in reversed(kept) if row[0] == REVISION), None)
    if last != revision and (revision or last is not None):
        yield (REVISION, as_cell(revision), "", "1", "", number)
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


def _rows(o: DoneOptions, blanks: Counter[str], by_bars: Counter[str]) -> Iterator[Row]:
    """The rows that the options ask for, in the order of the columns.

    Pieces of marks with `blanks` are some of these, and spoiled ones are among those that were counted `by_bars`.
    """
    for given in o.good or ():
        mark, count = _counted(given, "--good", "rest.count-form")
        yield from _of_blanks(mark, count, blanks)
        yield (PIECE, as_cell(mark), "", count, "")
    for given in o.spoiled or ():
        mark, count = _counted(given, "--spoiled", "rest.spoiled-form")
        count, _at, length = (part.strip() for part in count.partition("@"))
        yield from _of_blanks(mark, count, blanks) if blanks[mark] else _no_more_good(mark, count, by_bars)
        yield (SPOILED, as_cell(mark), length, count, "")
    for what, name, bars in ((USED, "--used", o.used), (LEFT, "--left", o.left)):
        for given in bars or ():
            section, length = _parts(given, name, "rest.bar-form")
            length, _equals, count = length.partition("=")
            yield (what, as_cell(section), length.strip(), count.strip() or "1", "")


def _no_more_good(mark: str, count: str, by_bars: Counter[str]) -> Iterator[Row]:
    """So many that were counted as good with their bars, as far as there are any."""
    off = min(int(count) if count.isdecimal() else 0, by_bars[mark])
    if off > 0:
        by_bars[mark] -= off
        yield (OFF, as_cell(mark), "", str(off), "")


def _of_blanks(mark: str, count: str, blanks: Counter[str]) -> Iterator[Row]:
    """So many of a mark are blanks no more, as far as there are any."""
    made = min(int(count) if count.isdecimal() else 0, blanks[mark])
    if made:
        blanks[mark] -= made
        yield (SECOND, as_cell(mark), "", str(made), "")


def _rows_of(bar: BarDone, called: str, there: WorkDone) -> Iterator[Row]:
    """A bar that is cut, as the rows that it comes to.

    One that came off a piece that is recut is no bar gone, and of one off the rack the rack keeps count.
    """
    yield (BAR, called, "", "1", "")
    yield from ((PIECE, as_cell(mark), "", str(count), "") for mark, count in bar.pieces.items())
    for (mark, end, length), count in bar.later.items():
        yield (LATER[end], as_cell(mark), f"{length:.10g} mm", str(count), "")
    section, grade = as_cell(bar.section), as_cell(bar.grade)
    if not bar.off_rack and (bar.of_stock or there.has_left(bar.section, bar.length)):
        yield (USED, section, f"{bar.length:.10g} mm", str(bar.bars), grade)
    left = int(bar.left * 10) / 10
    if left:
        yield (LEFT, section, f"{left:g} mm", str(bar.bars), grade)


def _rows_recut(one: RecutDone, called: str, revision: str) -> Iterator[Row]:
    """Pieces that became others, or blanks: they are not there any more as what they were."""
    if not one.count:
        yield (BAR, called, "", "1", "")
        return
    if one.revision != revision:
        yield (REVISION, as_cell(one.revision), "", "1", "")
    what = SECOND if one.blank else RECUT
    yield (what, as_cell(one.mark), f"{one.left:.10g} mm" if one.left else "", str(one.count), "")
    if one.revision != revision:
        yield (REVISION, as_cell(revision), "", "1", "")
    yield (BAR, called, "", "1", "")
    yield (PIECE, as_cell(one.to), "", str(one.count), "")


def _counted_bar(bar: BarDone, of: CutPacket) -> Iterator[str]:
    later = {mark: count for (mark, _, _), count in bar.later.items()}
    ends = ",".join(one.name for one in of.recuts if one.second_end and one.mark in later)
    for code, marks in (("rest.bar-counted", bar.pieces), ("rest.bar-later", later)):
        if marks:
            told = ", ".join(f"{count} {mark}" for mark, count in marks.items())
            yield phrase(code, bar=bar.name, pieces=told, ends=ends)


def _close(job: Job, of: CutPacket | None, told: Collection[str]) -> Iterator[str]:
    """How the rack is told of all bars of the packet that are cut, where a booking of it is open."""
    if of is None or not told or job.rack is None or not job.rack.file.exists():
        return
    cut = [bar.name for bar in of.bars if of.called(bar) in told]
    cut += [one.name for one in of.recuts if of.called(one) in told]
    with RackBook.opened(job.rack.file, new=False) as book:
        bookings = [one for one in book.bookings() if (one.job, one.plan) == (of.whose.job, of.booked)]
    for one in bookings:
        own = [name for name in cut if any(bar.is_among([name]) for bar in one.bars)]
        if own:
            yield phrase("rest.close-booking", command=free_command(one, job.rack.file, ",".join(own)))


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
