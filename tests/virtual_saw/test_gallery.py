"""The worked jobs cut on the virtual saw by what plan.json tells, and nothing is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.virtual_saw import work

GALLERY = Path(__file__).resolve().parents[2] / "gallery"
JOBS = sorted(path.parent.name for path in GALLERY.glob("*/job.toml"))


@pytest.fixture(scope="module", params=JOBS)
def job(request: pytest.FixtureRequest) -> work.Work:
    return work.of_gallery(GALLERY / request.param / "job.toml")


def test_what_falls_off_is_what_is_drawn(job: work.Work) -> None:
    assert list(work.faults(job)) == []
