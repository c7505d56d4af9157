"""A job made, its packet read, and walked by every way it is told: all that is wrong with it."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.virtual_saw import further, judge, packets, plan_reader, random_jobs, sheet_judge, space_jobs
from tests.virtual_saw.ends import by_record, by_settings
from tests.virtual_saw.gallery_drawing import drawing
from tests.virtual_saw.judge import Drawing
from tests.virtual_saw.machine import Machine, plain, read
from tests.virtual_saw.random_jobs import Drawn
from tests.virtual_saw.recuts import Recut
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.totals import wrong_feeds, wrong_totals
from tests.virtual_saw.walk import Bar


@dataclass(frozen=True)
class Work:
    """What lies before the operator of a job: the saw, the drawing, the plan, and its bars as instructions."""

    saw: Machine
    drawing: Drawing
    plan: Any
    bars: list[Bar]
    units: str
    pdf: Callable[[], bytes]

    @property
    def recuts(self) -> list[Recut]:
        return plan_reader.recuts(self.plan)

    @property
    def ways(self) -> list[str]:
        return list(plan_reader.ways(self.bars))


def by_lot(seed: int, folder: Path, way: str = "bar by bar") -> Work:
    """The job of a seed, cut in a way."""
    return _by_lot(random_jobs.job(seed), folder, way)


def in_space(seed: int, folder: Path, way: str = "bar by bar") -> Work:
    """The job of a seed that is of frames in space, cut in a way."""
    return _by_lot(space_jobs.job(seed), folder, way)


def _by_lot(drawn: Drawn, folder: Path, way: str) -> Work:
    drawn.text = _cut_so(drawn.text, way)
    solved = packets.solution(folder, drawn.text, drawn.saw)
    assert solved.problems == (), solved.problems
    plan = packets.plan(solved)
    if isinstance(drawn, space_jobs.InSpace):
        space_jobs.put_marks(drawn, {one["mark"]: one["order"] for one in plan["assemblies"]})
    drawing = Drawing(drawn.pieces, drawn.quantity, drawn.trim, drawn.stocks, drawn.blanks)
    file = tomllib.loads(drawn.text)
    return _work(read(folder / "saw.toml", file) if drawn.saw else plain(file), file, drawing, solved, plan)


def _cut_so(text: str, way: str) -> str:
    """A job file that names the way of working."""
    says = f'[nest]\nway = "{way}"\n'
    return text.replace("[nest]\n", says) if "[nest]\n" in text else f"{text}{says}"


def _work(saw: Machine, file: Any, drawing: Drawing, solved: Any, plan: Any) -> Work:
    units = file["job"].get("units", "mm")
    return Work(saw, drawing, plan, plan_reader.bars(plan), units, lambda: packets.sheet(solved))


def faults(work: Work) -> Iterator[str]:
    """Everything that does not come out as drawn, by every way in which the bars can be moved."""
    for way in work.ways:
        wrong, counted = judge.job(work.saw, work.drawing, work.bars, way, recuts=work.recuts)
        yield from wrong
        yield from wrong_totals(work.plan, counted)
    yield from wrong_feeds(work.saw, work.plan)
    yield from further_faults(work, counted)
    yield from by_record(work.saw, work.plan["pieces"], work.drawing.pieces)
    yield from by_settings(work.saw, work.plan["settings"], work.drawing.pieces)


def further_faults(work: Work, counted: judge.Counted) -> Iterator[str]:
    """What is wrong with the cuts on parted pieces."""
    rows = plan_reader.further(work.plan)
    wrong, swings = further.faults(work.saw, work.drawing, rows, counted.arm, judge.EXACT)
    yield from wrong
    if swings != work.plan["further_swings"]:
        yield f"{work.plan['further_swings']} further swings told, {swings} counted"


def passes(work: Work, bars: list[Bar], way: str) -> bool:
    """Whether other bars in the place of those told go through without a word."""
    wrong, counted = judge.job(work.saw, work.drawing, bars, way, recuts=work.recuts)
    return not wrong and not list(wrong_totals(work.plan, counted))


def of_gallery(job: Path) -> Work:
    """A worked job; without a saw file angles are degrees from square, and the bars go by tape."""
    solved = packets.solved(job)
    file, plan = tomllib.loads(job.read_text()), packets.plan(solved)
    saw = read(job.parent / file["job"]["saw"], file) if "saw" in file["job"] else plain(file)
    return _work(saw, file, drawing(job, packets.marks(solved)), solved, plan)


def sheet_faults(work: Work) -> list[str]:
    """Everything that is wrong on the cut sheet of a job."""
    _, counted = judge.job(work.saw, work.drawing, work.bars, work.ways[0], recuts=work.recuts)
    rows = plan_reader.further(work.plan)
    counted.swings += further.faults(work.saw, work.drawing, rows, counted.arm, judge.EXACT)[1]
    sheet = Sheet(work.pdf(), work.units)
    return list(sheet_judge.faults(sheet, work.saw, work.drawing, work.bars, work.recuts, counted))
