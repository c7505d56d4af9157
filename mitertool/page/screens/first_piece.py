"""A first piece of a job as a form: what was measured, what is wrong, how sure that is, what to change; knows proof."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.job import Job
from mitertool.packet.cautions import short
from mitertool.packet.first_piece_told import finding_rows, fit_rows
from mitertool.page.screen import folder_of, page
from mitertool.page.shop import TextFile, job_of
from mitertool.piece import Piece
from mitertool.quantity import Units, angle, length_from_zero, positive_length, show_angle, show_length
from mitertool.saw.proof.first_piece import TIPS, WAYS, Measured, first_piece, openings
from mitertool.words import phrase

_LENGTHS: Final = ("long", "short", "width")
_ANGLES: Final = ("left", "right")
_NEEDED: Final = ("long", "short")


def judged(request: Request) -> Response:
    """The form of a mark, and below it the verdict once it is filled in."""
    given = dict(request.query_params)
    file = TextFile.of(folder_of(request), given.get("file", ""))
    job = job_of(folder_of(request), file)
    piece, units = _piece(job, given.get("mark", "")), job.head.units
    rows, wrong = _verdict(piece, job, given)
    view = {"file": file.name, "mark": given["mark"], "given": given, "rows": rows, "wrong": wrong, "caution": short()}
    drawn = _drawn(piece, units)
    status = HTTPStatus.BAD_REQUEST if wrong else HTTPStatus.OK
    asked = {"lengths": _LENGTHS, "angles": _ANGLES, "ways": WAYS, "tips": TIPS, "needed": _NEEDED, "units": units}
    return page(request, "first_piece.html", status, drawn=drawn, asked=asked, saw=job.saw, **view)


def _piece(job: Job, mark: str) -> Piece:
    """The piece of a mark, of either hand. Raises `BadInput` for a mark that the job has not."""
    for order in job.pieces:
        if mark in order.marks:
            return order.piece if mark == order.mark else order.piece.opposite_hand()
    raise BadInput("mark", mark, ", ".join(mark for order in job.pieces for mark in order.marks))


def _drawn(piece: Piece, units: Units) -> list[tuple[str, str]]:
    """What the drawing says of it."""
    return [
        (phrase("screen.section"), piece.section.name),
        (phrase("screen.long_point"), show_length(piece.long_point, units)),
        (phrase("screen.short_point"), show_length(piece.short_point, units)),
        (phrase("screen.left"), show_angle(piece.left.miter)),
        (phrase("screen.right"), show_angle(piece.right.miter)),
    ]


def _verdict(piece: Piece, job: Job, given: Mapping[str, str]) -> tuple[list[tuple[str, str]], tuple[str, ...]]:
    """What is told of the measures, or what is wrong with them; nothing where none are given."""
    if not any(given.get(name) for name in _LENGTHS):
        return [], ()
    units = job.head.units
    try:
        measured = _measured(given, units)
        way = given.get("way") if given.get("way") in WAYS else None
        stop = given.get("stop", "")
        if way is None and job.saw is None:
            raise BadInput("way", phrase("found.no-way"), phrase("refuse.no-way", ways=", ".join(WAYS)))
        found = first_piece(piece, measured, way, None, job.saw, stop if stop in TIPS else "")
    except MitertoolError as error:
        return [], error.lines
    return [*finding_rows(found, units), *fit_rows(openings(piece, found), (), units)], ()


def _measured(given: Mapping[str, str], units: Units) -> Measured:
    def named(name: str) -> str:
        return phrase(f"page.first/{name}")

    width, left, right = (given.get(name, "") for name in ("width", "left", "right"))
    return Measured(
        long=positive_length(given.get("long", ""), units, named("long")),
        short=length_from_zero(given.get("short", ""), units, named("short")),
        width=positive_length(width, units, named("width")) if width else None,
        left=angle(left, named("left")) if left else None,
        right=angle(right, named("right")) if right else None,
    )


ROUTES: Final = (Route("/first-piece", judged),)
