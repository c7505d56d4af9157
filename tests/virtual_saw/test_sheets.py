"""The cut sheet read as a person reads it, from the lettering of its PDF, and cut by on the virtual saw."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.virtual_saw import further, judge, mutations, random_jobs, sheet_judge, work
from tests.virtual_saw.judge import Counted
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.test_gallery import GALLERY, JOBS

POINTED = 2
"""Jobs tried with more than one plane at an end, on scales that read up both ways."""

PER_JOB = 15
"""Changes tried of a sheet, by lot out of all."""


@pytest.mark.parametrize("name", JOBS)
def test_the_sheets_of_the_gallery(name: str) -> None:
    assert work.sheet_faults(work.of_gallery(GALLERY / name / "job.toml")) == []


@pytest.mark.parametrize("number", range(POINTED))
def test_sheets_of_further_cuts_on_a_scale_that_reads_up_both_ways(number: int, tmp_path: Path) -> None:
    assert work.sheet_faults(work.by_lot(random_jobs.pointed(number, "two_sided"), tmp_path)) == []


@pytest.fixture(scope="module", params=["boathouse-gate", "hatch-frame"])
def told(request: pytest.FixtureRequest) -> tuple[work.Work, Sheet, Counted]:
    job = work.of_gallery(GALLERY / request.param / "job.toml")
    return job, Sheet(job.pdf(), job.units), judge.job(job.saw, job.drawing, job.bars, "tape")[1]


def test_no_wrong_step_on_a_sheet_passes(told: tuple[work.Work, Sheet, Counted]) -> None:
    """Lengths by one step of what is printed; readings, rolls, tilts, sides, marks and counts as for plan.json."""
    job, sheet, _ = told
    every = list(mutations.of_bars(job.saw, sheet.bars, sheet_judge.step_of(sheet)))
    tried = Random(0).sample(every, PER_JOB)
    assert [
        what for what, _, bars in tried if not list(sheet_judge.bars_told(sheet, bars, job.saw, job.drawing, job.bars))
    ] == []


@pytest.mark.parametrize("number", range(POINTED))
def test_no_wrong_further_cut_passes(number: int, tmp_path: Path) -> None:
    job = work.by_lot(random_jobs.pointed(number, "two_sided"), tmp_path)
    sheet = Sheet(job.pdf(), job.units)
    assert sheet.further
    arm = judge.job(job.saw, job.drawing, job.bars, "tape")[1].arm
    near = sheet_judge.step_of(sheet) + sheet_judge.ANGLES
    assert further.faults(job.saw, job.drawing, sheet.further, arm, near)[0] == []
    for i, row in enumerate(sheet.further):
        coarse = 20 * job.saw.division
        for wrong in (replace(row, reading=row.reading + coarse), replace(row, pieces=row.pieces + 1)):
            told = [*sheet.further[:i], wrong, *sheet.further[i + 1 :]]
            assert further.faults(job.saw, job.drawing, told, arm, near)[0], (row.mark, wrong)


def test_no_wrong_reading_on_page_one_passes(told: tuple[work.Work, Sheet, Counted]) -> None:
    job, sheet, _ = told
    right = dict(sheet.marks)
    assert list(sheet_judge.readings(sheet, job.saw)) == []
    for mark, one in right.items():
        for line in one.readings:
            for wrong in (replace(line, line=line.line + job.saw.division), replace(line, tenths=line.tenths + 0.1)):
                changed = {**right, mark: replace(one, readings=one.readings - {line} | {wrong})}
                vars(sheet)["marks"] = changed
                assert list(sheet_judge.readings(sheet, job.saw)), (mark, wrong)
    vars(sheet)["marks"] = right


def test_a_count_or_a_length_told_wrong_is_seen(told: tuple[work.Work, Sheet, Counted]) -> None:
    job, sheet, _ = told
    right = dict(sheet.marks)
    for mark, one in right.items():
        for wrong in (replace(one, count=one.count + 1), replace(one, long=one.long + sheet_judge.step_of(sheet))):
            vars(sheet)["marks"] = {**right, mark: wrong}
            assert list(sheet_judge.marks(sheet, job.drawing)), (mark, wrong)
    vars(sheet)["marks"] = right


def test_a_total_told_wrong_is_seen(told: tuple[work.Work, Sheet, Counted]) -> None:
    _, sheet, counted = told
    assert list(sheet_judge.totals(sheet, counted)) == []
    for name in ("bars", "cuts", "swings", "tilts", "rolls"):
        wrong = replace(counted, **{name: getattr(counted, name) + 1})
        assert [says.split()[5].rstrip(",") for says in sheet_judge.totals(sheet, wrong)] == [name]
