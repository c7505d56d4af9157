"""`mitertool check`: a job solved and proved, nothing written; knows job and packet's records."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from mitertool.cli.options import AsJson, JobPath, UnitsOption, aligned, answer, units_of

if TYPE_CHECKING:
    from mitertool.job import Solution, SolvedPiece
    from mitertool.quantity import Units


_LITTLE = 0.05
"""Effort of the search for bars: check wants to know whether there are bars enough, not the best plan."""


def check(job: JobPath, as_json: AsJson = False, units: UnitsOption = "") -> None:
    """Solve a job and print its pieces, their settings, how its frames close, and what cannot be made."""
    from mitertool.job import load, solve
    from mitertool.packet.cautions import for_job
    from mitertool.packet.records import of_solution

    solution = solve(load(job), effort=_LITTLE)
    unit = units_of(units) if units else solution.job.head.units
    answer(of_solution(solution), _lines(solution, unit), as_json, for_job(solution))
    if solution.problems:
        raise typer.Exit(1)


def _lines(solution: Solution, unit: Units) -> list[str]:
    from mitertool.packet.sheet.frame_block import frame_notes
    from mitertool.packet.words import instead

    past = [instead(one, unit) for one in solution.past]
    notes = [f"frame {o.assembly.mark}: {note}" for o in solution.frames for note in frame_notes(o, unit)]
    return [
        *solved_lines(solution, unit),
        *notes,
        *past,
        *(f"cannot be made: {problem}" for problem in solution.problems),
    ]


def solved_lines(solution: Solution, unit: Units) -> list[str]:
    """The pieces of a solved job as a table."""
    head = ("mark", "pieces", "section", "long point", "short point", "left", "right", "long points")
    return aligned([head, *(_row(piece, unit) for piece in solution.pieces)])


def _row(solved: SolvedPiece, unit: Units) -> tuple[str, ...]:
    from mitertool.packet.words import every_reading, long_points
    from mitertool.quantity import show_length

    piece = solved.piece
    return (
        *(solved.mark, str(solved.quantity), piece.section.name),
        *(show_length(piece.long_point, unit), show_length(piece.short_point, unit)),
        *(" + ".join(every_reading(*cut) for cut in solved.cuts_of(end)) for end in ("left", "right")),
        long_points(piece),
    )
