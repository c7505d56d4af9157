"""A frame, live: its shape and sizes in, its drawing, lengths and readings out; kept as a job by a button."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any, Final
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError, UnknownName
from mitertool.base.files import write_whole
from mitertool.base.names import safe_file_name
from mitertool.job.form import begun
from mitertool.page.folder import Folder
from mitertool.page.frame_asked import DRAWING, USUAL, FrameAsked, keys_of
from mitertool.page.posted import posts
from mitertool.page.screen import Screen, asks_part, folder_of, not_known, page, part
from mitertool.page.screens.corner import PATH as CORNER
from mitertool.page.screens.corner import corner
from mitertool.page.screens.solved import Made
from mitertool.page.shop import TextFile, job_of
from mitertool.quantity import UNITS
from mitertool.quantity.form import meant
from mitertool.quantity.toml_text import with_values
from mitertool.sections.catalogue import begun as begun_names
from mitertool.words import phrase

PATH: Final = "/frame"
_SECTIONS: Final = ("section", "on")
"""Keys that name a section."""

_SAVE: Final = ("name", "mark", "quantity", "stock", "kerf")


def frame(request: Request) -> Response:
    """The whole screen, or what of it changes with the frame."""
    folder = folder_of(request)
    wanted = FrameAsked.of(request.query_params, next(iter(folder.files("saw")), ""))
    return _shown(request, wanted, request.query_params, ())


def _shown(request: Request, wanted: FrameAsked, given: Mapping[str, str], wrong: tuple[str, ...]) -> Response:
    meant: tuple[tuple[str, str], ...] = ()
    made: Made | None = None
    try:
        made = None if wanted.chooses and not wrong else Made(wanted.solved(folder_of(request)))
    except MitertoolError as error:
        meant = _meant(wanted, error)
        says = (not_known(error),) if meant else error.lines
        wrong = says if meant else tuple(dict.fromkeys((*wrong, *says)))
    view: dict[str, Any] = {"asked": wanted, "made": made, "wrong": wrong, "given": given, "save": _SAVE}
    view["meant"] = meant
    view["names"] = _names(wanted)
    view["drawings"] = folder_of(request).drawings() if wanted.shape == DRAWING else ()
    if asks_part(request):
        return _part(request, wanted, view)
    keys = keys_of(wanted.shape)
    first = [name for name in keys if name in USUAL[wanted.shape] or wanted.typed.get(name)]
    more = {
        "shapes": tuple(USUAL),
        "saws": folder_of(request).files("saw"),
        "units": UNITS,
        "first": [(name, keys[name]) for name in first],
        "others": [(name, key) for name, key in keys.items() if name not in first],
    }
    return page(request, "frame.html", HTTPStatus.BAD_REQUEST if wrong else HTTPStatus.OK, **view, **more)


def _meant(wanted: FrameAsked, error: MitertoolError) -> tuple[tuple[str, str], ...]:
    """Sections that may be meant by one that is not known, each with the address of the frame with it."""
    key = error.what if isinstance(error, UnknownName) else ""
    if not isinstance(error, UnknownName) or key not in _SECTIONS or key not in wanted.typed:
        return ()
    parts = [part.strip() for part in wanted.typed[key].split(";")]

    def told(name: str) -> str:
        typed = "; ".join(name if part == error.found else part for part in parts)
        return f"{PATH}?{urlencode({**wanted.told, key: typed})}"

    return tuple((name, told(name)) for name in error.choices) if error.found in parts else ()


def _names(wanted: FrameAsked) -> tuple[str, ...]:
    """Sections that begin as the last one typed does."""
    return begun_names(wanted.typed.get("section", "").rpartition(";")[2].strip())


def _part(request: Request, wanted: FrameAsked, view: Mapping[str, Any]) -> Response:
    """What is new; where something is wrong that alone, so that the last picture stays."""
    if view["wrong"]:
        return part(request, "frame_refused.html", "wrong", **view, hx=True)
    answer = part(request, "frame_part.html", "answer", **view, hx=True)
    answer.headers["HX-Replace-Url"] = f"{PATH}?{urlencode(wanted.told)}"
    return answer


def save(request: Request, given: Mapping[str, str]) -> Response:
    """Write a job of the frame, in a file of its name."""
    folder, wanted = folder_of(request), FrameAsked.of(given, given.get("saw", ""))
    try:
        file = _written(folder, wanted, given)
    except MitertoolError as error:
        return _shown(request, wanted, given, error.lines)
    return RedirectResponse(f"/job?{urlencode({'file': file, 'saved': 'yes'})}", HTTPStatus.SEE_OTHER)


def _written(folder: Folder, wanted: FrameAsked, given: Mapping[str, str]) -> str:
    name = given.get("job-name", "").strip()
    if not name:
        raise BadInput(phrase("page.jobs.name"), "", phrase("refuse.needed"))
    file = f"{safe_file_name(name)}.toml"
    path = folder.root / file
    if path.exists():
        raise BadInput(phrase("page.jobs.name"), file, phrase("refuse.job-there"))
    text = begun(name, _head(wanted), _tables(wanted, given))
    kerf = given.get("job-kerf", "").strip()
    text = with_values(text, ("nest",), {"kerf": _number(kerf)}, file) if kerf else text
    job_of(folder, TextFile(file, path, text, ""))
    write_whole(path, text.encode())
    return file


def _head(wanted: FrameAsked) -> dict[str, str]:
    return {"units": wanted.units, **({"saw": wanted.saw} if wanted.saw else {})}


def _tables(wanted: FrameAsked, given: Mapping[str, str]) -> list[tuple[str, dict[str, Any]]]:
    """The bars of every section of the frame, where their length is said, and the frame."""
    many, length = (given.get(key, "").strip() for key in ("job-quantity", "job-stock"))
    quantity = {"quantity": _number(many)} if many else {}
    table = {**wanted.table, "mark": given.get("job-mark", "").strip() or "F", **quantity}
    stock = [("stock", {"section": one, "length": _number(length)}) for one in _sections(table) if length]
    return [*stock, ("frame", table)]


def _sections(table: Mapping[str, Any]) -> tuple[str, ...]:
    """The sections of a frame and of the bars inside it, each once."""
    named = table.get("section", [])
    inside = [one["section"] for one in table.get("inside", ()) if isinstance(one, dict) and "section" in one]
    return tuple(dict.fromkeys([*(named if isinstance(named, list) else [named]), *inside]))


def _number(text: str) -> Any:
    return meant(text, None, ())


SCREEN = Screen("page.frame", PATH, frame, (posts("/frame/save", save), Route(CORNER, corner)))
