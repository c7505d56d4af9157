"""Who may ask the page for what: its own address, its own forms, a key from the network; knows ASGI and words."""

from __future__ import annotations

from collections.abc import Callable
from hmac import compare_digest
from http import HTTPStatus
from secrets import token_urlsafe
from typing import Final
from urllib.parse import urlencode

import attrs
from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from mitertool.page.folder import LARGEST
from mitertool.words import phrase

_READS: Final = ("GET", "HEAD")
COOKIE: Final = "mitertool-browser"
KEY: Final = "key"

_HEADERS: Final = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",  # with none a browser does not tell of a form where it comes from
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "no-cache",
}
"""Sent with every answer that does not say otherwise itself."""


@attrs.define
class EntryKeys:
    """The key that lets one more browser in, and the browsers that were let in.

    `renewed` is called when a key was spent and another stands in its place.
    """

    renewed: Callable[[], None] = lambda: None
    key: str = attrs.field(factory=lambda: token_urlsafe(16))
    browsers: set[str] = attrs.field(factory=set)

    def known(self, browser: str) -> bool:
        """Whether a browser was let in."""
        return any(compare_digest(browser.encode(), one.encode()) for one in self.browsers)

    def spent(self, key: str) -> str:
        """The cookie of the browser that brings the key, which serves once; "" where it is not the key."""
        if not compare_digest(key.encode(), self.key.encode()):
            return ""
        browser = token_urlsafe(24)
        self.browsers.add(browser)
        self.key = token_urlsafe(16)
        self.renewed()
        return browser


@attrs.frozen
class Guard:
    """Lets a request through to `app` that names one of the `hosts`; with `keys` only of a browser that has one.

    Another host means that a name was bent to this address; another origin, that a page of elsewhere sends a form.
    """

    app: ASGIApp
    hosts: frozenset[str]
    keys: EntryKeys | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it before anybody reads it."""
        if scope["type"] != "http":
            return
        answer = self._refusal(Request(scope)) or self.app

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await answer(scope, receive, with_headers)

    def _refusal(self, request: Request) -> Response | None:
        if request.headers.get("host", "").lower() not in self.hosts:
            return _refused("host", HTTPStatus.MISDIRECTED_REQUEST)
        return self._of_elsewhere(request) or self._of_stranger(request) or _too_large(request)

    def _of_elsewhere(self, request: Request) -> Response | None:
        """What a page of another address sends, or wants to show as its own."""
        origin = request.headers.get("origin")
        own = origin is None if request.method in _READS else False
        if own or origin in {f"http://{host}" for host in self.hosts}:
            return None
        return _refused("origin", HTTPStatus.FORBIDDEN)

    def _of_stranger(self, request: Request) -> Response | None:
        """A browser that brings no cookie: let in where it brings the key, and sent on without it."""
        if self.keys is None or self.keys.known(request.cookies.get(COOKIE, "")):
            return None
        browser = self.keys.spent(request.query_params.get(KEY, ""))
        if not browser:
            return _refused("key", HTTPStatus.FORBIDDEN)
        left = [(name, value) for name, value in request.query_params.multi_items() if name != KEY]
        answer = RedirectResponse(request.url.path + (f"?{urlencode(left)}" if left else ""), HTTPStatus.SEE_OTHER)
        answer.set_cookie(COOKIE, browser, httponly=True, samesite="lax")
        return answer


def _too_large(request: Request) -> Response | None:
    """What says how long it is, and is no longer than a file may be; a form of a browser always says so."""
    if request.method in _READS:
        return None
    length = request.headers.get("content-length", "")
    if not length.isdecimal():
        return _refused("length", HTTPStatus.LENGTH_REQUIRED)
    return _refused("large", HTTPStatus.REQUEST_ENTITY_TOO_LARGE) if int(length) > LARGEST else None


def _refused(why: str, status: HTTPStatus) -> Response:
    return PlainTextResponse(phrase(f"page.refused/{why}") + "\n", status)
