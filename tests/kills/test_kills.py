"""A deed that is told to end leaves the old or the new, whole, nothing beside it, and says so in a line.

Many moments of all deeds: `python -m tests.bench.kills COUNT SEED`.
"""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from mitertool.base.stopping import InterruptError
from mitertool.cli.main import run
from mitertool.nest.search import Search
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


def test_a_search_cut_short_is_written_but_never_booked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another run would find another plan, and one job has one plan on the rack."""
    prepared(DEEDS["packet and booking"], tmp_path)
    before = states(tmp_path)
    monkeypatch.chdir(tmp_path)
    book = DEEDS["packet and booking"].arguments
    with monkeypatch.context() as stopped:
        stopped.setattr(Search, "run", _ctrl_c)
        assert run(book) == 130
        (line,) = capsys.readouterr().err.splitlines()
        assert line.startswith("mitertool: stopped") and "nothing is written and nothing booked" in line
        assert states(tmp_path) == before
        assert run(book[:-1]) == 0
        assert '"stopped": "interrupted"' in (tmp_path / "packet" / "plan.json").read_text()
    assert run(book) == 0
    assert states(tmp_path)["rack.sqlite"] != before["rack.sqlite"]


def _ctrl_c(_search: Search) -> None:
    raise InterruptError(signal.SIGINT)
