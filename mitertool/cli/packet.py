"""`mitertool packet`: a job to a folder for the floor; knows job and packet."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from mitertool.base.errors import BadInput
from mitertool.base.speech import encoding_of_output
from mitertool.cli.bar_cost import BarCost
from mitertool.cli.booked import booked_with
from mitertool.cli.commands import choice, command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import Printed, answer
from mitertool.cli.progress import Tell, progress
from mitertool.job import solve
from mitertool.packet.cautions import SHORT, for_job
from mitertool.packet.packet import Options, write_packet
from mitertool.packet.pages.labels import SHEETS
from mitertool.packet.pages.preview import preview
from mitertool.words import phrase


@options
class PacketOptions(JobRead, Printed):
    """A job, and what of it is written where."""

    out: Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="option.packet.out")] = None
    anyway: Annotated[bool, typer.Option("--anyway", help="option.packet.anyway")] = False
    labels: Annotated[str, choice("option.packet.labels", tuple(SHEETS))] = ""
    codes: Annotated[bool, typer.Option("--codes", help="option.packet.codes")] = False
    book: Annotated[bool, typer.Option("--book", help="option.packet.book")] = False
    show: Annotated[bool, typer.Option("--preview", help="option.packet.show")] = False


@command(
    PacketOptions,
    "packet job.toml --preview",
    "packet job.toml --out packet --labels a4-24 --codes",
    "packet job.toml --out packet --anyway",
)
def packet(o: PacketOptions) -> None:
    """What `mitertool packet` does."""
    out = o.out
    if out is None and not o.show:
        raise BadInput("--out", phrase("found.nothing"), phrase("refuse.no-out"))
    with progress(quiet=o.as_json) as tell:
        tell(0.0, phrase("progress.reading"))
        doing = {code: phrase(code) for code in ("progress.sheet", "progress.sketches")}
        work = o.read()
        cost = BarCost.of(work, work.head.units)
        solution = solve(work, progress=lambda *so_far: tell(0.1, phrase("progress.bars", found=cost.so_far(*so_far))))
        booking = booked_with(solution) if o.book else None
        options = Options(o.labels, o.codes)
        names = write_packet(solution, out, o.anyway, options, partial(_told, tell, doing), booking) if out else ()
    shown = preview(solution, encoding_of_output()) if o.show else []
    written = [str(out / name) for name in names] if out else []
    record = {"out": str(out or ""), "files": list(names), "problems": list(solution.problems)}
    problems = [phrase("screen.cannot", why=problem) for problem in solution.problems]
    answer(record, [*shown, *written, *problems], o, for_job(solution) or SHORT)
    if solution.problems and not out:
        raise typer.Exit(1)


def _told(tell: Tell, words: Mapping[str, str], share: float, code: str) -> None:
    """What is being done, in the language of the screen, whatever that of the paper is."""
    tell(share, words[code])
