"""A corner of two members, live: sections and angle in, or slopes on a landing; miters, seam and drawing out."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, Final

from attrs import frozen
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.frame import corner as solve
from mitertool.frame import landing
from mitertool.frame.landings import TO
from mitertool.frame.rails import TOPS
from mitertool.job import one_frame
from mitertool.packet.cautions import short
from mitertool.packet.corner_told import corner_rows, landing_rows
from mitertool.packet.pages.fitter.picture import frame_drawing
from mitertool.page.asked import address, asked
from mitertool.page.screen import asks_part, page, part, picture
from mitertool.quantity import UNITS, Units, angle, slope_angle, units
from mitertool.sections import section
from mitertool.words import phrase

PATH: Final = "/corner"
_LEG: Final = 8
"""Widths of the wider member that each is drawn long."""


@frozen
class CornerAsked:
    """What the address asks for; with `slopes`, of the members before and after, the corner lies on a landing."""

    first: str = "RHS 80x40x3"
    second: str = ""
    angle: str = "90"
    slopes: str = ""
    to: str = TO[0]
    tops: str = TOPS[0]
    units: str = "mm"


def corner(request: Request) -> Response:
    """The whole screen, or what of it changes with the corner."""
    wanted = asked(CornerAsked, request.query_params)
    rows, drawing, wrong = _answer(wanted)
    view: dict[str, Any] = {"asked": wanted, "rows": rows, "drawing": drawing, "wrong": wrong, "caution": short()}
    if not asks_part(request):
        status = HTTPStatus.BAD_REQUEST if wrong else HTTPStatus.OK
        return page(request, "corner.html", status, choices=(TO, TOPS, UNITS), **view)
    if wrong:
        return part(request, "frame_wrong.html", "wrong", **view, hx=True)
    answer = part(request, "corner_part.html", "answer", **view, hx=True)
    answer.headers["HX-Replace-Url"] = address(PATH, wanted)
    return answer


def _answer(wanted: CornerAsked) -> tuple[list[tuple[str, str]], Markup | None, tuple[str, ...]]:
    try:
        unit = units(wanted.units, "units")
        if wanted.slopes.strip():
            return _landing_rows(wanted), None, ()
        return _plane_rows(wanted, unit), _drawn(wanted, unit), ()
    except MitertoolError as error:
        return [], None, error.lines


def _plane_rows(wanted: CornerAsked, unit: Units) -> list[tuple[str, str]]:
    first = section(wanted.first)
    second = section(wanted.second) if wanted.second.strip() else first
    return corner_rows(first, second, solve(first.width, second.width, angle(wanted.angle, "angle")), unit)


def _landing_rows(wanted: CornerAsked) -> list[tuple[str, str]]:
    if wanted.second.strip():
        raise BadInput(phrase("page.corner/second"), wanted.second, phrase("refuse.one-member"))
    given = wanted.slopes.split()
    if len(given) != 2:
        raise BadInput(phrase("page.corner/slopes"), wanted.slopes, phrase("refuse.two-slopes"))
    before, after = (slope_angle(one, "slopes") if ":" in one else angle(one, "slopes") for one in given)
    found = landing(section(wanted.first), (before, after), angle(wanted.angle, "angle"), wanted.to, wanted.tops)
    return landing_rows(found)


def _drawn(wanted: CornerAsked, unit: Units) -> Markup | None:
    """The corner from above; None where the sections must say first how they lie in a frame."""
    sections = [section(name) for name in (wanted.first, wanted.second) if name.strip()]
    leg = _LEG * max(one.width for one in sections)
    names = [wanted.first, wanted.second.strip() or wanted.first]
    keys = {"mark": "F", "shape": "polygon", "section": names, "closed": False, "measured": "centerline"}
    try:
        solved = one_frame({**keys, "lengths": [f"{leg} mm"] * 2, "angles": [wanted.angle]}, unit, None)
    except MitertoolError:
        return None
    drawing = frame_drawing(solved.frames[0].assembly, unit, 100, 80, marked=False)
    return picture(drawing, phrase("page.corner.drawn"))
