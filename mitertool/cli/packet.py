"""`mitertool packet`: a job to a folder for the floor; knows job and packet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mitertool.cli.options import AsJson, JobPath, answer


def packet(
    job: JobPath,
    out: Annotated[Path, typer.Option("--out", help="Folder to write; only one written here is replaced.")],
    anyway: Annotated[bool, typer.Option("--anyway", help="Write it even where some pieces cannot be made.")] = False,
    labels: Annotated[str, typer.Option(help="Label sheet: a4-24, a4-14, letter-30 or letter-20.")] = "",
    codes: Annotated[bool, typer.Option("--codes", help="Put a square code with job and mark on the labels.")] = False,
    as_json: AsJson = False,
) -> None:
    """Write the cut sheet, labels, the table of pieces, the plan of bars and a DXF sketch for every mark."""
    from mitertool.job import load, solve
    from mitertool.packet.packet import Options, write_packet

    solution = solve(load(job))
    names = write_packet(solution, out, anyway, Options(labels, codes))
    record = {"out": str(out), "files": list(names), "problems": list(solution.problems)}
    problems = [f"cannot be made: {problem}" for problem in solution.problems]
    answer(record, [*(str(out / name) for name in names), *problems], as_json)
