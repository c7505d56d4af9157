"""A sheet that is wrong by one step in one place does not pass the virtual saw."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.often import times
from tests.virtual_saw import further, judge, mutations, plan_reader, random_jobs, work

POINTED = 4
"""Jobs tried with more than one plane at an end."""

PER_JOB = 45
"""Changes tried of a job, by lot out of all."""


@pytest.mark.parametrize("seed", range(times(6)))
def test_no_wrong_step_passes(seed: int, tmp_path: Path) -> None:
    told = work.by_lot(seed, tmp_path)
    every = list(mutations.of_bars(told.saw, told.bars))
    tried = Random(seed).sample(every, min(PER_JOB, len(every)))
    assert len(tried) > 10
    assert [what for what, way, bars in tried if work.passes(told, bars, way)] == []


@pytest.mark.parametrize("number", range(POINTED))
def test_no_wrong_cut_on_a_parted_piece_passes(number: int, tmp_path: Path) -> None:
    told = work.by_lot(random_jobs.pointed(number), tmp_path)
    rows = plan_reader.further(told.plan)
    assert rows
    for what, wrong in mutations.of_further(told.saw, rows):
        assert further.faults(told.saw, told.drawing, wrong, None, judge.EXACT)[0], what
