"""What a form of the page sends: its fields as text; the work is done apart from the server's own thread."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import parse_qsl

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput
from mitertool.words import phrase

Posted = Callable[[Request, Mapping[str, str]], Response]


def posts(path: str, answered: Posted) -> Route:
    """An address that takes a form."""

    async def endpoint(request: Request) -> Response:
        return await run_in_threadpool(answered, request, _fields(await request.body()))

    return Route(path, endpoint, methods=["POST"])


def _fields(body: bytes) -> dict[str, str]:
    try:
        return dict(parse_qsl(body.decode("ascii"), keep_blank_values=True, errors="strict"))
    except ValueError as error:
        raise BadInput(phrase("what.form"), phrase("found.unreadable"), phrase("refuse.no-form")) from error
