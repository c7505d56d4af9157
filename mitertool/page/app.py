"""The page as an application: every screen and what answers where one fails; knows the screens."""

from __future__ import annotations

from collections.abc import Sequence
from http import HTTPStatus
from importlib.resources import files
from typing import Final

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from mitertool.base.errors import MitertoolError
from mitertool.page.bench import Bench
from mitertool.page.folder import Folder
from mitertool.page.screen import Screen, page
from mitertool.page.screens import cut, home, jobs, practice
from mitertool.words import phrase

SCREENS: Final[tuple[Screen, ...]] = (home.SCREEN, cut.SCREEN, jobs.SCREEN, practice.SCREEN)
"""All screens, in the order in which they are listed."""


def page_app(folder: Folder) -> Starlette:
    """The application that shows a folder."""
    static = StaticFiles(directory=str(files("mitertool.page").joinpath("static")))
    routes = [*(route for screen in SCREENS for route in screen.routes), Mount("/static", static)]
    failed = {MitertoolError: _bad_input, HTTPException: _not_there, Exception: _fault}
    made = Starlette(routes=routes, exception_handlers=failed)  # type: ignore[arg-type]
    made.state.folder, made.state.screens, made.state.bench = folder, SCREENS, Bench()
    return made


def _bad_input(request: Request, error: MitertoolError) -> Response:
    return _failed(request, error.lines, HTTPStatus.BAD_REQUEST)


def _not_there(request: Request, error: HTTPException) -> Response:
    return _failed(request, [phrase("page.no-page")], HTTPStatus(error.status_code))


def _fault(request: Request, error: Exception) -> Response:
    says = phrase("main.fault", kind=type(error).__name__, error=error)
    return _failed(request, [says], HTTPStatus.INTERNAL_SERVER_ERROR)


def _failed(request: Request, lines: Sequence[str], status: HTTPStatus) -> Response:
    return page(request, "failed.html", status, lines=lines)
