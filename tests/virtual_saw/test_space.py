"""Rails, hoppers, elbows, wyes and turned pieces by lot on the virtual saw, by plan.json and by the cut sheet alone.

`python -m tests.bench.virtual_saw 600 --space` walks as many as wanted.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.virtual_saw import mutations, space_jobs, work

WAYS = ("bar by bar", "by setting", "bar by bar", "mixed")
ROUNDS = 2
"""Jobs of each kind."""

PER_JOB = 20
"""Changes tried of a job, by lot out of all."""


@pytest.mark.parametrize("kind", range(len(space_jobs.KINDS)))
def test_what_falls_off_is_what_stands_in_space(kind: int, tmp_path: Path) -> None:
    for seed in (kind + times * len(space_jobs.KINDS) for times in range(ROUNDS)):
        job = work.in_space(seed, tmp_path, WAYS[seed % len(WAYS)])
        assert [*work.faults(job), *work.sheet_faults(job)] == [], seed


@pytest.mark.parametrize("seed", [0, 3])
def test_no_wrong_step_in_space_passes(seed: int, tmp_path: Path) -> None:
    """Of a rail in round and one in rectangular tube: readings, odd rolls, lengths and marks each told wrong."""
    told = work.in_space(seed, tmp_path)
    every = list(mutations.of_bars(told.saw, told.bars))
    tried = Random(seed).sample(every, PER_JOB)
    assert [what for what, way, bars in tried if work.passes(told, bars, way)] == []
