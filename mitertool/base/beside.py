"""Work that a second process does while this one goes on, where the system can fork; knows nothing but signals.

The second process reads what this one holds and changes nothing outside itself: it writes no file and says nothing. So
it may come to nothing at any moment, by a signal or for want of memory, and what it was to do is done here.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import threading
import warnings
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from typing import BinaryIO, Final, NoReturn, TypeVar

from mitertool.base.stopping import STOPS

T = TypeVar("T")

_STANDARD: Final = (0, 1, 2)
"""What a process reads, says and complains: whoever waits for the end of these does not wait for the second process."""


@contextmanager
def beside(work: Callable[[], T]) -> Iterator[Callable[[], T]]:
    """Within the block `work` is done at the same time by a fork of this process; what is given waits for its answer.

    The answer travels by `pickle`. Where no fork may be made, and where one fails, the work is done here when its
    answer is asked for, and raises what it raises. Behind the block there is no second process.
    """
    if not _may_fork():
        yield work
        return
    reading, writing = os.pipe()
    heard = signal.pthread_sigmask(signal.SIG_BLOCK, STOPS)
    child = _fork()
    if child == 0:
        _answer(work, writing, heard)
    try:
        os.close(writing)
        signal.pthread_sigmask(signal.SIG_SETMASK, heard)
        with os.fdopen(reading, "rb") as answer:
            yield lambda: _received(answer, work)
    finally:
        if child:
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)


def _may_fork() -> bool:
    """Whether a fork is of use and safe.

    There must be a second processor, and no thread of ours, which might hold a lock for ever; a process that has ended
    must wait to be asked how, as is usual, so that its number is nobody else's.
    """
    if sys.platform != "linux" or len(os.sched_getaffinity(0)) < 2:
        return False
    return threading.active_count() == 1 and signal.getsignal(signal.SIGCHLD) == signal.SIG_DFL


def _fork() -> int | None:
    """The number of the second process, 0 within it; None where the system gives none."""
    with suppress(OSError), warnings.catch_warnings():
        # Python warns of threads that a library for arrays has begun: they wait for work, and the fork gives them none.
        warnings.simplefilter("ignore", DeprecationWarning)
        return os.fork()
    return None


def _answer(work: Callable[[], object], writing: int, heard: Iterable[int]) -> NoReturn:
    """What the second process does, which any signal may end; nothing of it comes back into the code that began it."""
    code = 1
    try:
        for number in STOPS:
            if signal.getsignal(number) != signal.SIG_IGN:
                signal.signal(number, signal.SIG_DFL)
        signal.pthread_sigmask(signal.SIG_SETMASK, heard)
        nowhere = os.open(os.devnull, os.O_RDWR)
        for one in _STANDARD:
            os.dup2(nowhere, one)
        with os.fdopen(writing, "wb") as answer:
            pickle.dump(work(), answer, pickle.HIGHEST_PROTOCOL)
        code = 0
    finally:
        os._exit(code)


def _received(answer: BinaryIO, work: Callable[[], T]) -> T:
    """The answer of the second process, whole; else the work done here."""
    with suppress(EOFError, pickle.UnpicklingError):
        made: T = pickle.load(answer)
        return made
    return work()
