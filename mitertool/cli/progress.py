"""A bar on stderr for long work, gone when the work is done; silent where nobody looks. Knows terminals only."""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final, TextIO

from mitertool.base.speech import sayable
from mitertool.base.terminal import columns_of, printable, shortened

Tell = Callable[[float, str], None]
"""Called with the share of the work that is done, 0 to 1, and a few words on what is being done."""

_BAR: Final = 24
_PATIENCE: Final = 0.3
"""seconds. Work that is done sooner shows no bar: it would only flicker."""


@contextmanager
def progress(
    quiet: bool = False, stream: TextIO | None = None, clock: Callable[[], float] = time.monotonic
) -> Iterator[Tell]:
    """A `Tell` that draws a bar on `stream` (stderr), and wipes it off when the block is left, whatever the reason.

    It does nothing where `quiet`, as with --json, or where the stream is no terminal.
    """
    stream = sys.stderr if stream is None else stream
    if quiet or stream is None or not stream.isatty():
        yield _nothing
        return
    bar = _Bar(stream, clock)
    try:
        yield bar.tell
    finally:
        bar.wipe()


def bar_line(share: float, words: str, columns: int) -> str:
    """The bar, the whole per cent that are done, and the words, in less than `columns` columns."""
    share = min(max(share, 0.0), 1.0)
    full = int(share * _BAR)
    line = f"[{'#' * full}{'.' * (_BAR - full)}] {int(share * 100):3d} %  {printable(words)}"
    return shortened(line.rstrip(), columns - 1)


class _Bar:
    """The line that stands on a terminal now."""

    def __init__(self, stream: TextIO, clock: Callable[[], float]) -> None:
        self._stream, self._clock, self._shown = stream, clock, ""
        self._first = clock()

    def tell(self, share: float, words: str = "") -> None:
        """Draw the line where it says anything new; a longer one that stood there is covered."""
        said = sayable(words, getattr(self._stream, "encoding", None))
        line = bar_line(share, said, shutil.get_terminal_size().columns)
        if line == self._shown or self._clock() - self._first < _PATIENCE:
            return
        rest = " " * max(0, columns_of(self._shown) - columns_of(line))
        self._write(f"\r{line}{rest}")
        self._shown = line

    def wipe(self) -> None:
        """Leave the line as if nothing had stood there."""
        if self._shown:
            self._write(f"\r{' ' * columns_of(self._shown)}\r")

    def _write(self, text: str) -> None:
        self._stream.write(text)
        self._stream.flush()


def _nothing(_share: float, _words: str) -> None:
    """Nobody looks."""
