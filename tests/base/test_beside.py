"""A second process does half of the work, or it is done here; whatever becomes of it, none is left behind."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable
from threading import Event, Thread
from typing import NoReturn

import pytest

from mitertool.base import beside as room
from mitertool.base.beside import beside

HERE = os.getpid()
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
    """Its answer is longer than a pipe holds, 64 KiB by pipe(7)."""
    with beside(lambda: (os.getpid(), b"x" * 2**20)) as answer:
        other, content = answer()
    assert (other != os.getpid(), content) == (True, b"x" * 2**20)
    assert not has_children()


def killed() -> str:
    if os.getpid() != HERE:
        os.kill(os.getpid(), signal.SIGKILL)
    return "done here"


def out_of_memory() -> str:
    if os.getpid() != HERE:
        raise MemoryError
    return "done here"


@pytest.mark.parametrize("work", [killed, out_of_memory])
def test_what_another_process_fails_in_is_done_here(work: Callable[[], str]) -> None:
    with beside(work) as answer:
        assert answer() == "done here"


def test_where_the_system_gives_no_process_it_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused() -> NoReturn:
        raise BlockingIOError

    monkeypatch.setattr(os, "fork", refused)
    heard = signal.pthread_sigmask(signal.SIG_BLOCK, ())
    with beside(os.getpid) as answer:
        assert answer() == os.getpid()
    assert signal.pthread_sigmask(signal.SIG_BLOCK, ()) == heard


def test_what_it_raises_is_raised_here_and_said_once(capfd: pytest.CaptureFixture[str]) -> None:
    def wrong() -> NoReturn:
        os.write(2, b"said")
        raise ValueError("no such mark")

    with pytest.raises(ValueError, match="no such mark"), beside(wrong) as answer:
        answer()
    assert capfd.readouterr() == ("", "said")


@pytest.mark.parametrize("error", [RuntimeError, KeyboardInterrupt])
def test_who_leaves_the_block_ends_it(error: type[BaseException]) -> None:
    with pytest.raises(error), beside(lambda: time.sleep(FOR_EVER)):
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
    with beside(os.getpid) as answer:
        assert answer() == os.getpid()
    ends.set()
    thread.join()
