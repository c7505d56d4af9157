"""`mitertool packet`: a job to a folder for the floor; knows job and packet."""

from __future__ import annotations

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
from mitertool.cli.progress import progress
from mitertool.job import solve
from mitertool.packet.cautions import SHORT, for_job
from mitertool.packet.packet import Options, write_packet
from mitertool.packet.pages.labels import SHEETS
from mitertool.packet.pages.preview import preview


@options
class PacketOptions(JobRead, Printed):
    """A job, and what of it is written where."""

    out: Annotated[
        Path | None, typer.Option("--out", metavar="FOLDER", help="Folder to write; one written here is replaced.")
    ] = None
    anyway: Annotated[bool, typer.Option("--anyway", help="Write it even where some pieces cannot be made.")] = False
    labels: Annotated[str, choice("Label sheet.", tuple(SHEETS))] = ""
    codes: Annotated[bool, typer.Option("--codes", help="Put a square code with job and mark on the labels.")] = False
    book: Annotated[bool, typer.Option("--book", help="Book what it takes off the rack, and add what it leaves.")] = (
        False
    )
    show: Annotated[bool, typer.Option("--preview", help="Show the pieces here; needs no --out.")] = False


@command(
    PacketOptions,
    "packet job.toml --preview",
    "packet job.toml --out packet --labels a4-24 --codes",
    "packet job.toml --out packet --anyway",
)
def packet(o: PacketOptions) -> None:
    """Write the cut sheet, labels, the table of pieces, the plan of bars and a DXF sketch for every mark."""
    out = o.out
    if out is None and not o.show:
        raise BadInput("--out", "nothing", "name a folder, or look first with --preview")
    with progress(quiet=o.as_json) as tell:
        tell(0.0, "reading and solving")
        work = o.read()
        cost = BarCost.of(work, work.head.units)
        solution = solve(work, progress=lambda *so_far: tell(0.1, f"bars: {cost.so_far(*so_far)}"))
        booking = booked_with(solution) if o.book else None
        options = Options(o.labels, o.codes)
        names = write_packet(solution, out, o.anyway, options, tell, booking) if out else ()
    shown = preview(solution, encoding_of_output()) if o.show else []
    written = [str(out / name) for name in names] if out else []
    record = {"out": str(out or ""), "files": list(names), "problems": list(solution.problems)}
    problems = [f"cannot be made: {problem}" for problem in solution.problems]
    answer(record, [*shown, *written, *problems], o, for_job(solution) or SHORT)
    if solution.problems and not out:
        raise typer.Exit(1)
