"""Files that a second process makes while this one goes on, where the system can fork; knows nothing but signals.

The second process reads what this one holds and changes nothing outside itself: it writes no file and says nothing. So
it may come to nothing at any moment, by a signal or for want of memory, and what it was to do is done here.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

from mitertool.base.stopping import STOPS

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

Work = Callable[[], Mapping[str, bytes]]
"""What makes files, by their names."""

_STANDARD: Final = (0, 1, 2)
"""What a process reads, says and complains: whoever waits for the end of these does not wait for the second process."""


@contextmanager
def beside(work: Work) -> Iterator[Work]:
    """Within the block `work` is done at the same time by a fork of this process; what is given waits for its files.

    Where no fork may be made, and where one fails, the work is done here when its files are asked for, and raises what
    it raises. Behind the block there is no second process.
    """
    if not _may_fork():
        yield work
        return
    from multiprocessing import get_context  # a small packet, which is made by one process, does not load it

    forking = get_context("fork")
    files, writing = forking.Pipe(duplex=False)
    heard = signal.pthread_sigmask(signal.SIG_BLOCK, STOPS)
    child = forking.Process(target=_send, args=(work, files, writing, heard), daemon=True)
    try:
        with suppress(OSError, AssertionError):  # the system gives none, or this process may have none
            child.start()
        writing.close()
        signal.pthread_sigmask(signal.SIG_SETMASK, heard)
        yield lambda: _received(files, work)
    finally:
        files.close()
        if child.pid:
            child.kill()
            child.join()


def _may_fork() -> bool:
    """Whether a fork is of use and safe.

    There must be a second processor, and no thread of ours, which might hold a lock for ever; a process that has ended
    must wait to be asked how, as is usual, so that its number is nobody else's.
    """
    if sys.platform != "linux" or len(os.sched_getaffinity(0)) < 2:
        return False
    return threading.active_count() == 1 and signal.getsignal(signal.SIGCHLD) == signal.SIG_DFL


def _send(work: Work, files: Connection, writing: Connection, heard: Iterable[int]) -> None:
    """What the second process does, which any signal may end."""
    with Path(os.devnull).open("r+") as nowhere:
        for one in _STANDARD:
            os.dup2(nowhere.fileno(), one)
        sys.stdout = sys.stderr = nowhere
        for number in STOPS:
            if signal.getsignal(number) != signal.SIG_IGN:
                signal.signal(number, signal.SIG_DFL)
        signal.pthread_sigmask(signal.SIG_SETMASK, heard)
        files.close()
        for name, content in work().items():
            writing.send(name)
            writing.send_bytes(content)
        writing.send(None)


def _received(files: Connection, work: Work) -> Mapping[str, bytes]:
    """The files of the second process, all of them; else the work done here."""
    found: dict[str, bytes] = {}
    with suppress(EOFError, OSError):
        while (name := files.recv()) is not None:
            found[name] = files.recv_bytes()
        return found
    return work()
