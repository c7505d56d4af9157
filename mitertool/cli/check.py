"""`mitertool check`: a job solved and proved, nothing written; knows job and packet's records."""

from __future__ import annotations

from typing import Final

import typer

from mitertool.cli.commands import command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import InUnitsAsRead, answer
from mitertool.cli.solved import solved_lines
from mitertool.job import Solution, solve
from mitertool.packet.cautions import for_job
from mitertool.packet.pages.fitter.notes import frame_notes
from mitertool.packet.records import of_solution
from mitertool.packet.words import instead
from mitertool.quantity import Units

_LITTLE: Final = 0.05
"""Effort of the search for bars: check wants to know whether there are bars enough, not the best plan."""


@options
class CheckOptions(JobRead, InUnitsAsRead):
    """A job."""


@command(CheckOptions, "check job.toml", "check job.toml --units in --json")
def check(o: CheckOptions) -> None:
    """Solve a job and print its pieces, their settings, how its frames close, and what cannot be made."""
    solution = solve(o.read(), effort=_LITTLE)
    unit = o.unit_or(solution.job.head.units)
    answer(of_solution(solution), _lines(solution, unit), o, for_job(solution))
    if solution.problems:
        raise typer.Exit(1)


def _lines(solution: Solution, unit: Units) -> list[str]:
    past = [instead(one, unit) for one in solution.past]
    of_sections = (note.in_units(unit) for note in solution.job.sections.notes)
    notes = [f"frame {o.assembly.mark}: {note}" for o in solution.frames for note in frame_notes(o, unit)]
    return [
        *solved_lines(solution, unit),
        *of_sections,
        *notes,
        *past,
        *(f"cannot be made: {problem}" for problem in solution.problems),
    ]
