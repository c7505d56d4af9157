"""A deed in a process of its own, ended by a signal at a step of its writing or by the clock; what must hold then."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from hashlib import sha256
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Final, NamedTuple
from urllib.parse import urlencode

import attrs

from mitertool.base.folders import MANIFEST
from mitertool.words import phrase
from tests.kills.deeds import DEEDS, PAGE, ROOT, TYPED, Deed, beside, prepared, states
from tests.kills.forked import Forked

PATIENCE: Final = 60.0
"""Seconds after which a process that should have ended is taken for one that hangs."""


class Moment(NamedTuple):
    """A signal, and when it comes: at a step, counted from 1, or seconds after the process began."""

    number: int = 0
    step: int = 0
    clock: float | None = None
    new: bool = False
    """Whether it is a new process that has all to load, or a fork of this one."""


class Ended(NamedTuple):
    """How a process ended: its code, below 0 where the signal did, its lines on standard error, its steps."""

    code: int
    lines: list[str]
    steps: int
    seconds: float


class Trial(NamedTuple):
    """What came of a disturbed deed: how the folder stands, "old", "new" or between, and what is wrong or ""."""

    stands: str
    wrong: str


def done(deed: Deed, folder: Path, moment: Moment) -> Ended:
    """Do a deed in a process of its own."""
    with _begun(deed, folder, moment) as one:
        assert one.stdout is not None
        one.stdout.readline()
        begun = time.monotonic()
        if deed.arguments == PAGE:
            _typed_on(one.stdout.readline().strip(), folder, one, moment)
        elif moment.clock is not None:
            time.sleep(moment.clock)
            one.send_signal(moment.number)
        try:
            lines = one.communicate(timeout=PATIENCE)[1].splitlines()
        except subprocess.TimeoutExpired:
            one.kill()
            raise
    assert one.returncode is not None
    steps = [int(line.split()[1]) for line in lines if line.startswith("steps ")]
    told = [line for line in lines if not line.startswith("steps ")]
    return Ended(one.returncode, told, steps[0] if steps else 0, time.monotonic() - begun)


def _begun(deed: Deed, folder: Path, moment: Moment) -> subprocess.Popen[str] | Forked:
    number, step = int(moment.number), moment.step
    if not moment.new:
        return Forked(folder, number, step, deed.arguments)
    command = [sys.executable, "-m", "tests.kills.steps", str(number), str(step), *deed.arguments]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.Popen(
        command, cwd=folder, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )


def _typed_on(address: str, folder: Path, server: subprocess.Popen[str] | Forked, moment: Moment) -> None:
    """Send a job's new text to the page, which is disturbed at its clock or else stopped when it has answered."""
    at = address.removeprefix("http://").rstrip("/")
    version = sha256((folder / "job.toml").read_bytes()).hexdigest()[:16]
    body = urlencode({"file": "job.toml", "text": TYPED, "version": version})
    connection = HTTPConnection(at, timeout=PATIENCE)
    headers = {"Origin": f"http://{at}", "Content-Type": "application/x-www-form-urlencoded"}
    try:
        connection.request("POST", "/job/text", body, headers)
        if moment.clock is None:
            connection.getresponse().read()
        else:
            time.sleep(moment.clock)
    except (OSError, HTTPException):  # the page is gone
        pass
    connection.close()
    if server.poll() is None and not moment.step:
        server.send_signal(moment.number or signal.SIGTERM)


@attrs.frozen
class Tried:
    """A deed with the state before it and after it, its steps and its seconds, in a folder of its own."""

    deed: Deed
    place: Path
    before: Mapping[str, object]
    after: Mapping[str, object]
    steps: int
    seconds: tuple[float, float]
    """Of a fork and of a new process."""

    @classmethod
    def of(cls, name: str, place: Path) -> Tried:
        """Do a deed undisturbed."""
        deed = DEEDS[name]
        prepared(deed, place / "old")
        folder = _fresh(place)
        ended = done(deed, folder, Moment())
        assert deed.is_done(ended.code) and beside(folder) == [], ended
        seconds = ended.seconds, done(deed, _fresh(place), Moment(new=True)).seconds
        return cls(deed, place, states(place / "old"), states(folder), ended.steps, seconds)

    def disturbed(self, moment: Moment) -> Trial:
        """Disturb the deed at a moment, look, and do it once more."""
        folder = _fresh(self.place)
        ended = done(self.deed, folder, moment)
        hidden, stands = beside(folder), self._stands(states(folder))
        wrong = self._wrong(moment, ended, stands, hidden) or self._wrong_next(folder, stands)
        return Trial(stands, f"{self.deed.arguments[:2]} {moment}: {stands}, {wrong}, {ended}" if wrong else "")

    def _stands(self, found: Mapping[str, object]) -> str:
        """Whether each name is old or new, whole, and what is changed first is new first."""
        changes = self.deed.changes
        for count in range(len(changes) + 1):
            if found == {**self.before, **{name: self.after[name] for name in changes[:count]}}:
                return "old" if not count else "new" if count == len(changes) else "begun"
        whole = found.keys() == self.after.keys() and "--book" not in self.deed.arguments
        return "new" if whole and _of_a_search_cut_short(found) else "neither"

    def _wrong(self, moment: Moment, ended: Ended, stands: str, hidden: list[str]) -> str:
        if stands == "neither" or moment.number == signal.SIGKILL:
            return "" if stands != "neither" else "not whole"
        if hidden:
            return f"left {hidden}"
        cut_short = stands == "old" and ended.lines == [f"mitertool: {phrase('rack.cut-short')}"]
        stopped = ended.code == 128 + moment.number and (ended.lines == ["mitertool: stopped"] or cut_short)
        early = (ended.lines, stands) == ([], "old") and ended.code in (-moment.number, 128 + moment.number)
        finished = self.deed.is_done(ended.code) and (stands == "new" or self.deed.arguments == PAGE)
        return "" if stopped or early or finished else "the message is not true"

    def _wrong_next(self, folder: Path, stands: str) -> str:
        """The next run does what this one did not and sweeps; what adds up is put back before."""
        if self.deed.adds_up and stands == "new":
            for name in self.deed.changes:
                shutil.copy(self.place / "old" / name, folder / name)
        ended = done(self.deed, folder, Moment())
        whole = self.deed.is_done(ended.code) and states(folder) == self.after
        return "" if whole and not beside(folder) else f"the next run: {ended}, beside it {beside(folder)}"


def _of_a_search_cut_short(found: Mapping[str, object]) -> bool:
    """Whether a packet is whole and has the plan that there was when Ctrl-C ended the search for a better one."""
    files = found.get("packet")
    if not isinstance(files, dict) or "plan.json" not in files:
        return False
    sums = json.loads(files[MANIFEST])["files"]
    whole = sums == {name: sha256(content).hexdigest() for name, content in files.items() if name != MANIFEST}
    return whole and b'"stopped": "interrupted"' in files["plan.json"]


def _fresh(place: Path) -> Path:
    """A folder in the state before the deed."""
    folder = place / "here"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(place / "old", folder)
    return folder
