"""Jobs by lot cut by setting and mixed: blanks off the bars, then each laid, stopped and cut at its other end.

They are cut by what plan.json tells and by the lettering of the cut sheet alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.virtual_saw import judge, sheet_judge, work
from tests.virtual_saw.recuts import Recut
from tests.virtual_saw.sheet_reader import Sheet

JOBS = 40
AT_ONCE = 5
MIXED = 4
"""Of so many jobs one is cut mixed, the others by setting."""

JobOf = Callable[[int], work.Work]


@pytest.fixture(scope="module")
def job_of(tmp_path_factory: pytest.TempPathFactory) -> JobOf:
    @cache
    def made(seed: int) -> work.Work:
        way = "mixed" if seed % MIXED == 1 else "by setting"
        return work.by_lot(seed, tmp_path_factory.mktemp("lot"), way)

    return made


@pytest.mark.parametrize("first", range(0, JOBS, AT_ONCE))
def test_what_is_recut_is_what_is_drawn(first: int, job_of: JobOf) -> None:
    jobs = {seed: job_of(seed) for seed in range(first, first + AT_ONCE)}
    wrong = {seed: [*work.faults(job), *work.sheet_faults(job)] for seed, job in jobs.items()}
    assert {seed: faults for seed, faults in wrong.items() if faults} == {}
    assert sum(bool(job.recuts) for job in jobs.values()) >= AT_ONCE // 2


def with_stops(job_of: JobOf) -> Iterator[work.Work]:
    """Jobs whose second ends all have a stop."""
    for seed in range(JOBS):
        if (job := job_of(seed)).recuts and all(recut.step.stop for recut in job.recuts):
            yield job


def test_the_stop_of_a_second_end_is_told_on_the_side_of_the_vise(job_of: JobOf) -> None:
    job = next(with_stops(job_of))
    assert {row["stop"]["side"] for row in job.plan["recuts"]} == {"feed"}


def moved(recut: Recut, by: float) -> Recut:
    assert recut.step.stop
    stop = replace(recut.step.stop, distance=recut.step.stop.distance + by)
    return replace(recut, step=replace(recut.step, stop=stop))


@pytest.mark.parametrize("jaw_left", [True, False])
def test_a_stop_that_stands_wrong_is_seen(jaw_left: bool, job_of: JobOf) -> None:
    """A millimetre further from the blade, and the piece is a millimetre longer."""
    job = next(job for job in with_stops(job_of) if job.saw.jaw_left is jaw_left)
    wrong, _ = judge.job(job.saw, job.drawing, job.bars, "stop", recuts=[moved(one, 1.0) for one in job.recuts])
    assert any("wrong of its recut" in fault for fault in wrong)


def test_a_blank_that_is_never_recut_is_seen(job_of: JobOf) -> None:
    job = next(with_stops(job_of))
    wrong, _ = judge.job(job.saw, job.drawing, job.bars, "tape", recuts=job.recuts[1:])
    assert any("get no other end" in fault for fault in wrong)


def test_no_wrong_second_end_on_a_sheet_passes(job_of: JobOf) -> None:
    """Each figure of a row told wrong by one step, or the row of another end, count or place in the order of work."""
    job = next(with_stops(job_of))
    sheet = Sheet(job.pdf(), job.units)
    step = sheet_judge.step_of(sheet)
    assert list(sheet_judge.recuts_told(sheet.recuts, job.recuts, sheet.units)) == []
    for at, one in enumerate(sheet.recuts):
        turned = replace(one.step, reading=one.step.reading + job.saw.division)
        for wrong in (
            *(moved(one, by) for by in (step, -step)),
            *(replace(one, blank=one.blank + step), replace(one, step=turned), replace(one, count=one.count + 1)),
            replace(one, end="left" if one.end == "right" else "right"),
            replace(one, step=replace(one.step, roll=one.step.roll + 180.0)),
            replace(one, after=one.after + 1),
        ):
            told = [*sheet.recuts[:at], wrong, *sheet.recuts[at + 1 :]]
            assert list(sheet_judge.recuts_told(told, job.recuts, sheet.units)), wrong


SOME_BLANKS = """
format = 1

[job]
name = "Sides"

[nest]
kerf = 2
trim = 10
grip = 50

[[stock]]
section = "SHS 40x40x3"
length = 1052

[[piece]]
mark = "A"
section = "SHS 40x40x3"
length = 340
left = 45
right = 45
quantity = 9
"""


def test_some_pieces_of_a_mark_are_blanks_beside_the_others(tmp_path: Path) -> None:
    """A bar has room for two sides of 340 and a blank of a third, and for no two blanks."""
    (tmp_path / "job.toml").write_text(SOME_BLANKS)
    job = work.of_gallery(tmp_path / "job.toml")
    assert [(recut.mark, recut.count) for recut in job.recuts] == [("A", 3)]
    assert [*work.faults(job), *work.sheet_faults(job)] == []
