"""A fork of this process that does a deed: all is loaded already, which takes most of the time of a new one."""

from __future__ import annotations

import os
import signal
import sys
import time
from contextlib import suppress
from pathlib import Path
from subprocess import TimeoutExpired
from typing import Final, NoReturn

from tests.kills.steps import run

_LOOKS: Final = 0.005
"""Seconds between two looks whether it has ended."""


class Forked:
    """As much of `subprocess.Popen` as is asked of it."""

    def __init__(self, folder: Path, number: int, step: int, arguments: tuple[str, ...]) -> None:
        self._err = folder.parent / "err"
        self._err.write_bytes(b"")
        reading, writing = os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            _child(folder, self._err, writing, number, step, arguments)
        os.close(writing)
        self.stdout = os.fdopen(reading)
        self.returncode: int | None = None

    def poll(self) -> int | None:
        """The code where it has ended, below 0 by a signal."""
        if self.returncode is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self.returncode = os.waitstatus_to_exitcode(status) if pid else None
        return self.returncode

    def send_signal(self, number: int) -> None:
        """Where it still runs."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """At once."""
        self.send_signal(signal.SIGKILL)

    def communicate(self, timeout: float) -> tuple[str, str]:
        """What it said, when it has ended."""
        until = time.monotonic() + timeout
        while self.poll() is None:
            if time.monotonic() > until:
                raise TimeoutExpired("fork", timeout)
            time.sleep(_LOOKS)
        with self.stdout as out:
            return out.read(), self._err.read_text()

    def __enter__(self) -> Forked:
        return self

    def __exit__(self, *_: object) -> None:
        self.stdout.close()


def _child(folder: Path, err: Path, out: int, number: int, step: int, arguments: tuple[str, ...]) -> NoReturn:
    """Never comes back."""
    code = 128 + signal.SIGINT
    try:
        os.chdir(folder)
        os.dup2(out, 1)
        os.dup2(os.open(err, os.O_WRONLY | os.O_APPEND), 2)
        sys.stdout, sys.stderr = os.fdopen(1, "w"), os.fdopen(2, "w", buffering=1)
        with suppress(KeyboardInterrupt):  # before the program hears it
            code = run(number, step, list(arguments))
        sys.stdout.flush()
        sys.stderr.flush()
    finally:
        os._exit(code)
