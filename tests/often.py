"""How many lots a law is tried on: few every day, and as many times more as MITERTOOL_TESTS_TIMES says.

`MITERTOOL_TESTS_TIMES=10 python -m pytest` is the everyday suite with ten times the lots: the same ones first.
"""

from __future__ import annotations

import os

_FACTOR = int(os.environ.get("MITERTOOL_TESTS_TIMES", "1"))


def times(everyday: int) -> int:
    """Of what is tried `everyday` times every day, how many this run tries."""
    return everyday * _FACTOR
