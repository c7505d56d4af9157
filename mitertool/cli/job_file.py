"""The job that a command reads, from a file or from a pipe, and the saw file that serves it; knows job."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Annotated, Final

import typer

from mitertool.base.errors import BadInput
from mitertool.cli.commands import options
from mitertool.cli.default_saw import NO_SAW, DefaultSaw, default_saw, tell
from mitertool.cli.options import Sawn
from mitertool.job import Job, load
from mitertool.job.read import SawFile
from mitertool.words import phrase


@options
class SawOfAJob(Sawn):
    """A saw that goes before the one that a job names."""

    saw: Annotated[Path | None, typer.Option("--saw", help="option.saw-of-a-job.saw")] = None

    def read_from(self, file: Path) -> Job:
        """A job with its saw. From standard input, what it names lies in the folder one stands in."""
        piped = str(file) == "-"
        return self.with_saw(partial(load, phrase("what.stdin") if piped else file, _piped() if piped else None))

    def with_saw(self, made: Callable[[SawFile], Job]) -> Job:
        """A job made with the saw file that serves it; a default one is told of."""
        told: list[DefaultSaw] = []
        job = made(partial(self._for_job, told))
        for found in told:
            tell(found)
        return job

    def _for_job(self, told: list[DefaultSaw], own: Path | None) -> Path | None:
        """The saw file of the command, or else `own`, that of the job, or the default one, told of."""
        if self.saw is not None:
            return None if str(self.saw) == NO_SAW else self.saw
        found = default_saw() if own is None else None
        if found is None:
            return own
        told.append(found)
        return found.file


JOB: Final = typer.Argument(help="option.job", metavar="JOB")


@options
class JobRead(SawOfAJob):
    """A job, and a saw other than its own."""

    job: Annotated[Path, JOB]

    def read(self) -> Job:
        """The job with its saw."""
        return self.read_from(self.job)


def _piped() -> bytes:
    if sys.stdin is None:
        raise BadInput("job", "-", phrase("refuse.stdin"))
    return sys.stdin.buffer.read()
