"""What mitertool writes: a packet over an old one and with its booking, a correction, what is done, the rack, a job.

Each deed knows how its folder stands before it, as bytes or as what a database tells, and how it is done.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import sqlite3
from collections.abc import Callable
from contextlib import redirect_stdout
from pathlib import Path
from typing import Final, NamedTuple

from mitertool.cli.main import run

ROOT: Final = Path(__file__).resolve().parents[2]
SMALL: Final = ROOT / "tests" / "mutants" / "small"


class Deed(NamedTuple):
    """What stands before (made in an empty folder, the working one), the command, and what it changes in which order.

    Each name of `changes` is changed in one moment.
    """

    prepare: Callable[[], None]
    arguments: tuple[str, ...]
    changes: tuple[str, ...]
    adds_up: bool = False
    """Whether doing it twice is not the same as once."""

    def is_done(self, code: int) -> bool:
        """Whether a process that did it ends so: the page is told to end, by Ctrl-C (its usual end) or otherwise."""
        return code in ((0, 128 + signal.SIGTERM) if self.arguments == PAGE else (0,))


def prepared(deed: Deed, folder: Path) -> None:
    """Make in a folder, which is new or empty, what stands there before a deed."""
    folder.mkdir(parents=True, exist_ok=True)
    home = Path.cwd()
    os.chdir(folder)
    try:
        deed.prepare()
    finally:
        os.chdir(home)


def states(folder: Path) -> dict[str, object]:
    """What anybody sees under each name of a folder: bytes, of a rack what it tells; what lies beside is left out."""
    return {path.name: _state(path) for path in folder.iterdir() if not _is_beside(path)}


def beside(folder: Path) -> list[str]:
    """What lies hidden in a folder: names that a run leaves which was killed."""
    return sorted(path.name for path in folder.iterdir() if _is_beside(path))


def _is_beside(path: Path) -> bool:
    return path.name.startswith(".") or path.name.endswith("-journal")


def _state(path: Path) -> object:
    if path.is_dir():
        return {one.relative_to(path).as_posix(): one.read_bytes() for one in path.rglob("*") if one.is_file()}
    return _told(path) if path.suffix == ".sqlite" else path.read_bytes()


def _told(path: Path) -> str:
    with sqlite3.connect(path) as file:
        assert file.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        told = "\n".join(file.iterdump())
    file.close()
    return told


def _small(*names: str) -> None:
    for name in names:
        shutil.copy(SMALL / name, name)


def _made(*arguments: str) -> None:
    with Path(os.devnull).open("w") as nowhere, redirect_stdout(nowhere):
        assert run(arguments) == 0, arguments


def _a_packet_of_before() -> None:
    """A job that was changed since its packet was written."""
    _small("job.toml", "saw.toml")
    job = Path("job.toml").read_text()
    Path("job.toml").write_text(job.replace("812.5", "799"))
    _made("packet", "job.toml", "--out", "packet")
    Path("job.toml").write_text(job)


def _job_on_a_rack() -> None:
    _a_packet_of_before()
    job = Path("job.toml").read_text()
    Path("job.toml").write_text(re.sub(r"\[nest\]", '[nest]\nrack = "rack.sqlite"\nkeep = 500', job, count=1))
    _made("rack", "add", "RHS 60x40x3", "2400", "--grade", "S235JRH", *_ADD[3:])


def _a_rack() -> None:
    _made(*_ADD, "1200")


def _a_saw() -> None:
    shutil.copy(ROOT / "gallery" / "saws" / "hinged.toml", "saw.toml")


def _some_done() -> None:
    _small("job.toml", "saw.toml")
    _made("done", "job.toml", "--good", "STRUT=1")


def _a_job() -> None:
    _small("job.toml", "saw.toml")


_KEEP: Final = ("first-piece", "RHS 80x40x3", "--saw", "saw.toml", "--keep")
_MEASURED: Final = ("--length", "1200", "--left", "45", "--right", "45", "--long", "1201.5", "--short", "1118.5")
_ADD: Final = ("rack", "add", "L 50x50x5", "--rack", "rack.sqlite", "--date", "2026-10-02")
PAGE: Final = ("page", ".", "--port", "0", "--no-browser")
TYPED: Final = (SMALL / "job.toml").read_text().replace("812.5", "799")
_PACKET: Final = ("packet", "job.toml", "--out", "packet")
DEEDS: Final = {
    "packet": Deed(_a_packet_of_before, _PACKET, ("packet",)),
    "packet and booking": Deed(_job_on_a_rack, (*_PACKET, "--book"), ("packet", "rack.sqlite")),
    "keep": Deed(_a_saw, (*_KEEP, *_MEASURED), ("saw.toml",), True),
    "done": Deed(_some_done, ("done", "job.toml", "--good", "STRUT=1"), ("done.csv",), True),
    "rack": Deed(_a_rack, (*_ADD, "900"), ("rack.sqlite",), True),
    "page": Deed(_a_job, PAGE, ("job.toml",)),
}
