"""A first piece of a job as a form: what was measured, what is wrong, how sure that is, what to change; knows proof."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from http import HTTPStatus
from typing import Any, Final

import attrs
from attrs import frozen
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.job import Job
from mitertool.packet.cautions import short
from mitertool.packet.first_piece_told import change_rows, fit_rows, rows_but_change
from mitertool.page.posted import posts
from mitertool.page.screen import folder_of, page
from mitertool.page.shop import TextFile, job_of
from mitertool.piece import Piece
from mitertool.quantity import Units, angle, length_from_zero, positive_length, show_angle, show_length
from mitertool.saw import keep_offset, measurement
from mitertool.saw.proof.advice import NOTHING
from mitertool.saw.proof.first_piece import TIPS, WAYS, FirstPiece, Measured, first_piece, openings
from mitertool.words import phrase

_LENGTHS: Final = ("long", "short", "width")
_ANGLES: Final = ("left", "right")
_NEEDED: Final = ("long", "short")


@frozen
class Verdict:
    """What is told of the measures of a piece, or what is wrong with them; nothing where none are given."""

    rows: list[tuple[str, str]] = attrs.field(factory=list)
    wrong: tuple[str, ...] = ()
    found: FirstPiece | None = None
    measured: Measured | None = None
    change: list[tuple[str, str]] = attrs.field(factory=list)

    @property
    def correction(self) -> float | None:
        """What the scale's kept offset should become, where that is surely known."""
        return self.found.correction if self.found else None


def judged(request: Request) -> Response:
    """The form of a mark, and below it the verdict once it is filled in."""
    return _judged(request, request.query_params, ())


def keep(request: Request, given: Mapping[str, str]) -> Response:
    """Keep the correction in the saw file, computed again from the same measures."""
    file = TextFile.of(folder_of(request), given.get("file", ""))
    job = job_of(folder_of(request), file)
    piece = _piece(job, given.get("mark", ""))
    verdict = _verdict(piece, job, given)
    if verdict.correction is None or verdict.measured is None or not job.saw_path:
        return _judged(request, given, (phrase("kept.right"),))
    saw_file = job.path.parent / job.saw_path
    told = keep_offset(saw_file, verdict.correction, date.today(), measurement(piece, verdict.measured)).says
    return _judged(request, given, told)


def _judged(request: Request, given: Mapping[str, str], kept: tuple[str, ...]) -> Response:
    file = TextFile.of(folder_of(request), given.get("file", ""))
    job = job_of(folder_of(request), file)
    piece = _piece(job, given.get("mark", ""))
    view: dict[str, Any] = {
        "file": file.name,
        "mark": given["mark"],
        "given": dict(given),
        "drawn": _drawn(piece, job.head.units),
        "asked": {"lengths": _LENGTHS, "angles": _ANGLES, "ways": WAYS, "tips": TIPS, "needed": _NEEDED},
        "saw": job.saw_path,
        "verdict": _verdict(piece, job, given),
        "kept": kept,
        "caution": short(),
    }
    status = HTTPStatus.BAD_REQUEST if view["verdict"].wrong else HTTPStatus.OK
    return page(request, "first_piece.html", status, **view)


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


def _verdict(piece: Piece, job: Job, given: Mapping[str, str]) -> Verdict:
    if not any(given.get(name) for name in _LENGTHS):
        return Verdict()
    units = job.head.units
    try:
        measured = _measured(given, units)
        way = given.get("way") if given.get("way") in WAYS else None
        stop = given.get("stop", "")
        if way is None and job.saw is None:
            raise BadInput("way", phrase("found.no-way"), phrase("refuse.no-way", ways=", ".join(WAYS)))
        found = first_piece(piece, measured, way, None, job.saw, stop if stop in TIPS else "")
    except MitertoolError as error:
        return Verdict(wrong=error.lines)
    rows, fit = rows_but_change(found, units), fit_rows(openings(piece, found), (), units)
    change = change_rows(found, units)
    if found.change == (NOTHING,):  # what opens all the same is told before that nothing is changed
        return Verdict(rows, (), found, measured, [*fit, *change])
    return Verdict([*rows, *fit], (), found, measured, change)


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


ROUTES: Final = (Route("/first-piece", judged), posts("/first-piece/keep", keep))
