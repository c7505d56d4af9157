"""A change tried: the tests that pass its lines are run with it, those nearest and shortest first, until one fails."""

from __future__ import annotations

import importlib.machinery
import json
import subprocess
import sys
from collections.abc import Iterable, Sequence
from types import CodeType
from typing import Any, Final

import pytest
from attrs import frozen
from hypothesis import Phase, settings

from .children import WALL, Runner, in_child
from .drawn import Change
from .passed import Passed
from .put_in import AtTheTop, put_in
from .rooms import ROOT

CAP: Final = 40.0
"""Seconds of processor that the tests of one change may take."""
_LIVED: Final = "lived"
_TOP: Final = "top"


@frozen
class Tried:
    """What became of a change: the test that noticed it, or none."""

    change: Change
    test: str
    """Which test failed; empty where the change lived."""

    @property
    def lived(self) -> bool:
        """Whether no test noticed it."""
        return not self.test


def in_order(change: Change, passed: Passed, tests: Iterable[str]) -> list[str]:
    """Tests as they are tried, to the cap: those of the room and the laws first, short ones before long ones."""
    near = (f"tests/{change.room}/", "tests/laws/", "tests/published/")
    ordered = sorted(tests, key=lambda one: (not one.startswith(near), passed.seconds[one]))
    spent, kept = 0.0, []
    for one in ordered:
        spent += passed.seconds[one]
        if spent < CAP or not kept:
            kept.append(one)
    return kept


def tried(change: Change, passed: Passed, items: dict[str, pytest.Item], runner: Runner) -> Tried:
    """Try a change in the loaded program; where it lives, or stands outside every function, in one loaded with it."""
    passing = passed.of(change.file, change.lines) or passed.of_file(change.file) or passed.seconds
    tests = in_order(change, passed, (one for one in passing if one in items and passed.seconds[one] >= 0))
    said = in_child(lambda: _loaded(change, tests, passed, items, runner)) if tests else _LIVED
    if said in (_TOP, _LIVED) and tests:
        said = _anew(change, {test: passed.seconds[test] for test in tests})
    return Tried(change, "" if said == _LIVED else said or "a limit")


def _loaded(change: Change, tests: Sequence[str], passed: Passed, items: dict[str, pytest.Item], runner: Runner) -> str:
    path = ROOT / change.file
    try:
        put_in(str(path), path.read_text(encoding="utf-8"), change.source)
    except AtTheTop:
        return _TOP
    return _first_failure([items[one] for one in tests], passed.seconds, runner)


def _first_failure(items: Sequence[pytest.Item], seconds: dict[str, float], runner: Runner) -> str:
    def allowed(item: pytest.Item) -> float:
        return 5 + 10 * seconds.get(item.nodeid, 0.0)

    return next((item.nodeid for item, ok, _ in runner.runs(items, allowed) if not ok), _LIVED)


def _anew(change: Change, tests: dict[str, float]) -> str:
    """Try a change in a process that loads the program with it."""
    files = list(dict.fromkeys(one.partition("::")[0] for one in tests))
    call = [sys.executable, "-m", "tests.mutation.tried", *files]
    given = json.dumps({"file": str(ROOT / change.file), "source": change.source, "tests": tests})
    try:
        ran = subprocess.run(call, input=given, capture_output=True, text=True, cwd=ROOT, timeout=WALL, check=False)
    except subprocess.TimeoutExpired:
        return "the clock"
    told = [line for line in ran.stdout.splitlines() if line.startswith("mutation: ")]
    return told[-1].removeprefix("mutation: ") if told else "loading"


class _Only(Runner):
    """Runs some of the tests that were collected."""

    def __init__(self, tests: dict[str, float]) -> None:
        super().__init__()
        self.tests = tests

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        said = in_child(lambda: _first_failure([items[one] for one in self.tests if one in items], self.tests, self))
        print(f"\nmutation: {said or 'a limit'}", flush=True)  # noqa: T201
        return True


def _load_with(file: str, source: str) -> None:
    """Have a file of the program load as another source."""
    usual = importlib.machinery.SourceFileLoader.get_code

    def code(loader: Any, name: str) -> CodeType | None:
        at = loader.get_filename(name)
        return compile(source, file, "exec", dont_inherit=True) if at == file else usual(loader, name)

    importlib.machinery.SourceFileLoader.get_code = code  # type: ignore[method-assign]


def run_pytest(arguments: Sequence[str], plugin: Runner) -> None:
    """Pytest in this process, without what would keep or shrink examples."""
    settings.register_profile("mutation", database=None, deadline=None, phases=(Phase.explicit, Phase.generate))
    settings.load_profile("mutation")
    pytest.main(["-n", "0", "-q", "-s", "-W", "ignore", "-p", "no:cacheprovider", *arguments], plugins=[plugin])


if __name__ == "__main__":
    _given = json.loads(sys.stdin.read())
    _load_with(_given["file"], _given["source"])
    run_pytest(sys.argv[1:], _Only(_given["tests"]))
