"""Packets of the folder: what was written, file by file, opened as it is; knows folders of ours."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path, PurePosixPath
from typing import Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput
from mitertool.base.folders import MANIFEST, made_files
from mitertool.packet.records.earlier import whose
from mitertool.page.folder import Folder
from mitertool.page.screen import folder_of, page
from mitertool.page.shop import TextFile
from mitertool.words import own, phrase

_KINDS: Final = {
    ".pdf": "application/pdf",
    ".html": "text/html",
    ".json": "application/json",
    ".csv": "text/csv",
    ".dxf": "image/vnd.dxf",
}
"""What is served, by the ending of its name."""

_SHOWN: Final = (".pdf", ".html", ".json")
"""Endings of what a browser shows by itself; anything else it saves."""

_FIRST: Final = ("cut-sheet.pdf", "cut-sheet.html", "labels.pdf", "card.pdf")

_SHEET_POLICY: Final = (
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
"""For a page of ours from a packet, whose own policy names its style and script by hash: both hold."""


def packets_beside(folder: Folder, file: TextFile) -> tuple[str, ...]:
    """The folders beside a job's file that hold packets, told from the folder of the page."""
    beside = sorted(one.parent for one in file.path.parent.glob(f"*/{MANIFEST}"))
    return tuple(_told(folder, one) for one in beside if whose(one))


def _told(folder: Folder, path: Path) -> str:
    return path.relative_to(folder.root).as_posix()


def packet(request: Request) -> Response:
    """The files of a packet."""
    name = request.query_params.get("folder", "")
    place = _place(folder_of(request), name)
    found = whose(place)
    return page(request, "packet.html", folder=name, job=found.job if found else "", files=told(made_files(place)))


def told(names: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """The files of a packet, what the floor takes first before the others, each with what it is for."""
    ordered = sorted(names, key=lambda name: (_FIRST.index(name) if name in _FIRST else len(_FIRST), name))
    return tuple((name, _what_for(name)) for name in ordered)


def _what_for(name: str) -> str:
    """What a file of a packet is for, "" where its name says it."""
    return own(f"page.packet.file/{PurePosixPath(name).parts[0].replace('.', '-')}", "")


def made(request: Request) -> Response:
    """A file of a packet, as it was written."""
    name = request.query_params.get("file", "")
    place = _place(folder_of(request), request.query_params.get("folder", ""))
    ending = PurePosixPath(name).suffix
    if name not in made_files(place) or ending not in _KINDS:
        raise BadInput(phrase("what.file"), name, phrase("refuse.not-in-folder"))
    headers = {} if ending in _SHOWN else {"content-disposition": "attachment"}
    headers |= {"content-security-policy": _SHEET_POLICY} if ending == ".html" else {}
    return Response((place / name).read_bytes(), media_type=_KINDS[ending], headers=headers)


def _place(folder: Folder, name: str) -> Path:
    """A folder of a packet. Raises `BadInput` for one outside of the page's folder, and for any other."""
    return folder.file(f"{name}/{MANIFEST}").parent


ROUTES: Final = (Route("/packet", packet), Route("/packet/file", made))
