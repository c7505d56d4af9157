"""Which tests pass which lines of the rooms: a change is tried only on tests that come by where it stands.

Every file of tests runs in a child of its own, with the answers kept between calls forgotten before every test: whoever
asks for an answer passes the lines that find it.
"""

from __future__ import annotations

import gc
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import _lru_cache_wrapper, partial
from hashlib import sha256
from itertools import groupby
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, Final

import pytest
from attrs import define, field

from .children import Runner, in_child
from .rooms import ROOMS, ROOT

FOREVER: Final = 600.0
"""Seconds of processor after which a test that is only looked at is given up."""

_HOME: Final = f"{ROOT}/"
_WHERE: Final = tuple(f"{_HOME}mitertool/{room}/" for room in ROOMS)
_TOOL: Final = 1
"""The number that `sys.monitoring` keeps for coverage."""


Seen = tuple[str, float, frozenset[tuple[str, int]]]
"""A test, the seconds of processor that it took, and the lines of the rooms, by file and number, that it passed."""


@define
class Passed:
    """The tests by the lines that they pass, and the seconds of processor that each takes."""

    seconds: dict[str, float] = field(factory=dict)
    """Less than none for a test that fails without any change."""
    tests: dict[tuple[str, int], list[str]] = field(factory=lambda: defaultdict(list))
    texts: dict[str, bytes] = field(factory=dict)
    """A digest of each file of tests that was looked at."""
    program: bytes = b""
    """A digest of the program and of what the tests have in common, as they were then."""

    def of(self, file: str, lines: Sequence[int]) -> list[str]:
        """The tests that pass any of some lines of a file."""
        return list(dict.fromkeys(test for line in lines for test in self.tests.get((file, line), ())))

    def of_file(self, file: str) -> list[str]:
        """The tests that pass any line of a file."""
        return self.of(file, [line for at, line in self.tests if at == file])

    def unseen(self, items: Sequence[pytest.Item]) -> list[pytest.Item]:
        """The tests whose files are new or read otherwise, forgotten as they were."""
        now = {path: sha256(path.read_bytes()).digest() for path in dict.fromkeys(item.path for item in items)}
        changed = {path for path, text in now.items() if self.texts.get(_name(path)) != text}
        self.texts |= {_name(path): text for path, text in now.items()}
        names = set(map(_name, changed))
        old = {test for test in self.seconds if test.partition("::")[0] in names}
        for line, tests in self.tests.items() if old else ():
            self.tests[line] = [test for test in tests if test not in old]
        return [item for item in items if item.path in changed]

    def add(self, told: Sequence[Seen]) -> None:
        """What one file of tests passed."""
        for test, seconds, lines in told:
            self.seconds[test] = seconds
            for line in lines if seconds >= 0 else ():
                self.tests[line].append(test)


def program() -> bytes:
    """A digest of the program and of what the tests have in common: where that changes, all is looked at anew."""
    common = (path for path in (ROOT / "tests").rglob("*.py") if not path.name.startswith("test_"))
    files = sorted([*(ROOT / "mitertool").rglob("*.py"), *common])
    return sha256(b"".join(path.read_bytes() for path in files)).digest()


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def functions() -> Iterator[FunctionType]:
    """Every function of the rooms that is loaded."""
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename.startswith(_WHERE):
            yield one


def look(items: Sequence[pytest.Item], runner: Runner, found: Passed) -> None:
    """Run each of them once and write down who comes by where."""
    for file, tests in groupby(items, lambda item: item.path):
        told = in_child(partial(_file, tuple(tests), runner))
        print(f"{_name(file)}: {'lost' if told is None else len(told)} tests", flush=True)  # noqa: T201
        found.add(told or ())


def _file(items: Sequence[pytest.Item], runner: Runner) -> list[Seen]:
    found: list[Seen] = []
    lines: set[tuple[str, int]] = set()
    _watch(lines)
    wrappers = (one for one in gc.get_objects() if isinstance(one, _lru_cache_wrapper))
    kept = [one for one in wrappers if one.__module__.startswith("mitertool")]
    for item, passed, seconds in runner.runs(items, lambda _: FOREVER):
        found.append((item.nodeid, seconds if passed else -1.0, frozenset(lines)))
        lines.clear()
        for one in kept:
            one.cache_clear()
        sys.monitoring.restart_events()
    return found


def _watch(lines: set[tuple[str, int]]) -> None:
    """Have every line of the rooms told once a test."""
    seen = sys.monitoring
    seen.use_tool_id(_TOOL, "mutation")

    def told(code: CodeType, line: int) -> Any:
        lines.add((code.co_filename[len(_HOME) :], line))
        return seen.DISABLE

    seen.register_callback(_TOOL, seen.events.LINE, told)
    for one in functions():
        for code in _nested(one.__code__):
            seen.set_local_events(_TOOL, code, seen.events.LINE)


def _nested(code: CodeType) -> Iterator[CodeType]:
    yield code
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield from _nested(one)
