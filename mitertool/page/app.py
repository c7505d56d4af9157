"""The page as an application: every screen and what answers where one fails; loads a screen when asked."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from http import HTTPStatus
from importlib import import_module
from importlib.resources import files
from typing import Final

from attrs import frozen
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Router
from starlette.staticfiles import StaticFiles
from starlette.types import Receive, Scope, Send

from mitertool.base.errors import MitertoolError
from mitertool.page.bench import Bench
from mitertool.page.folder import Folder
from mitertool.page.screen import Screen, page
from mitertool.words import phrase


@frozen
class Listed:
    """A screen by its module in `screens`, its address, and where else it answers: it is loaded when it is asked for.

    Addresses below these are its own too.
    """

    name: str
    path: str
    also: tuple[str, ...] = ()

    @property
    def code(self) -> str:
        """That of its name in the list of screens."""
        return f"page.{self.name}"

    @property
    def screen(self) -> Screen:
        """The screen itself, loaded now."""
        found: Screen = import_module(f"mitertool.page.screens.{self.name}").SCREEN
        return found


SCREENS: Final = (
    Listed("home", "/"),
    Listed("cut", "/cut"),
    Listed("frame", "/frame", ("/corner",)),
    Listed("jobs", "/jobs", ("/job", "/packet", "/first-piece")),
    Listed("saw", "/saw"),
    Listed("practice", "/practice"),
)
"""All screens, in the order in which they are listed."""

_BY_PATH: Final = {path: screen for screen in SCREENS for path in (screen.path, *screen.also)}


@cache
def _answers(screen: Listed) -> Router:
    return Router(routes=screen.screen.routes)


async def _screen(scope: Scope, receive: Receive, send: Send) -> None:
    """Hands a request to the screen of its address."""
    screen = _BY_PATH.get(f"/{scope['path'].split('/')[1]}")
    if screen is None:
        raise HTTPException(HTTPStatus.NOT_FOUND)
    await _answers(screen)(scope, receive, send)


def page_app(folder: Folder) -> Starlette:
    """The application that shows a folder."""
    static = StaticFiles(directory=str(files("mitertool.page").joinpath("static")))
    routes = [Mount("/static", static), Mount("/", _screen)]
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
