"""A saw file, live: each key with where it is measured, refused at the key, the saw drawn as it changes; knows saw."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any, Final
from urllib.parse import urlencode

import attrs
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.base.files import write_whole
from mitertool.base.names import safe_file_name
from mitertool.cut import Cut, cut_from
from mitertool.packet.cautions import for_cuts, invented
from mitertool.packet.pages.card.measuring import measured_pictures, number_of
from mitertool.packet.pages.setting.blade_view import blade_view
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.words import reading, reading_label
from mitertool.page.folder import Folder
from mitertool.page.posted import posts
from mitertool.page.screen import Screen, folder_of, page, part, picture
from mitertool.page.shop import TextFile, as_typed, wrongs
from mitertool.quantity.form import FormTable, Place
from mitertool.quantity.problem_words import reason_says
from mitertool.quantity.tables import read_toml
from mitertool.quantity.toml_text import with_values
from mitertool.saw import Saw
from mitertool.saw.file.form import SAW_FORM
from mitertool.saw.file.keys import TABLES
from mitertool.saw.file.questions import questions
from mitertool.sections import section
from mitertool.words import own, phrase

_BETWEEN: Final = "|"
"""Between table, number and key in the name of a field."""

_PLAN: Final = (150.0, 90.0)
_BLADE: Final = (150.0, 60.0)
"""Paper mm of the pictures of a setting."""

NEW: Final = {
    "name": ("saw", "name"),
    "units": ("saw", "units"),
    "kind": ("saw", "kind"),
    "kerf": ("saw", "kerf"),
    "square": ("scale", "square"),
    "positive": ("scale", "positive"),
    "feed_side_most": ("scale", "feed_side_most"),
    "discharge_side_most": ("scale", "discharge_side_most"),
    "fixed_jaw": ("vise", "fixed_jaw"),
}
"""What a new saw file is begun with, and where each stands; the rest is filled in on its form."""

_CHOICES: Final = {
    "units": ("mm", "in", "ft-in"),
    "kind": ("hinged", "column"),
    "square": ("0", "90"),
    "positive": ("feed-side", "discharge-side"),
    "fixed_jaw": ("left", "right"),
}

Given = Mapping[str, str]


@attrs.frozen
class SawDrawn:
    """A saw set for a cut to look at: what its scale reads or why it cannot, and its pictures."""

    label: str
    reads: str
    against: tuple[str, ...]
    pictures: tuple[tuple[Markup, str], ...]
    asked: tuple[str, ...]
    caution: str


@attrs.frozen
class Looked:
    """The cut that is looked at; no part of the file."""

    section: str = "SHS 60x60x4"
    miter: str = "30"

    @classmethod
    def of(cls, given: Given) -> Looked:
        """As a form has it."""
        return cls(given.get("look-section", cls().section), given.get("look-miter", cls().miter))


def saw(request: Request) -> Response:
    """The saws of the folder, or one of them."""
    name = request.query_params.get("file", "")
    if not name:
        return _list(request, {}, ())
    return _saw(request, TextFile.of(folder_of(request), name), request.query_params)


def _list(request: Request, given: Given, wrong: tuple[str, ...]) -> Response:
    status = HTTPStatus.BAD_REQUEST if wrong else HTTPStatus.OK
    view = {"saws": folder_of(request).files("saw"), "new": tuple(NEW), "choices": _CHOICES}
    return page(request, "saws.html", status, **view, given=given, wrong=wrong)


def _saw(
    request: Request, file: TextFile, given: Given, text: str = "", error: MitertoolError | None = None
) -> Response:
    """A saw with its form; `text` is what was refused: the file is as it was."""
    view = _drawn(file, text or file.text, given)
    refused = error or view["error"]
    tables = _tables(file)
    slot = _slot(refused, tables) if refused else ""
    more: dict[str, Any] = {
        "file": file,
        "tables": tables,
        "text": text or file.text,
        "version": given.get("version") or file.version,
        "not_written": error is not None,
        "told": wrongs(text or file.text, refused) if refused else (),
        "saved": "saved" in request.query_params and not refused,
        "looked": Looked.of(given),
        "number_of": number_of,
        "how": _how,
        "obstacle": {key: TABLES["obstacle"].keys[key].kind.schema["enum"] for key in ("side", "stands")},
        "measured": _measured(view["machine"]),
        "errors": {slot: _at_key(refused)} if refused else {},
        "typed": given if error else {},
        "opened": [(one.table, one.number) for one in tables if slot.startswith(_id(one.table, one.number, ""))],
    }
    status = HTTPStatus.BAD_REQUEST if error else HTTPStatus.OK
    drawn = view["drawn"] or _drawn(file, file.text, given)["drawn"]
    return page(request, "saw.html", status, **more, drawn=drawn, held=view["drawn"] is None, live=False, wrong=())


def _how(key: str) -> str:
    """Where a key is measured and how the tape is held, "" where that needs no telling."""
    return own(f"card.measure.{key}", "")


def _measured(machine: Saw | None) -> tuple[Markup, ...]:
    says = (phrase("page.saw.from-above"), phrase("page.saw.along"))
    return tuple(picture(drawing, told) for drawing, told in zip(measured_pictures(machine), says, strict=True))


def _tables(file: TextFile) -> tuple[FormTable, ...]:
    try:
        return SAW_FORM.read(file.text, file.path.name)
    except MitertoolError:
        return ()


def _drawn(file: TextFile, text: str, given: Given) -> dict[str, Any]:
    """The saw of a text set for the cut that is looked at, or what is wrong with either."""
    machine = None
    try:
        machine = Saw.read(read_toml(file.path, text.encode()))
        return {"machine": machine, "drawn": _set(machine, Looked.of(given)), "error": None}
    except MitertoolError as error:
        return {"machine": machine, "drawn": None, "error": error}


def _set(machine: Saw, looked: Looked) -> SawDrawn:
    cut = Cut(cut_from(looked.miter, phrase("page.saw.look-miter")).miter)
    reach = machine.reach(section(looked.section), cut)
    plan, blade = plan_view(reach, *_PLAN), blade_view(reach, *_BLADE)
    shown = [(picture(plan, phrase("page.saw.plan")), phrase("page.saw.plan"))]
    shown += [(picture(blade, phrase("page.saw.blade")), phrase("page.saw.blade"))] if blade.entities else []
    asked = (*(one.says for one in questions(machine)), *([invented()] if machine.invented else []))
    against = tuple(reason_says(reason, machine.units) for reason in reach.reasons)
    return SawDrawn(reading_label(reach), reading(reach, cut), against, tuple(shown), asked, for_cuts([reach]))


def draw(request: Request, given: Given) -> Response:
    """The saw as what is typed would make it, or the refusal at its key; nothing is written."""
    file = TextFile.of(folder_of(request), given.get("file", ""))
    tables = _tables(file)
    try:
        view = _drawn(file, SAW_FORM.filled_in(file.text, file.path.name, _places(given)), given)
    except MitertoolError as error:
        view = {"drawn": None, "error": error}
    refused = view["error"]
    slots = sorted(_id(table.table, table.number, field.key) for table in tables for field in table.fields)
    slot = _slot(refused, tables) if refused else ""
    errors = {slot: _at_key(refused)} if slot in slots else {}
    wrong = refused.lines if refused else ()
    more = {"errors": errors, "slots": slots, "wrong": wrong, "live": True, "held": False, "hx": True}
    if view["drawn"]:
        return part(request, "saw_part.html", "drawn", drawn=view["drawn"], **more)
    return part(request, "saw_wrong.html", "wrong", **more)


def _at_key(error: MitertoolError) -> str:
    """A refusal where its place is seen."""
    return str(BadInput(error.what, error.found, error.allowed)) if isinstance(error, BadInput) else str(error)


def _slot(error: MitertoolError, tables: Sequence[FormTable]) -> str:
    """The id of the field that a refusal is of, "" where it names none."""
    if not isinstance(error, BadInput):
        return ""
    where = next((one for one in error.where if one.startswith("[")), "")
    name, _, label = where.strip("[").replace("]]", "]").partition("]")
    number = next((one.number for one in tables if (one.table, one.label) == (name, label.strip())), None)
    if number is None and label.strip().isdecimal():
        number = int(label) - 1
    return _id(name, number, error.what)


def _id(table: str, number: int | None, key: str) -> str:
    return f"{table}-{'' if number is None else number}-{key}"


def _places(given: Given) -> dict[Place, str]:
    found: dict[Place, str] = {}
    for name, value in given.items():
        parts = name.split(_BETWEEN)
        if len(parts) == 3 and (not parts[1] or parts[1].isdecimal()):
            found[parts[0], int(parts[1]) if parts[1] else None, parts[2]] = value
    return found


def save(request: Request, given: Given) -> Response:
    """Write what was typed in the form, one obstacle more or less, or the text, if that is a saw."""
    file = TextFile.of(folder_of(request), given.get("file", ""))
    text = ""
    try:
        text = _asked_for(file, given)
        Saw.read(read_toml(file.path, text.encode()))
        file.written(text, given.get("version", ""))
    except MitertoolError as error:
        return _saw(request, file, given, text, error)
    return _to(file.name)


def _asked_for(file: TextFile, given: Given) -> str:
    name, do = file.path.name, given.get("do", "")
    if do == "text":
        return as_typed(given.get("text", ""))
    if do == "add":
        typed = {key.removeprefix("k-"): value for key, value in given.items() if key.startswith("k-")}
        return SAW_FORM.added(file.text, name, given.get("table", ""), typed)
    if do.startswith("take-"):
        table, _, number = do.removeprefix("take-").partition("-")
        return SAW_FORM.taken_away(file.text, name, table, int(number) if number.isdecimal() else 0)
    return SAW_FORM.filled_in(file.text, name, _places(given))


def begin(request: Request, given: Given) -> Response:
    """Begin a saw file, of the name of the saw."""
    folder = folder_of(request)
    try:
        file, text = _begun(folder, given)
    except MitertoolError as error:
        return _list(request, given, error.lines)
    write_whole(folder.root / file, text.encode())
    return _to(file)


def _begun(folder: Folder, given: Given) -> tuple[str, str]:
    name = given.get("name", "").strip()
    file = f"{safe_file_name(name)}.toml" if name else ""
    if not name:
        raise BadInput(phrase("page.saw.new/name"), "", phrase("refuse.needed"))
    if (folder.root / file).exists():
        raise BadInput(phrase("page.saw.new/name"), file, phrase("refuse.job-there"))
    text = with_values("format = 1\n", ("saw",), {"name": name}, file)
    text = SAW_FORM.filled_in(
        text, file, {(table, None, key): given.get(word, "") for word, (table, key) in NEW.items()}
    )
    Saw.read(read_toml(folder.root / file, text.encode()))
    return file, text


def _to(name: str) -> Response:
    return RedirectResponse(f"/saw?{urlencode({'file': name, 'saved': 'yes'})}", HTTPStatus.SEE_OTHER)


_MORE: Final[tuple[Route, ...]] = (posts("/saw/draw", draw), posts("/saw/save", save), posts("/saw/new", begin))

SCREEN = Screen("page.saw", "/saw", saw, _MORE)
