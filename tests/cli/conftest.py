"""Commands run in this process, and what they said."""

from __future__ import annotations

import json
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from mitertool.cli.main import run

ROOT = Path(__file__).resolve().parents[2]

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
"""Commands inherit what is ignored, as in a run behind a shell, and would wait for an interrupt forever."""


class Said(NamedTuple):
    """What a command ended in and wrote."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        """The answer as the one JSON object that it must be."""
        answer: dict[str, Any] = json.loads(self.out)
        return answer


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run `mitertool` with arguments."""

    def run_with(*arguments: str) -> Said:
        capsys.readouterr()
        code = run(arguments)
        return Said(code, *capsys.readouterr())

    return run_with


@pytest.fixture
def gate() -> str:
    """A job that can be made, in mm, with frames and stock."""
    return str(ROOT / "gallery" / "boathouse-gate" / "job.toml")


@pytest.fixture
def hatch() -> str:
    """A job that can be made, in feet and inches, with a tilting saw and opposite hands."""
    return str(ROOT / "gallery" / "hatch-frame" / "job.toml")


@pytest.fixture
def one_way() -> str:
    """An invented saw whose arm swings 60 degrees, to the feed side only."""
    return str(ROOT / "gallery" / "jetty-stand" / "saw.toml")
