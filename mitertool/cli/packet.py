"""`mitertool packet`: a job to a folder for the floor; knows job and packet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Annotated, Final

import typer

from mitertool.base.speech import encoding_of_output
from mitertool.cli.booked import Booked, begun_and_cut, refuse_cut_short, refuse_cut_up, still_booked
from mitertool.cli.commands import choice, command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import Printed, answer
from mitertool.cli.progress import Tell, progress
from mitertool.cli.solved import problem_lines
from mitertool.job import Job, Solution, solve
from mitertool.job.done import WorkDone, read_work
from mitertool.job.rest import rest_of
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.cautions import for_job, short
from mitertool.packet.packet import Options, folder_of, write_packet
from mitertool.packet.pages.labels import SHEETS
from mitertool.packet.pages.preview import preview
from mitertool.packet.pages.rest_said import lines
from mitertool.packet.records.earlier import earlier
from mitertool.rack import NumbersTaken
from mitertool.words import phrase


@options
class PacketOptions(JobRead, Printed):
    """A job, and what of it is written where."""

    out: Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="option.packet.out")] = None
    done: Annotated[Path | None, typer.Option("--done", help="option.packet.done")] = None
    after: Annotated[list[Path] | None, typer.Option("--after", metavar="PACKET", help="option.packet.after")] = None
    recut: Annotated[bool, typer.Option("--recut", help="option.packet.recut")] = False
    anyway: Annotated[bool, typer.Option("--anyway", help="option.packet.anyway")] = False
    labels: Annotated[str, choice("option.packet.labels", tuple(SHEETS))] = ""
    codes: Annotated[bool, typer.Option("--codes", help="option.packet.codes")] = False
    book: Annotated[bool, typer.Option("--book", help="option.packet.book")] = False
    detail: Annotated[bool, typer.Option("--detail", help="option.packet.detail")] = False
    show: Annotated[bool, typer.Option("--preview", help="option.packet.show")] = False


@command(
    PacketOptions,
    "packet job.toml --preview",
    "packet job.toml --out packet --labels a4-24 --codes",
    "packet job.toml --out packet --anyway",
    "packet job.toml --done done.csv",
    "packet job.toml --after packet --done done.csv --recut",
)
def packet(o: PacketOptions) -> None:
    """What `mitertool packet` does."""
    with progress(quiet=o.as_json) as tell:
        tell(0.0, phrase("progress.reading"))
        doing = {code: phrase(code) for code in ("progress.sheet", "progress.sketches")}
        work = _remaining(o.read(), o)
        cost = BarCost.of(work, work.head.units)

        def so_far(best: float, bound: float, share: float) -> None:
            tell(0.1 + 0.2 * share, phrase("progress.bars", found=cost.so_far(best, bound)))

        solution = solve(work, progress=so_far)
        if o.book:
            refuse_cut_short(solution)
        out = _folder(o, solution)
        refuse_cut_up(solution, out)
        booked = Booked(solution)
        names = _written(booked, out, o, partial(_told, tell, doing)) if out else ()
        solution = booked.solution
    shown = preview(solution, encoding_of_output()) if o.show else []
    told = [*(lines(work.rest, work.head.units) if work.rest else ()), *still_booked(work), *begun_and_cut(work)]
    written = [str(out / name) for name in names] if out else []
    record = {
        "out": str(out or ""),
        "files": list(names),
        "problems": list(solution.problems),
        "rest": told,
        "booked": booked.record,
    }
    nothing = [] if work.pieces or solution.again else [phrase("rest.nothing-left")]
    lines_ = [*told, *shown, *written, *booked.lines(), *problem_lines(solution), *nothing]
    answer(record, lines_, o, for_job(solution) or short())
    if solution.problems and not out:
        raise typer.Exit(1)


_TRIES: Final = 5
"""How often a packet is made anew because another run gave the numbers of its left-overs away: no tolerance."""


def _written(booked: Booked, out: Path, o: PacketOptions, tell: Callable[[float, str], None]) -> tuple[str, ...]:
    """Write the packet, and book with it where that is asked for; the names of its files."""
    options = Options(o.labels, o.codes, o.detail)
    if not o.book:
        return write_packet(booked.solution, out, o.anyway, options, tell)

    def once() -> tuple[str, ...]:
        booked.number()
        return write_packet(booked.solution, out, o.anyway, options, tell, booked.block())

    for _ in range(_TRIES - 1):
        with suppress(NumbersTaken):
            return once()
    return once()


def _told(tell: Tell, words: Mapping[str, str], share: float, code: str) -> None:
    """What is being done, in the language of the screen, whatever that of the paper is."""
    tell(share, words[code])


def _remaining(job: Job, o: PacketOptions) -> Job:
    """The job, or what remains of it when some is cut, of it or of the revision before."""
    if o.done is None and not o.after:
        return job
    before = [earlier(folder, job, "--after") for folder in o.after or ()]
    work = read_work(o.done, job, before) if o.done else WorkDone()
    return rest_of(job, work, before, o.recut)


def _folder(o: PacketOptions, solution: Solution) -> Path | None:
    """Where the packet goes; None where none is asked for, or nothing is left to cut."""
    if not (solution.job.pieces or solution.again) or (o.out is None and o.show):
        return None
    return o.out or Path(folder_of(solution))
