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
from mitertool.page.screen import Screen, asks_part, folder_of, not_known, page
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import UNITS

PATH: Final = "/cut"
_TURN: Final = "turn"
"""The slider of the miter, degrees from square: where it is what was moved, it goes before the angle as typed."""

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
    steps: int = STEPS


def cut(request: Request) -> Response:
    """The whole screen, or what of it changes with the cut."""
    folder, wanted = folder_of(request), _wanted(request)
    try:
        found = read(wanted, folder)
        view = CutView(wanted, found)
        shown = _shown(request, view, folder)
    except BadInput as error:
        return _refused(request, wanted, error, folder)
    return shown


def blade(request: Request) -> Response:
    """The arm at another place on its way."""
    wanted = asked(CutAsked, request.query_params)
    motion = CutView(wanted, read(wanted, folder_of(request))).motion
    return _kept(page(request, "cut_blade.html", motion=motion), wanted)


def _wanted(request: Request) -> CutAsked:
    """What is asked for: at first with the first saw of the folder; where the slider was moved, what it stands at."""
    query: Mapping[str, str] = request.query_params
    if not query:
        return CutAsked(saw=next(iter(folder_of(request).files("saw")), ""))
    wanted = asked(CutAsked, query)
    if request.headers.get("hx-source", "").endswith(f"#{_TURN}"):
        return attrs.evolve(wanted, way="square", angle=query.get(_TURN, wanted.angle))
    return wanted


def _shown(request: Request, view: CutView, folder: Folder) -> Response:
    if not asks_part(request):
        form = _form(view.asked, folder)
        return page(request, "cut.html", **_parts(view.asked, view.read), view=view, form=form, error=None)
    by_slider = request.headers.get("hx-source", "").endswith(f"#{_TURN}")
    form = CutForm(view.asked, (), () if by_slider else begun(folder, view.asked.section))
    answer = page(request, "cut_part.html", **_parts(view.asked, view.read), view=view, form=form, by_slider=by_slider)
    return _kept(answer, view.asked)


def _parts(wanted: CutAsked, found: CutRead) -> dict[str, Any]:
    return {"lays": tuple(lays_of(wanted, found)), "turn": f"{found.cut.miter:.4g}", "other": _other}


def _refused(request: Request, wanted: CutAsked, error: BadInput, folder: Folder) -> Response:
    """The error; on a screen that is open its last pictures stay."""
    names = error.choices if isinstance(error, UnknownName) else ()
    choices = [attrs.evolve(wanted, section=name) for name in names if error.what == "section"]
    says = not_known(error) if choices else str(error)
    if not asks_part(request):
        shown = {"form": _form(wanted, folder), "error": error, "says": says, "choices": choices, "other": _other}
        return page(request, "cut.html", HTTPStatus.BAD_REQUEST, **shown, view=None, lays=(), turn="0")
    answer = page(
        request, "cut_wrong.html", says=says, choices=choices, other=_other, names=begun(folder, wanted.section)
    )
    answer.headers["HX-Retarget"] = "#wrong"
    answer.headers["HX-Reswap"] = "outerHTML"
    return answer


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
