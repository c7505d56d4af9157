"""What every screen is made of: its place and name, the folder it shows, its template; knows Starlette and Jinja."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from http import HTTPStatus
from typing import Any, Final

from attrs import frozen
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.drawing import Drawing, svg
from mitertool.page.folder import Folder
from mitertool.words import counted, phrase

Shown = Callable[[Request], Response]

_MARGIN: Final = 1.5
"""Paper mm about a picture."""


@frozen
class Screen:
    """A screen by the code of its name, its address and what answers there; `more` are further addresses of it.

    A screen whose code is "" stands in no list of screens.
    """

    code: str
    path: str
    shown: Shown
    more: tuple[Route, ...] = ()

    @property
    def routes(self) -> tuple[Route, ...]:
        """All its addresses."""
        return (Route(self.path, self.shown), *self.more)


def folder_of(request: Request) -> Folder:
    """The folder that the page shows."""
    folder: Folder = request.app.state.folder
    return folder


def asks_part(request: Request) -> bool:
    """Whether a page that is open asks for a part of itself only."""
    return request.headers.get("hx-request-type") == "partial"


def page(request: Request, template: str, status: HTTPStatus = HTTPStatus.OK, **view: Any) -> Response:
    """A whole page, or a part of one, of a template and what it shows."""
    shown = _templates().get_template(template)
    return HTMLResponse(shown.render(view, here=request.url.path, screens=request.app.state.screens), status)


def part(request: Request, template: str, place: str, **view: Any) -> Response:
    """A part of a page that is open, and the id of what it takes the place of.

    The place is told with the answer: what a waiting question found there when it was asked may have been replaced.
    """
    answer = page(request, template, **view)
    answer.headers["HX-Retarget"], answer.headers["HX-Reswap"] = f"#{place}", "outerHTML"
    return answer


def not_known(error: MitertoolError) -> str:
    """What is told of a section that is not known, above buttons of those that may be meant."""
    return phrase("page.not-known", name=error.found if isinstance(error, BadInput) else error)


def picture(drawing: Drawing, says: str) -> Markup:
    """A drawing as SVG for the inside of a page; `says` is read aloud in its place."""
    return Markup(svg.inline(drawing, says, _MARGIN))


@cache
def _templates() -> Environment:
    made = Environment(
        loader=PackageLoader("mitertool.page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals.update(phrase=phrase, counted=counted)
    return made
