"""A second process does half of the work, or it is done here; whatever becomes of it, none is left behind."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Mapping
from threading import Event, Thread
from typing import NoReturn

import pytest

from mitertool.base import beside as room
from mitertool.base.beside import Work, beside

HERE = os.getpid()
DONE_HERE = {"by": b"%d" % HERE}
FOR_EVER = 600.0
"""Seconds that nobody waits for a test."""


@pytest.fixture(autouse=True)
def may_fork(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever runs the tests side by side may have threads of its own, or one processor."""
    monkeypatch.setattr(room, "_may_fork", lambda: True)


def has_children() -> bool:
    """Whether there is a process that this one has begun and not yet asked how it ended."""
    try:
        os.waitpid(-1, os.WNOHANG)
    except ChildProcessError:
        return False
    return True


def test_another_process_does_it_and_is_gone_behind_the_block() -> None:
    """What it makes is longer than a pipe holds, 64 KiB by pipe(7)."""
    with beside(lambda: {**by_whom(), "large": b"x" * 2**20}) as made:
        files = made()
    assert files["by"] != DONE_HERE["by"]
    assert (list(files), files["large"]) == (["by", "large"], b"x" * 2**20)
    assert not has_children()


def by_whom() -> dict[str, bytes]:
    return {"by": b"%d" % os.getpid()}


def killed() -> Mapping[str, bytes]:
    if os.getpid() != HERE:
        os.kill(os.getpid(), signal.SIGKILL)
    return by_whom()


def out_of_memory() -> Mapping[str, bytes]:
    if os.getpid() != HERE:
        raise MemoryError
    return by_whom()


@pytest.mark.parametrize("work", [killed, out_of_memory])
def test_what_another_process_fails_in_is_done_here(work: Work, capfd: pytest.CaptureFixture[str]) -> None:
    with beside(work) as made:
        assert made() == DONE_HERE
    assert capfd.readouterr() == ("", "")


def test_where_the_system_gives_no_process_it_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused() -> NoReturn:
        raise BlockingIOError

    monkeypatch.setattr(os, "fork", refused)
    heard = signal.pthread_sigmask(signal.SIG_BLOCK, ())
    with beside(by_whom) as made:
        assert made() == DONE_HERE
    assert signal.pthread_sigmask(signal.SIG_BLOCK, ()) == heard


def test_what_it_raises_is_raised_here_and_said_once(capfd: pytest.CaptureFixture[str]) -> None:
    def wrong() -> NoReturn:
        os.write(2, b"said")
        raise ValueError("no such mark")

    with pytest.raises(ValueError, match="no such mark"), beside(wrong) as made:
        made()
    assert capfd.readouterr() == ("", "said")


@pytest.mark.parametrize("error", [RuntimeError, KeyboardInterrupt])
def test_who_leaves_the_block_ends_it(error: type[BaseException]) -> None:
    def long() -> Mapping[str, bytes]:
        time.sleep(FOR_EVER)
        return {}

    with pytest.raises(error), beside(long):
        raise error
    assert not has_children()


def test_a_process_with_threads_or_one_processor_or_deaf_to_its_children_does_all_itself(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.undo()
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0})
    assert not room._may_fork()
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1})
    usual = signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    assert not room._may_fork()
    signal.signal(signal.SIGCHLD, usual)
    ends = Event()
    thread = Thread(target=ends.wait)
    thread.start()
    assert not room._may_fork()
    with beside(by_whom) as made:
        assert made() == DONE_HERE
    ends.set()
    thread.join()
