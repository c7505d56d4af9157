"""Change the program by lot and see whether a test notices: `python -m tests.mutation [COUNT] [ROOM ...]`.

The changes are cosmic-ray's. Its own runner starts a new test process for every change, which takes longer than the
tests; here they are collected once, it is seen once which lines each of them passes, and a change is tried in a child,
on the tests that pass its lines. What `survivors.toml` explains is not tried. Needs Python 3.12 (`sys.monitoring`) and
the extra "mutation"; an hour or two of one core for 80 changes of each room. What was seen is kept in a folder
(`--kept`), where the next run goes on: it tries the changes that lived, and looks at the tests that are new.
Ends in 1 where of a room more than one change in twenty lives.
"""

from __future__ import annotations

import argparse
import json
import pickle
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

import pytest

from .children import Runner
from .drawn import Change, drawn
from .passed import Passed, look, program
from .rooms import FOLDERS, ROOMS, load
from .survivors import same, stands
from .tried import Tried, run_pytest, tried

EXPLAINED: Final = {one.key for one in same()}
LIVE: Final = 0.05
"""Of the changes drawn in a room, the most that may live unexplained."""


class Hunt(Runner):
    """Tries every change that is drawn, once the tests are collected."""

    def __init__(self, said: argparse.Namespace) -> None:
        super().__init__()
        self.said, self.kept = said, Path(said.kept)
        self.kept.mkdir(parents=True, exist_ok=True)
        self.found: dict[str, list[Tried]] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        load()
        passed = self._passed(session.items)
        items = {item.nodeid: item for item in session.items}
        before = self._before()
        for room in self.said.rooms:
            for change in drawn(room, self.said.count, self.said.seed):
                test = before.get(change.key, "")
                settled = bool(test) or change.key[:4] in EXPLAINED
                one = Tried(change, test) if settled else tried(change, passed, items, self)
                self.found.setdefault(room, []).append(one)
                if not settled:
                    self._keep(one)
        return True

    def _passed(self, items: list[pytest.Item]) -> Passed:
        """Who passes where, looked at anew for tests that were not there or were others."""
        file = self.kept / "passed"
        found: Passed = pickle.loads(file.read_bytes()) if file.exists() else Passed()
        if found.program != program():
            found = Passed(program=program())
        new = found.unseen(items)
        if new:
            look(new, self, found)
            file.write_bytes(pickle.dumps(found))
        return found

    @property
    def _results(self) -> Path:
        return self.kept / "tried.jsonl"

    def _before(self) -> dict[tuple[Any, ...], str]:
        """What an earlier run found: by which test each change was noticed."""
        lines = self._results.read_text(encoding="utf-8").splitlines() if self._results.exists() else []
        return {tuple(key): test for key, test in map(json.loads, lines) if test}

    def _keep(self, one: Tried) -> None:
        with self._results.open("a", encoding="utf-8") as file:
            file.write(json.dumps([one.change.key, one.test]) + "\n")
        print(f"{one.change.file}:{one.change.lines[0]}: {one.test or 'LIVES'}", flush=True)  # noqa: T201


def report(found: dict[str, list[Tried]]) -> int:
    """Print what became of the changes of each room; 1 where too many live."""
    worst = 0.0
    print(f"\n{'room':10}{'drawn':>7}{'killed':>8}{'equal':>7}{'live':>6}")  # noqa: T201
    for room, all_of_it in found.items():
        lived = [one.change for one in all_of_it if one.lived]
        live = [change for change in lived if change.key[:4] not in EXPLAINED]
        counts = (len(all_of_it), len(all_of_it) - len(lived), len(lived) - len(live), len(live))
        print(f"{room:10}{counts[0]:7}{counts[1]:8}{counts[2]:7}{counts[3]:6}")  # noqa: T201
        worst = max(worst, len(live) / len(all_of_it))
        _tell(live)
    for one in same():
        if not stands(one):
            print(f"to be taken out of survivors.toml, as it stands there no more: {one.file}: {one.was}")  # noqa: T201
    return int(worst > LIVE)


def _tell(live: Iterable[Change]) -> None:
    for change in live:
        print(f"  {change.file}:{change.lines[0]} {change.within}")  # noqa: T201
        print(f"    was {change.was}\n    now {change.now}")  # noqa: T201


def main() -> int:
    """What `report` says."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("count", nargs="?", type=int, default=80)
    parser.add_argument("rooms", nargs="*", default=ROOMS)
    parser.add_argument("--seed", default="1")
    parser.add_argument("--kept", default=str(Path(tempfile.gettempdir()) / "mitertool-mutation"))
    parser.add_argument("--folders", nargs="*", default=FOLDERS, help="of tests")
    hunt = Hunt(parser.parse_args())
    run_pytest([f"tests/{one}" for one in hunt.said.folders], hunt)
    return report(hunt.found)


if __name__ == "__main__":
    sys.exit(main())
