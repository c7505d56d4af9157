"""A list of parts given in the place of a job: what is said of it, and how it was read; knows lists and job."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Annotated, Any

import typer

from mitertool import packet
from mitertool.cli.commands import choice, options
from mitertool.cli.options import aligned
from mitertool.job import Job
from mitertool.lists.keys import ANGLES, LIST_UNITS
from mitertool.lists.numbers import DECIMAL
from mitertool.piece import AT
from mitertool.quantity import Units
from mitertool.words import phrase


@options
class OfList:
    """What is said once of a list of parts; the keys of a [[list]] in a job."""

    columns: Annotated[str, typer.Option(help="option.of-list.columns")] = ""
    ignore: Annotated[str, typer.Option(help="option.of-list.ignore")] = ""
    at: Annotated[str, choice("option.of-list.at", AT, "--at")] = ""
    angles: Annotated[str, choice("option.of-list.angles", ANGLES, "--angles")] = ""
    bare: Annotated[str, choice("option.of-list.bare", LIST_UNITS, "--bare")] = ""
    decimal: Annotated[str, choice("option.of-list.decimal", tuple(DECIMAL), "--decimal")] = ""
    sheet: Annotated[str, typer.Option(help="option.of-list.sheet")] = ""
    header: Annotated[str, typer.Option(help="option.of-list.header")] = ""
    section: Annotated[str, typer.Option(help="option.of-list.section")] = ""
    grade: Annotated[str, typer.Option(help="option.of-list.grade")] = ""

    @property
    def said(self) -> dict[str, str]:
        """The keys of a [[list]] that were given."""
        keys = ("columns", "ignore", "at", "angles", "decimal", "sheet", "header", "section", "grade")
        given = {key: getattr(self, key) for key in keys} | {"units": self.bare}
        return {key: value for key, value in given.items() if value}


def list_lines(job: Job, unit: Units) -> Iterator[str]:
    """How the lists of a job were read, row by row, and what each row became."""
    if not job.lists:
        return
    for one in packet.lists_told.lists_told(job, unit):
        yield one.read
        if one.not_read:
            yield one.not_read
        yield from aligned(one.rows)
        yield ""


def in_a_job(job: Job, said: Mapping[str, Any]) -> Iterator[str]:
    """The same list as a table of a job file."""
    yield phrase("list.echo.in-a-job")
    yield "[[list]]"
    for key, value in {"file": job.path.name, **said}.items():
        yield f"{key} = {json.dumps(value, ensure_ascii=False)}"
