"""A list of parts given in the place of a job: what is said of it, and how it was read; knows lists and job."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Annotated, Any

import typer

from mitertool.cli.commands import choice, options
from mitertool.cli.options import aligned
from mitertool.job import Job
from mitertool.job.model import PieceOrder
from mitertool.lists import PartsList
from mitertool.lists.keys import ANGLES, LIST_UNITS
from mitertool.lists.numbers import DECIMAL
from mitertool.piece import AT
from mitertool.quantity import Units, show_angle, show_length
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
    orders = {order.mark: order for order in job.pieces}
    for one in job.lists:
        told = {"file": one.file, "rows": len(one.rows), "header": one.columns.header}
        yield phrase("list.echo.read" if one.columns.header else "list.echo.read-bare", **told)
        if one.columns.not_read:
            yield phrase("list.echo.not-read", file=one.file, headings=", ".join(one.columns.not_read))
        yield from aligned(
            [_head(one), *(_row(one, row.number, dict(row.written), orders[row.mark], unit) for row in one.rows)]
        )
        yield ""


def in_a_job(job: Job, said: Mapping[str, Any]) -> Iterator[str]:
    """The same list as a table of a job file."""
    yield phrase("list.echo.in-a-job")
    yield "[[list]]"
    for key, value in {"file": job.path.name, **said}.items():
        yield f"{key} = {json.dumps(value, ensure_ascii=False)}"


def _head(one: PartsList) -> tuple[str, ...]:
    headings = (f"{column.heading or key} ({column.cell(0)[:-1]})" for key, column in one.columns.read.items())
    return (phrase("list.echo.row"), *headings, phrase("list.echo.became"), "", "", "")


def _row(one: PartsList, number: int, written: Mapping[str, str], order: PieceOrder, unit: Units) -> tuple[str, ...]:
    piece = order.piece
    counts = ", ".join(
        phrase("list.echo.pieces", count=count, section=f"{piece.section.name} {mark}") for mark, count in order.counts
    )
    lengths = phrase(
        "list.echo.lengths", long=show_length(piece.long_point, unit), short=show_length(piece.short_point, unit)
    )
    left, right = ("; ".join(show_angle(cut.miter) for cut in piece.cuts(end)) for end in ("left", "right"))
    ends = phrase("list.echo.ends", left=left, right=right)
    return (str(number), *(written.get(key, "") for key in one.columns.read), counts, lengths, ends, order.grade)
