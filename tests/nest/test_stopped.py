"""When plans are no longer weighed: once the user has stopped the search, or its time is up."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from mitertool.nest import solver


@pytest.mark.parametrize(
    ("stopped", "late", "stops"),
    [
        *(("", False, False), ("effort", False, False), ("time", False, False), ("interrupted", False, True)),
        *(("", True, True), ("time", True, True), ("interrupted", True, True)),
    ],
)
def test_weighing_stops_for_the_user_and_the_clock(stopped: str, late: bool, stops: bool) -> None:
    telling = SimpleNamespace(part=lambda share: None, step=lambda: None)
    ways: Any = SimpleNamespace(telling=telling, clock=SimpleNamespace(late=late))
    assert solver._Ways._stop(ways, stopped)() == stops
