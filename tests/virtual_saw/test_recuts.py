"""Jobs by lot cut by setting on the virtual saw: blanks off the bars, then each stopped and cut at its other end."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.virtual_saw import judge, work

JOBS = 60
AT_ONCE = 10


@pytest.mark.parametrize("first", range(0, JOBS, AT_ONCE))
def test_what_is_recut_is_what_is_drawn(first: int, tmp_path: Path) -> None:
    jobs = {seed: work.by_lot(seed, tmp_path, "by setting") for seed in range(first, first + AT_ONCE)}
    wrong = {seed: list(work.faults(job)) for seed, job in jobs.items()}
    assert {seed: faults for seed, faults in wrong.items() if faults} == {}
    assert sum(bool(job.recuts) for job in jobs.values()) >= AT_ONCE // 2


@pytest.mark.parametrize("jaw_left", [True, False])
def test_a_stop_that_stands_wrong_is_seen(jaw_left: bool, tmp_path: Path) -> None:
    """A millimetre further from the blade, and the piece is a millimetre longer."""
    job = next(
        job
        for seed in range(JOBS)
        if (job := work.by_lot(seed, tmp_path, "by setting")).saw.jaw_left is jaw_left
        and any(recut.step.stop for recut in job.recuts)
    )
    moved = [
        replace(
            one,
            step=replace(one.step, stop=one.step.stop and replace(one.step.stop, distance=one.step.stop.distance + 1)),
        )
        for one in job.recuts
    ]
    wrong, _ = judge.job(job.saw, job.drawing, job.bars, "stop", recuts=moved)
    assert any("wrong of its recut" in fault for fault in wrong)


def test_a_blank_that_is_never_recut_is_seen(tmp_path: Path) -> None:
    job = next(job for seed in range(JOBS) if (job := work.by_lot(seed, tmp_path, "by setting")).recuts)
    wrong, _ = judge.job(job.saw, job.drawing, job.bars, "tape", recuts=job.recuts[1:])
    assert any("get no other end" in fault for fault in wrong)
