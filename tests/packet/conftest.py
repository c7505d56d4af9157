"""Solved jobs, each solved once for all tests of the packet."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest

from mitertool.job import Solution, load, solve
from tests.packet.jobs import write_job


@pytest.fixture(scope="session")
def solution_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Solution]:
    """The solution of a job of `tests.packet.jobs` by its name."""
    folder = tmp_path_factory.mktemp("jobs")
    return cache(lambda name: solve(load(write_job(name, folder / name))))
