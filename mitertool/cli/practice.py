"""`mitertool practice`: questions and answers by lot from a saw file and sections; knows practice, job and packet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Final

import typer

from mitertool.base.errors import BadInput
from mitertool.base.folders import write_whole_folder
from mitertool.cli.commands import command, options
from mitertool.cli.options import Printed, Sawn, answer, find_section
from mitertool.job import load
from mitertool.packet.cautions import short
from mitertool.packet.pages.practice.pages import practice_files
from mitertool.packet.records.earlier import whose
from mitertool.practice import USUAL, exercises
from mitertool.quantity.kinds import count
from mitertool.saw import Saw
from mitertool.sections import Section, section
from mitertool.words import phrase

_MOST: Final = 200


@options
class PracticeOptions(Sawn, Printed):
    """A saw, sections, and how many exercises of which set go where."""

    out: Annotated[Path, typer.Option("--out", metavar="FOLDER", help="option.practice.out")]
    count: Annotated[str, typer.Option("--count", help="option.practice.count")] = "12"
    seed: Annotated[str, typer.Option("--seed", help="option.practice.seed")] = "1"
    section: Annotated[list[str] | None, typer.Option("--section", help="option.practice.section")] = None
    job: Annotated[Path | None, typer.Option("--job", help="option.practice.job")] = None


@command(
    PracticeOptions,
    "practice --saw saw.toml --count 12 --seed 3 --out practice",
    "practice --saw saw.toml --section 'L 50x50x5' --section 'SHS 40x40x3' --out practice",
    "practice --job job.toml --out practice",
)
def practice(o: PracticeOptions) -> None:
    """What `mitertool practice` does."""
    many, seed = _whole(o.count, "--count", _MOST), _whole(o.seed, "--seed")
    machine, sections = _asked(o)
    drawn = exercises(machine, sections, many, seed)
    if whose(o.out):
        raise BadInput(phrase("what.output-folder"), str(o.out), phrase("refuse.practice-over"))
    files = practice_files(machine, drawn, seed)
    write_whole_folder(o.out, files)
    record = {"out": str(o.out), "files": sorted(files), "kinds": [exercise.kind for exercise in drawn]}
    answer(record, [str(o.out / name) for name in sorted(files)], o, short())


def _whole(given: str, what: str, most: int | None = None) -> int:
    number = int(given) if given.isascii() and given.isdigit() and len(given) < 10 else given
    found: int = count(1, most).read(number, what, "mm")
    return found


def _asked(o: PracticeOptions) -> tuple[Saw, list[Section]]:
    """The saw and the sections: those of a job where one is named, each once."""
    job = load(o.job) if o.job else None
    machine = o.machine() or (job.saw if job else None)
    if machine is None:
        raise BadInput("--saw", phrase("found.nothing"), phrase("refuse.needed"))
    named = [find_section(name, option="--section") for name in o.section or ()]
    of_job = [order.piece.section for order in job.pieces] if job else []
    sections = {one.name: one for one in (*named, *of_job)}
    return machine, list(sections.values()) or [section(name) for name in USUAL]
