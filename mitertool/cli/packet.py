"""`mitertool packet`: a job to a folder for the floor; knows job and packet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mitertool.cli.options import AsJson, JobPath, answer


def packet(
    job: JobPath,
    out: Annotated[Path | None, typer.Option("--out", help="Folder to write; one written here is replaced.")] = None,
    anyway: Annotated[bool, typer.Option("--anyway", help="Write it even where some pieces cannot be made.")] = False,
    labels: Annotated[str, typer.Option(help="Label sheet: a4-24, a4-14, letter-30 or letter-20.")] = "",
    codes: Annotated[bool, typer.Option("--codes", help="Put a square code with job and mark on the labels.")] = False,
    show: Annotated[bool, typer.Option("--preview", help="Show the pieces here; needs no --out.")] = False,
    as_json: AsJson = False,
) -> None:
    """Write the cut sheet, labels, the table of pieces, the plan of bars and a DXF sketch for every mark."""
    from mitertool.base.errors import BadInput
    from mitertool.cli.progress import progress
    from mitertool.job import load, solve
    from mitertool.packet.cautions import SHORT, for_job
    from mitertool.packet.packet import Options, write_packet
    from mitertool.packet.preview import preview

    if out is None and not show:
        raise BadInput("--out", "nothing", "name a folder, or look first with --preview")
    with progress(quiet=as_json) as tell:
        tell(0.0, "reading and solving")
        solution = solve(load(job), progress=lambda cost, bound: tell(0.1, f"bars: best {cost:g}, bound {bound:g}"))
        names = write_packet(solution, out, anyway, Options(labels, codes), tell) if out else ()
    shown = preview(solution) if show else []
    written = [str(out / name) for name in names] if out else []
    record = {"out": str(out or ""), "files": list(names), "problems": list(solution.problems)}
    problems = [f"cannot be made: {problem}" for problem in solution.problems]
    answer(record, [*shown, *written, *problems], as_json, for_job(solution) or SHORT)
    if solution.problems and not out:
        raise typer.Exit(1)
