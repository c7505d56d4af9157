"""A job made, its packet read, and walked by every way it is told: all that is wrong with it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.virtual_saw import judge, packets, plan_reader, random_jobs
from tests.virtual_saw.gallery_drawing import drawing
from tests.virtual_saw.judge import Drawing
from tests.virtual_saw.machine import Machine, plain, read
from tests.virtual_saw.totals import wrong_totals
from tests.virtual_saw.walk import Bar


@dataclass(frozen=True)
class Work:
    """What lies before the operator of a job: the saw, the drawing, the plan, and its bars as instructions."""

    saw: Machine
    drawing: Drawing
    plan: Any
    bars: list[Bar]

    @property
    def ways(self) -> list[str]:
        return list(plan_reader.ways(self.bars))


def by_lot(seed: int, folder: Path) -> Work:
    """The job of a seed."""
    drawn = random_jobs.job(seed)
    solved = packets.solution(folder, drawn.text, drawn.saw)
    assert solved.problems == (), (seed, solved.problems)
    plan = packets.plan(solved)
    drawing = Drawing(drawn.pieces, drawn.quantity, drawn.trim, drawn.stocks)
    return Work(read(folder / "saw.toml", tomllib.loads(drawn.text)), drawing, plan, plan_reader.bars(plan))


def faults(work: Work) -> Iterator[str]:
    """Everything that does not come out as drawn, by every way in which the bars can be moved."""
    for way in work.ways:
        wrong, counted = judge.job(work.saw, work.drawing, work.bars, way)
        yield from wrong
        yield from wrong_totals(work.plan, counted)


def passes(work: Work, bars: list[Bar], way: str) -> bool:
    """Whether other bars in the place of those told go through without a word."""
    wrong, counted = judge.job(work.saw, work.drawing, bars, way)
    return not wrong and not list(wrong_totals(work.plan, counted))


def of_gallery(job: Path) -> Work:
    """A worked job; without a saw file angles are degrees from square, and the bars go by tape."""
    solved = packets.solved(job)
    file, plan = tomllib.loads(job.read_text()), packets.plan(solved)
    saw = read(job.parent / file["job"]["saw"], file) if "saw" in file["job"] else plain(file)
    return Work(saw, drawing(job, packets.marks(solved)), plan, plan_reader.bars(plan))
