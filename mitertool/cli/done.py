"""`mitertool done`: what is cut, counted in a file that packet and nest read; knows job."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from mitertool.base.cells import as_cell, table
from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.cli.commands import command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import Printed, answer
from mitertool.job import Job
from mitertool.job.done import COLUMNS, JOB, LEFT, PIECE, REVISION, SPOILED, USED, read_work, rows_of_done
from mitertool.packet.records.earlier import earlier
from mitertool.quantity.tables import read_whole
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
    of: Annotated[Path | None, typer.Option("--of", metavar="PACKET", help="option.done.of")] = None


@command(
    DoneOptions,
    "done job.toml --good STAY=2 --spoiled STRAP=1",
    "done job.toml --good STAY=1 --spoiled STRAP=1@900 --used 'RHS 80x40x3=6000'",
)
def done(o: DoneOptions) -> None:
    """What `mitertool done` does."""
    job = o.read()
    old = earlier(o.of, job) if o.of else None
    revision = old.revision if old else job.head.revision
    rows = list(_rows(o))
    if not rows:
        raise BadInput("done", "nothing", phrase("rest.nothing-told"))
    content = table([COLUMNS, *(_before(o.file) if o.file.exists() else _heading(job, revision)), *rows])
    work = read_work(o.file, job, old.asked if old else None, revision, content)
    write_whole(o.file, content)
    good = dict(work.done.good)
    shown = ", ".join(f"{count} {mark}" for mark, count in good.items()) or "0"
    told = phrase("rest.written", file=o.file, good=shown)
    answer({"file": str(o.file), "good": good}, [told], o)


def _before(file: Path) -> Iterator[tuple[str, ...]]:
    """What stands in the file, in all columns: it may have been typed with fewer."""
    for _, row in rows_of_done(file, read_whole(file)):
        yield tuple(row.get(column, "") for column in COLUMNS)


def _heading(job: Job, revision: str) -> Iterator[tuple[str, ...]]:
    yield (JOB, as_cell(job.head.name), "", "1", "")
    yield (REVISION, as_cell(revision), "", "1", "")


def _rows(o: DoneOptions) -> Iterator[tuple[str, ...]]:
    """The rows that the options ask for, in the order of the columns."""
    for given in o.good or ():
        mark, count = _counted(given, "--good", "rest.count-form")
        yield (PIECE, as_cell(mark), "", count, "")
    for given in o.spoiled or ():
        mark, count = _counted(given, "--spoiled", "rest.spoiled-form")
        count, _at, length = count.partition("@")
        yield (SPOILED, as_cell(mark), length.strip(), count.strip(), "")
    for what, name, bars in ((USED, "--used", o.used), (LEFT, "--left", o.left)):
        for given in bars or ():
            section, length = _parts(given, name, "rest.bar-form")
            length, _equals, count = length.partition("=")
            yield (what, as_cell(section), length.strip(), count.strip() or "1", "")


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
