"""The screen of one cut, live: what is asked is the address, what is answered the pictures; knows the cut's view."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any, Final

import attrs
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, UnknownName
from mitertool.page.asked import address, asked
from mitertool.page.cut_asked import STEPS, WAYS, CutAsked, CutRead, read
from mitertool.page.cut_view import CutView, lays_of
from mitertool.page.folder import Folder
from mitertool.page.own_sections import begun
from mitertool.page.screen import Screen, asks_part, folder_of, not_known, page, part
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import UNITS

PATH: Final = "/cut"
_TURN: Final = "turn"
"""The slider of the miter, degrees from square: where it is what was moved, it goes before the angle as typed."""

_NOTCH: Final = 0.5
"""degrees from one place of the slider to the next."""

_SWING: Final = 75
"""degrees that it goes to either side: past the scale of any saw, so that one sees where that ends."""


@attrs.frozen
class CutForm:
    """What can be chosen beside what is asked."""

    asked: CutAsked
    saws: tuple[str, ...]
    names: tuple[str, ...] = ()
    ways: tuple[str, ...] = tuple(WAYS)
    ends: tuple[str, ...] = tuple(OTHER_END)
    units: tuple[str, ...] = tuple(UNITS)
    swing: int = _SWING
    notch: float = _NOTCH
    steps: int = STEPS


def cut(request: Request) -> Response:
    """The whole screen, or what of it changes with the cut."""
    folder, wanted = folder_of(request), _wanted(request)
    by_slider = _moved(request)
    try:
        shown = _shown(request, CutView(wanted, read(wanted, folder)), folder, by_slider)
    except BadInput as error:
        return _refused(request, wanted, error, folder)
    return shown


def blade(request: Request) -> Response:
    """The arm at another place on its way; where the miter was dragged meanwhile and not answered, the whole cut."""
    folder, wanted = folder_of(request), asked(CutAsked, request.query_params)
    found = read(wanted, folder)
    turn = request.query_params.get(_TURN, "")
    if turn and turn != _stands(found):
        wanted = _turned(wanted, turn)
        return _shown(request, CutView(wanted, read(wanted, folder)), folder, by_slider=True)
    return _kept(part(request, "cut_blade.html", "blade", motion=CutView(wanted, found).motion), wanted)


def _wanted(request: Request) -> CutAsked:
    """What is asked for: at first with the first saw of the folder; where the slider was moved, what it stands at."""
    query: Mapping[str, str] = request.query_params
    if not query:
        return CutAsked(saw=next(iter(folder_of(request).files("saw")), ""))
    wanted = asked(CutAsked, query)
    return _turned(wanted, query.get(_TURN, wanted.angle)) if _moved(request) else wanted


def _moved(request: Request) -> bool:
    return request.headers.get("hx-source", "").endswith(f"#{_TURN}")


def _turned(wanted: CutAsked, turn: str) -> CutAsked:
    return attrs.evolve(wanted, way="square", angle=turn)


def _stands(found: CutRead) -> str:
    """Where the slider of the miter stands for a cut, as a browser tells it."""
    notches = round(min(max(found.cut.miter, -_SWING), _SWING) / _NOTCH)
    return f"{notches * _NOTCH:g}"


def _shown(request: Request, view: CutView, folder: Folder, by_slider: bool) -> Response:
    if not asks_part(request):
        form = _form(view.asked, folder)
        return page(request, "cut.html", **_parts(view.asked, view.read), view=view, form=form, error=None)
    form = CutForm(view.asked, (), () if by_slider else begun(folder, view.asked.section))
    shown = {**_parts(view.asked, view.read), "view": view, "form": form, "by_slider": by_slider}
    return _kept(part(request, "cut_part.html", "answer", **shown), view.asked)


def _parts(wanted: CutAsked, found: CutRead) -> dict[str, Any]:
    return {"lays": tuple(lays_of(wanted, found)), "turn": _stands(found), "other": _other}


def _refused(request: Request, wanted: CutAsked, error: BadInput, folder: Folder) -> Response:
    """The error; on a screen that is open its last pictures stay."""
    names = error.choices if isinstance(error, UnknownName) else ()
    choices = [attrs.evolve(wanted, section=name) for name in names if error.what == "section"]
    says = not_known(error) if choices else str(error)
    if not asks_part(request):
        shown = {"form": _form(wanted, folder), "error": error, "says": says, "choices": choices, "other": _other}
        return page(request, "cut.html", HTTPStatus.BAD_REQUEST, **shown, view=None, lays=(), turn="0")
    shown = {"says": says, "choices": choices, "other": _other, "names": begun(folder, wanted.section)}
    return part(request, "cut_wrong.html", "wrong", **shown)


def _form(wanted: CutAsked, folder: Folder) -> CutForm:
    return CutForm(wanted, folder.files("saw"), begun(folder, wanted.section))


def _other(wanted: CutAsked, **changed: str) -> str:
    """The address of a cut, or of one that differs from it."""
    return address(PATH, attrs.evolve(wanted, **changed))


def _kept(answer: Response, wanted: CutAsked) -> Response:
    """The browser is told the address of what it shows."""
    answer.headers["HX-Replace-Url"] = address(PATH, wanted)
    return answer


SCREEN = Screen("page.cut", PATH, cut, (Route(f"{PATH}/blade", blade),))
