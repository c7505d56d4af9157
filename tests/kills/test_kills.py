"""A deed that is told to end leaves the old or the new, whole, nothing beside it, and says so in a line.

Many moments of all deeds: `python -m tests.bench.kills COUNT SEED`.
"""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from tests.kills.deeds import DEEDS, prepared, states
from tests.kills.killed import Moment, done


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_what_is_told_to_end_while_it_writes_writes_it_whole(number: int, code: int, tmp_path: Path) -> None:
    """128 and the number of the signal, as shells count it: 2 and 15."""
    prepared(DEEDS["done"], tmp_path)
    ended = done(DEEDS["done"], tmp_path, Moment(number, 2, new=True))
    assert (ended.code, ended.lines) == (code, ["mitertool: stopped"])
    assert sorted(states(tmp_path)) == sorted(path.name for path in tmp_path.iterdir())  # nothing hidden beside
    assert (tmp_path / "done.csv").read_text().count("STRUT") == 2
