"""Signals that stop the program: Ctrl-C, a system that ends it, a terminal that is closed; knows nothing.

Each ends it by an exception, so that it leaves nothing behind, and waits while something is written whole. What the
caller of the program ignores stays ignored.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread
from types import FrameType
from typing import Final

STOPS: Final = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))


class StopError(BaseException):
    """The program was asked to end by a signal of this number; no error that anything but its door may handle."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number

    @property
    def exit_code(self) -> int:
        """128 and the number of the signal, as shells count it."""
        return 128 + self.number


class InterruptError(StopError, KeyboardInterrupt):
    """Ctrl-C, by which a search is content with what it has.

    Python takes a plain `KeyboardInterrupt` that ends code which it compiles itself, as a class of attrs, for one that
    nobody handled, and kills the process at its end.
    """


def raise_on_signals() -> None:
    """Let every signal that would end this process raise `StopError`, for the whole program."""
    for number in STOPS:
        if signal.getsignal(number) in (signal.SIG_DFL, signal.default_int_handler):
            signal.signal(number, _stop)


@contextmanager
def undisturbed() -> Iterator[None]:
    """A signal that comes within the block is heard when it ends; a second one at once.

    Signals reach the main thread alone: in others nothing is to be held up.
    """
    if current_thread() is not main_thread():
        yield
        return
    late: list[int] = []

    def wait(number: int, _frame: FrameType | None) -> None:
        late.append(number)
        if len(late) > 1:
            _stop(number)

    usual = {number: signal.getsignal(number) for number in STOPS}
    held = {number: signal.signal(number, wait) for number, how in usual.items() if how not in (signal.SIG_IGN, None)}
    try:
        yield
    finally:
        for number, how in held.items():
            signal.signal(number, how)
        for number in late[:1]:
            signal.raise_signal(number)


def _stop(number: int, _frame: FrameType | None = None) -> None:
    raise InterruptError(number) if number == signal.SIGINT else StopError(number)
