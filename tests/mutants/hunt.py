"""Commands run on spoiled files and arguments, in this process; what they may not end in is told."""

from __future__ import annotations

import io
import os
import resource
import shlex
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from random import Random
from time import process_time
from typing import Any, Final, NamedTuple

from mitertool.cli.main import run
from mitertool.sections import catalogue
from tests.mutants.mutate import NUMBERS, TEXTS, spoiled

ROOT: Final = Path(__file__).resolve().parents[2]
LONGEST: Final = 10.0
"""Seconds of the processor that a refusal may take."""

MOST: Final = 1.0
"""GB that a command may take."""


class Found(NamedTuple):
    """A command that ended as none may."""

    seed: int
    why: str
    arguments: tuple[str, ...]


class Source(NamedTuple):
    """A file to spoil, the name it stands under, the files it needs beside it, and the commands that read it."""

    file: Path
    name: str
    beside: tuple[Path, ...]
    commands: tuple[str, ...]


SAWS: Final = ROOT / "gallery" / "saws"
STRAKE: Final = ROOT / "gallery" / "keel-jig" / "strake.dxf"
SMALL: Final = ROOT / "tests" / "mutants" / "small"
SHELF: Final = SMALL / "SHELF-SHOP.toml"
"""A profile file of a shop; each file of the catalogue is read once in a process."""

SOURCES: Final = (
    Source(SMALL / "job.toml", "job.toml", (SMALL / "saw.toml",), ("check job.toml", "nest job.toml --compare")),
    Source(
        SMALL / "job.toml", "job.toml", (SMALL / "saw.toml",), ("check job.toml --json", "check job.toml --units in")
    ),
    Source(SMALL / "saw.toml", "saw.toml", (SMALL / "job.toml",), ("saw check saw.toml", "check job.toml")),
    Source(SMALL / "saw.toml", "saw.toml", (), ("cut 'RHS 80x40x3' --miter 30 --bevel 10 --saw saw.toml",)),
    Source(
        SAWS / "column.toml", "saw.toml", (), ("saw check saw.toml", "cut 'L 50x50x5' --miter 40 --saw saw.toml --json")
    ),
    Source(SMALL / "space.toml", "job.toml", (SMALL / "saw.toml",), ("check job.toml",)),
    Source(SMALL / "shapes.toml", "job.toml", (), ("check job.toml",)),
    Source(
        SMALL / "parts.csv",
        "parts.csv",
        (),
        ("check parts.csv --angles 'from square'", "check parts.csv --angles 'from bar' --json"),
    ),
    Source(
        SMALL / "done.csv", "done.csv", (SMALL / "job.toml", SMALL / "saw.toml"), ("nest job.toml --done done.csv",)
    ),
    Source(
        ROOT / "gallery" / "loft-window" / "window.dxf",
        "window.dxf",
        (),
        ("frame drawing --file window.dxf --line outside --drawing-units mm --section 'SHS 50x50x3'",),
    ),
    Source(STRAKE, "strake.dxf", (SMALL / "own.toml",), ("check own.toml",)),
    Source(SMALL / "own.toml", "own.toml", (STRAKE,), ("check own.toml",)),
    Source(SMALL / "money.toml", "job.toml", (SMALL / "saw.toml",), ("nest job.toml --compare --json",)),
    Source(SMALL / "saw.toml", "saw.toml", (SMALL / "money.toml",), ("nest money.toml --json", "check money.toml")),
    Source(
        SHELF,
        SHELF.name,
        (),
        ("section --list SHELF", "section 'SHELF 60x40x3' --json", "cut 'SHELF 80x40x3' --miter 30 --bevel 5"),
    ),
)

CALLS: Final = (
    "cut 'RHS 80x40x3' --miter 45 --bevel 10 --kerf 1.3 --end left",
    "cut 'UPN 100' --miter 1:3 --lay 'toes up'",
    "piece 'L 50x50x5' --length 1200 --at long-point --left 45 --right 22.5 --working",
    "corner 'RHS 80x40x3' 'RHS 60x40x3' --angle 90",
    "section 'IPE 200' --lays",
    "section --like 80x40",
    "frame rectangle --section 'RHS 60x40x3' --width 900 --height 600 --measured outside",
    "frame polygon --section 'SHS 40x40x3' --sides 6 --across-flats 800 --measured outside",
    "frame hopper --thickness 6 --sides 4 --measured inside --bottom 300 --top 600 --height 400",
    "frame bend --section 'CHS 60.3x3.2' --angle 90 --cuts 3 --radius 200",
    "first-piece 'RHS 80x40x3' --length 1200 --long 1201 --short 1119 --left 45 --way rolled",
    "schema job",
    "saw check small/saw.toml",
    "nest --section 'RHS 80x40x3' --length 500 --bar 6000 --kerf 1.2",
    "practice --saw small/saw.toml --count 3 --seed 3 --out out",
)


class _TooLong(BaseException):
    """The clock ran out; no handler of errors takes it for one of its own."""


@contextmanager
def _within(seconds: float) -> Iterator[None]:
    def out(*_: Any) -> None:
        raise _TooLong

    signal.signal(signal.SIGPROF, out)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def attempt(seed: int, folder: Path) -> Found | None:
    """One spoiled input of a seed, in an empty folder, the working one; what is wrong with how it ends, or None."""
    lot = Random(seed)
    arguments = _spoiled_call(lot) if lot.random() < 0.25 else _spoiled_file(lot, folder)
    why = _ended(arguments)
    return Found(seed, why, tuple(arguments)) if why else None


def _spoiled_file(lot: Random, folder: Path) -> list[str]:
    source = lot.choice(SOURCES)
    if source.name == SHELF.name:
        catalogue._read.cache_clear()
    for file in source.beside:
        (folder / file.name).write_bytes(file.read_bytes())
    (folder / source.name).write_bytes(spoiled(source.file.read_bytes(), lot))
    return shlex.split(lot.choice(source.commands))


def _spoiled_call(lot: Random) -> list[str]:
    words = shlex.split(lot.choice(CALLS))
    for _ in range(lot.choice((1, 1, 2))):
        at = lot.randrange(len(words))
        way = lot.randrange(5)
        if way == 0:
            words[at] = lot.choice(NUMBERS).decode()
        elif way == 1:
            words[at] = lot.choice(TEXTS).decode("utf-8", "surrogateescape")
        elif way == 2:
            words[at] = spoiled(words[at].encode("utf-8", "surrogateescape"), lot).decode("utf-8", "surrogateescape")
        elif way == 3 and len(words) > 1:
            del words[at]
        else:
            words.insert(at, lot.choice(words))
    return words


def _ended(arguments: Sequence[str]) -> str:
    said, begun = io.StringIO(), process_time()
    try:
        with _within(LONGEST), redirect_stderr(said), redirect_stdout(io.StringIO()):
            code = run(arguments)
    except _TooLong:
        return f"longer than {LONGEST:g} s"
    except BaseException as error:
        return f"raised {type(error).__name__}: {error}"
    lines = said.getvalue().splitlines()
    if code not in (0, 1, 2):
        return f"ended in {code}: {lines[-1] if lines else ''}"
    if code == 2 and not lines:
        return "ended in 2 without a line"
    if any("Traceback" in line for line in lines):
        return "a trace"
    spent = process_time() - begun
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    return f"memory {memory:.2f} GB" if memory > MOST else f"{spent:.1f} s" if spent > LONGEST else ""


def hunt(seeds: Sequence[int], folder: Path, tell: Callable[[Found], object] = lambda _: None) -> list[Found]:
    """All that is found among the seeds, each tried in a folder of its own beneath `folder`."""
    found = []
    home = Path.cwd()
    for seed in seeds:
        place = folder / str(seed % 97)
        place.mkdir(exist_ok=True)
        (place / "small").exists() or (place / "small").symlink_to(SMALL)
        os.chdir(place)
        os.environ["MITERTOOL_PROFILES"] = str(place)
        try:
            one = attempt(seed, place)
        finally:
            os.chdir(home)
            del os.environ["MITERTOOL_PROFILES"]
        if one:
            found.append(one)
            tell(one)
    return found


if __name__ == "__main__":
    import tempfile

    first, count = (int(text) for text in sys.argv[1:3])
    with tempfile.TemporaryDirectory() as place:
        bad = hunt(range(first, first + count), Path(place), lambda one: sys.stdout.write(f"{one}\n"))
    sys.stdout.write(f"{count} inputs from seed {first} on: {len(bad)} ended as none may\n")
