"""Starts the page and stops it: the port, the address, the browser; knows the server and the application."""

from __future__ import annotations

import socket
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from typing import Final

import attrs
import uvicorn

from mitertool.base.errors import BadInput
from mitertool.page.app import page_app
from mitertool.page.folder import Folder
from mitertool.page.guard import KEY, EntryKeys, Guard
from mitertool.words import phrase

HERE: Final = "127.0.0.1"

USUAL_PORT: Final = 8472
"""Tried first, so that an address that was sent to someone or kept still leads to its cut."""

_ANY: Final = ("", "0.0.0.0")
"""Every address at once: requests could name none of them."""

_WAITS: Final = 128
"""Connections that wait for an answer."""


@attrs.frozen
class Listening:
    """A socket that listens at an address of this machine; from the network only a browser with a key gets in."""

    socket: socket.socket
    host: str
    keys: EntryKeys | None

    @property
    def port(self) -> int:
        """Its number."""
        number: int = self.socket.getsockname()[1]
        return number

    @property
    def address(self) -> str:
        """What a browser is given."""
        key = f"?{KEY}={self.keys.key}" if self.keys else ""
        return f"http://{self.host}:{self.port}/{key}"

    @property
    def hosts(self) -> frozenset[str]:
        """How requests may name this machine."""
        return frozenset(f"{name}:{self.port}" for name in (HERE, "localhost", self.host.lower()))


def listen(host: str, port: int | None) -> Listening:
    """Listen at a port of `host`, at the usual one or a free one where none is named.

    Raises `BadInput` where the host is not this machine, or the port is taken.
    """
    if host in _ANY:
        raise BadInput("--host", host, phrase("refuse.host"))
    keys = None if host in (HERE, "localhost") else EntryKeys()
    if port is not None:
        return Listening(_bound(host, port), host, keys)
    try:
        return Listening(_bound(host, USUAL_PORT), host, keys)
    except BadInput:
        return Listening(_bound(host, 0), host, keys)


def serve(folder: Folder, listening: Listening, browser: bool, tell: Callable[[str], None]) -> None:
    """Serve until the program is interrupted; `tell` is told the address of each key after the first."""
    if listening.keys:
        listening.keys.renewed = lambda: tell(listening.address)
    guarded = Guard(page_app(folder), listening.hosts, listening.keys)
    server = uvicorn.Server(uvicorn.Config(guarded, lifespan="off", ws="none", log_config=None, access_log=False))
    if browser:
        Thread(target=webbrowser.open, args=(listening.address,), daemon=True).start()
    with suppress(KeyboardInterrupt):
        server.run(sockets=[listening.socket])


def _bound(host: str, port: int) -> socket.socket:
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
        made.listen(_WAITS)
    except OSError as error:
        made.close()
        raise BadInput("--port", f"{host}:{port}", phrase("refuse.port", why=error.strerror)) from error
    return made
