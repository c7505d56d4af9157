"""The process of a deed: counts the steps of its writing, and sends itself a signal at one of them.

A step is what the process asks of the system within its working folder, as Python's audit hook tells it before it is
done (a file opened to write, a name that is made, changed or taken away), or so many instructions of a database. So
every moment between two steps can be tried, which a clock seldom meets.

python -m tests.kills.steps NUMBER STEP ARGUMENTS of mitertool; STEP 0 disturbs nothing and tells the count at the end
"""

from __future__ import annotations

import os
import signal
import sqlite3
import sys
from pathlib import Path
from typing import Any, Final

WRITES: Final = frozenset({"os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "os.scandir"})
INSTRUCTIONS: Final = 60
"""Of SQLite, from one step to the next."""


class Steps:
    """The audit hook."""

    def __init__(self, number: int, step: int) -> None:
        self.number = number
        self.step = step
        self.count = 0

    def __call__(self, event: str, given: tuple[Any, ...]) -> None:
        """Count what is a step."""
        if _is_step(event, given):
            self.one()

    def one(self) -> None:
        """One step more, and the signal before it is done."""
        self.count += 1
        if self.count == self.step:
            os.kill(os.getpid(), self.number)

    def connected(self, *given: Any, **named: Any) -> sqlite3.Connection:
        """A database whose instructions are steps where the process is killed; it hears no other signal there."""
        file = sqlite3.Connection(*given, **named)
        if self.number in (0, signal.SIGKILL):
            file.set_progress_handler(self.one, INSTRUCTIONS)
        return file


def _is_step(event: str, given: tuple[Any, ...]) -> bool:
    if event == "ctypes.dlsym":
        return given[1] == "renameat2"
    writes = event in WRITES or (event == "open" and given[2] & (os.O_WRONLY | os.O_RDWR))
    if not writes or isinstance(given[0], int):
        return False
    return Path(os.fsdecode(given[0] or ".")).absolute().is_relative_to(Path.cwd())


def run(number: int, step: int, arguments: list[str]) -> int:
    """Do a deed in this process, which is of no use afterwards: nothing takes the hook away."""
    steps = Steps(number, step)
    sys.argv[1:] = arguments
    sys.addaudithook(steps)
    sqlite3.connect = steps.connected  # type: ignore[assignment]
    sys.stdout.write("begun\n")
    sys.stdout.flush()
    from mitertool.__main__ import main

    code = main()
    if not steps.step:
        sys.stderr.write(f"steps {steps.count}\n")
    return code


if __name__ == "__main__":
    sys.exit(run(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3:]))
