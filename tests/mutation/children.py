"""Tests run in a child of a process that has collected them: each child starts from the same state, and may break.

A child that loops for ever is ended by its own timer of processor time, set anew for every test, and one that eats
memory by a limit; either counts as a test that failed.
"""

from __future__ import annotations

import os
import pickle
import resource
import signal
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

import pytest

MEMORY: Final = 3 << 30
"""Bytes that a child may reserve beside what it starts with."""

WALL: Final = 900.0
"""Seconds after which a child that waits for ever is ended."""

Ran = tuple[pytest.Item, bool, float]
"""A test, whether it passed, and the seconds of processor it took."""


def in_child(work: Callable[[], Any]) -> Any:
    """What `work` returns when it is done in a child; None where the child does not live to tell."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        _quiet(read)
        with os.fdopen(write, "wb") as told, suppress(BaseException):
            pickle.dump(work(), told)
        os._exit(0)
    os.close(write)
    with os.fdopen(read, "rb") as told:
        said = _read(told, child)
    os.waitpid(child, 0)
    return pickle.loads(said) if said else None


def _quiet(read: int) -> None:
    """A child prints nothing and may not eat the machine."""
    os.close(read)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)
    held = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * resource.getpagesize()
    resource.setrlimit(resource.RLIMIT_AS, (held + MEMORY, held + MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _read(told: Any, child: int) -> bytes:
    """What the child says until it ends, which it does at last by the clock."""

    def end(*_: object) -> None:
        os.kill(child, signal.SIGKILL)

    signal.signal(signal.SIGALRM, end)
    signal.setitimer(signal.ITIMER_REAL, WALL)
    said = told.read()
    signal.setitimer(signal.ITIMER_REAL, 0)
    return bytes(said)


class Runner:
    """Runs collected tests one by one, each with processor time of its own."""

    def __init__(self) -> None:
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed = self.failed or report.failed

    def runs(self, items: Iterable[pytest.Item], allowed: Callable[[pytest.Item], float]) -> Iterator[Ran]:
        """Each test as it ran; one that takes more seconds of processor than are allowed ends the process."""
        tests = list(items)
        for item, following in zip(tests, [*tests[1:], None], strict=True):
            signal.setitimer(signal.ITIMER_PROF, allowed(item))
            self.failed, began = False, time.process_time()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            yield item, not self.failed, time.process_time() - began
        signal.setitimer(signal.ITIMER_PROF, 0)
