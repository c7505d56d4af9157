"""Long work behind the page: started once, told of while it runs, stopped when somebody asks; knows threads only."""

from __future__ import annotations

import ctypes
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from threading import Event, Lock, get_ident
from typing import Any, Final

import attrs

from mitertool.base.errors import MitertoolError
from mitertool.words import phrase

_AT_ONCE: Final = 2
"""Work that runs at a time: the rest waits its turn, and every other page answers meanwhile."""

_KEPT: Final = 24
"""Finished work that is kept, the oldest forgotten first."""


class StoppedError(Exception):
    """Somebody stopped the work."""


Tell = Callable[[float, str], None]
"""Told the share of the work that is done, 0 to 1, and a few words; raises `StoppedError` where it is to stop."""


@attrs.define(eq=False)
class BenchWork:
    """Work of the page: how far it is, in words too, and what came of it once it is `over`."""

    share: float = 0.0
    says: str = ""
    result: Any = None
    error: Exception | None = None
    over: Event = attrs.field(factory=Event)
    stopping: Event = attrs.field(factory=Event)
    _thread: int | None = None
    _leaving: Lock = attrs.field(factory=Lock)

    @property
    def good(self) -> bool:
        """Whether it came to its end."""
        return self.over.is_set() and self.error is None

    @property
    def stopped(self) -> bool:
        """Whether somebody stopped it."""
        return isinstance(self.error, StoppedError)

    @property
    def lines(self) -> tuple[str, ...]:
        """What went wrong, a line each."""
        if isinstance(self.error, MitertoolError):
            return self.error.lines
        return () if self.error is None else (phrase("main.fault", kind=type(self.error).__name__, error=self.error),)

    def stop(self) -> None:
        """Stop it: where it tells how far it is, or at its next step, however long that phase of it tells nothing.

        What is under way in a library that computes by itself comes to its end first.
        """
        self.stopping.set()
        with self._leaving:
            if self._thread is not None:
                _raise_in(self._thread)

    def tell(self, share: float, says: str) -> None:
        """How far it is."""
        if self.stopping.is_set():
            raise StoppedError
        self.share, self.says = min(max(share, 0.0), 1.0), says

    def run(self, make: Callable[[Tell], Any]) -> None:
        """Do it."""
        try:
            self._thread = get_ident()
            self.tell(0.0, "")
            self.result = make(self.tell)
        except Exception as error:
            self.error = error
        finally:
            with self._leaving:
                self._thread = None
            self.over.set()

    def left(self, _future: object) -> None:
        """Called once nothing more is done of it, also where it was stopped as it ended."""
        if not self.over.is_set():
            self.error = self.error or StoppedError()
        self.over.set()


def _raise_in(thread: int) -> None:
    """Let a `StoppedError` be raised at the next step of a thread (C API, PyThreadState_SetAsyncExc)."""
    ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread), ctypes.py_object(StoppedError))


@attrs.define(eq=False)
class Bench:
    """All work of a page by its key: whoever asks for the same gets the same."""

    _works: OrderedDict[Hashable, BenchWork] = attrs.field(factory=OrderedDict)
    _lock: Lock = attrs.field(factory=Lock)
    _hands: ThreadPoolExecutor = attrs.field(factory=lambda: ThreadPoolExecutor(_AT_ONCE))

    def asked(self, key: Hashable, make: Callable[[Tell], Any], anew: bool = False) -> BenchWork:
        """The work of a key, begun now where it is not under way or done; `anew`: also where it is over."""
        with self._lock:
            found = self._works.get(key)
            if found is not None and not (anew and found.over.is_set()):
                self._works.move_to_end(key)
                return found
            made = self._works[key] = BenchWork()
            self._forget()
        self._hands.submit(copy_context().run, made.run, make).add_done_callback(made.left)
        return made

    def found(self, key: Hashable) -> BenchWork | None:
        """The work of a key, if anybody asked for it."""
        return self._works.get(key)

    def keep(self, key: Hashable, result: Any) -> None:
        """Keep a result under another key, as work that is done."""
        made = BenchWork(result=result)
        made.over.set()
        with self._lock:
            self._works[key] = made
            self._works.move_to_end(key)

    def _forget(self) -> None:
        over = [key for key, work in self._works.items() if work.over.is_set()]
        for key in over[: max(0, len(self._works) - _KEPT)]:
            del self._works[key]
