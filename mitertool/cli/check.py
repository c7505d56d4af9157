"""`mitertool check`: a job solved and proved, nothing written; knows job and packet's records."""

from __future__ import annotations

from functools import partial
from typing import Final

import typer

from mitertool.cli.commands import command, options
from mitertool.cli.job_file import JobRead
from mitertool.cli.options import InUnitsAsRead, answer
from mitertool.cli.parts_list import OfList, in_a_job, list_lines
from mitertool.cli.solved import problem_lines, solved_lines
from mitertool.job import Job, Solution, load_list, solve
from mitertool.lists.cells import is_list
from mitertool.packet import records
from mitertool.packet.cautions import for_job
from mitertool.packet.pages.fitter.notes import frame_notes
from mitertool.packet.words import instead
from mitertool.quantity import Units
from mitertool.words import phrase

_LITTLE: Final = 0.05
"""Effort of the search for bars: check wants to know whether there are bars enough, not the best plan."""


def search_effort(job: Job) -> float:
    """None where no row of stock is counted: then whether there are bars enough is told by the longest bar alone."""
    return _LITTLE if any(bar.quantity is not None for bar in job.stock) else 0.0


@options
class CheckOptions(OfList, JobRead, InUnitsAsRead):
    """A job, or a list of parts by itself."""

    def work(self) -> Job:
        """The job of the file, or of the list."""
        if not is_list(self.job):
            return self.read()
        return self.with_saw(partial(load_list, self.job, self.said, self.unit_or("mm")))


@command(
    CheckOptions,
    "check job.toml",
    "check job.toml --units in --json",
    "check parts.csv --angles 'from bar' --at overall",
)
def check(o: CheckOptions) -> None:
    """What `mitertool check` does."""
    job = o.work()
    solution = solve(job, effort=search_effort(job))
    unit = o.unit_or(solution.job.head.units)
    shown = [*_lines(solution, unit), *(in_a_job(solution.job, o.said) if is_list(o.job) else ())]
    answer(lambda: records.of_solution(solution), shown, o, for_job(solution))
    if solution.problems:
        raise typer.Exit(1)


def _lines(solution: Solution, unit: Units) -> list[str]:
    past = [instead(one, unit) for one in solution.past]
    of_sections = (note.in_units(unit) for note in solution.job.sections.notes)
    notes = [
        phrase("screen.frame", mark=o.assembly.mark, note=note)
        for o in solution.frames
        for note in frame_notes(o, unit)
    ]
    return [
        *list_lines(solution.job, unit),
        *solved_lines(solution, unit),
        *([phrase("plan.raw-ends")] if solution.raw_ends else []),
        *of_sections,
        *notes,
        *past,
        *(one.in_units(unit) for one in solution.steep.values()),
        *problem_lines(solution),
    ]
