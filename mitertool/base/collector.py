"""Fewer rounds of the collector of cyclic garbage while much is made that lives on, none at the end; knows nothing."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

_RARELY: Final = (100_000, 50, 50)
"""Thresholds at which its rounds cost little and a packet's memory stays as it is with the usual ones."""


@contextmanager
def rarely_collecting() -> Iterator[None]:
    """Within it the collector looks seldom; afterwards as before."""
    usual = gc.get_threshold()
    gc.set_threshold(*_RARELY)
    try:
        yield
    finally:
        gc.set_threshold(*usual)


def collect_no_more() -> None:
    """What is there now is never looked through again: the process ends, and all it holds goes with it."""
    gc.freeze()
