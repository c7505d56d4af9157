"""The only place that calls the package: a job's packet as files, and where a job is of frames its drawing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from mitertool.drawing import pdf
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.records import of_plan_file, of_solution


def solution(folder: Path, job: str, saw: str) -> Solution:
    """A job written down and solved."""
    if saw:
        (folder / "saw.toml").write_text(saw)
    (folder / "job.toml").write_text(job)
    return solve(load(folder / "job.toml"))


def solved(job: Path) -> Solution:
    """A job that stands in its folder."""
    return solve(load(job))


def marks(of: Solution) -> list[Any]:
    """The marks with their ends and edges, as the job's check tells them: what the frames of a job come to."""
    return list(json.loads(json.dumps(of_solution(of)["pieces"])))


def plan(solved: Solution) -> Any:
    """What plan.json says, read from its text."""
    return json.loads(json.dumps(of_plan_file(solved)))


def sheet(solved: Solution) -> bytes:
    """The cut sheet as a PDF."""
    return pdf.write(cut_sheet(solved), "Cut sheet")
