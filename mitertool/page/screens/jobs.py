"""The jobs of the folder: their list, a new one, and a job with its errors, its form and its text; knows job's form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Final
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, BadRows, MitertoolError
from mitertool.base.files import write_whole
from mitertool.base.names import among, safe_file_name
from mitertool.job.form import JOB_FORM, begun
from mitertool.job.read import lists_as_written
from mitertool.packet.lists_told import ListTold, refused_told
from mitertool.page.folder import Folder
from mitertool.page.posted import posts
from mitertool.page.screen import Screen, folder_of, page
from mitertool.page.screens import first_piece, packets, solved
from mitertool.page.screens.packets import packets_beside
from mitertool.page.screens.solved import shown_of
from mitertool.page.shop import TextFile, Wrong, as_typed, job_of, wrongs
from mitertool.quantity.form import FormTable
from mitertool.words import phrase

_PIECE: Final = ("mark", "section", "length", "left", "right", "quantity")
"""What is asked of the first piece of a new job; everything else is filled in on its form."""

_NEEDED: Final = ("mark", "section", "length")

Given = Mapping[str, str]
_NOTHING: Final[Given] = {}


def jobs(request: Request) -> Response:
    """The list, and what begins a new one."""
    return _list(request, (), {})


def _list(request: Request, wrong: Sequence[str], given: Given, status: HTTPStatus = HTTPStatus.OK) -> Response:
    folder = folder_of(request)
    view = {"jobs": folder.files("job"), "saws": folder.files("saw"), "asked": _PIECE, "needed": _NEEDED}
    return page(request, "jobs.html", status, **view, wrong=wrong, given=given)


def new_job(request: Request, given: Given) -> Response:
    """Begin a job, in a file of its name."""
    folder = folder_of(request)
    name = given.get("name", "").strip()
    file = f"{safe_file_name(name)}.toml" if name else ""
    try:
        if not name:
            raise BadInput(phrase("page.jobs.name"), "", phrase("refuse.needed"))
        _refuse_taken(folder, file)
        head = {key: given[key] for key in ("units", "saw") if given.get(key)}
        piece = {key: given[key] for key in _PIECE if given.get(key)}
        text = JOB_FORM.added(begun(name, head, ()), file, "piece", piece)
        job_of(folder, TextFile(file, folder.root / file, text, ""))
    except MitertoolError as error:
        return _list(request, error.lines, given, HTTPStatus.BAD_REQUEST)
    write_whole(folder.root / file, text.encode())
    return _to(file)


def _refuse_taken(folder: Folder, file: str) -> None:
    if (folder.root / file).exists():
        raise BadInput(phrase("page.jobs.name"), file, phrase("refuse.job-there"))


def job(request: Request) -> Response:
    """A job of the folder."""
    return _job(request, TextFile.of(folder_of(request), request.query_params.get("file", "")))


def _job(
    request: Request, file: TextFile, text: str = "", wrong: Sequence[Wrong] = (), given: Given = _NOTHING
) -> Response:
    """The page of a job; `text` is what was refused, with what is wrong with it and was sent: the file is as it was."""
    found = tuple(wrong)
    lists: tuple[ListTold, ...] = ()
    try:
        shown = shown_of(request, file, job_of(folder_of(request), file))
    except MitertoolError as error:
        lists = _refused_lists(file, error)
        found = found or tuple(Wrong(one.read) for one in lists) or wrongs(file.text, error)
        shown = shown_of(request, file, None)
    view = {
        "file": file,
        "shown": shown,
        "wrong": found,
        "lists": lists,
        "refused": bool(wrong),
        "saved": "saved" in request.query_params,
        "packets": packets_beside(folder_of(request), file),
        "text": text or file.text,
        "version": given.get("version") or file.version,
        "blocks": _blocks(file, text if text and given.get("do") == "set" else file.text),
        "opened": (given.get("do"), given.get("table"), given.get("number", "")),
        "typed": given if given.get("do") == "add" else {},
    }
    return page(request, "job.html", HTTPStatus.BAD_REQUEST if wrong else HTTPStatus.OK, **view)


def _refused_lists(file: TextFile, error: MitertoolError) -> tuple[ListTold, ...]:
    """The lists of a job with rows that were refused."""
    if not isinstance(error, BadRows):
        return ()
    named = lists_as_written(file.path, file.text.encode())
    return tuple(refused_told(one, error) for one in named if any(one.file in told.where for told in error.refusals))


def _blocks(file: TextFile, text: str) -> tuple[FormTable, ...]:
    """The tables of a text of the file; none where it is no TOML."""
    try:
        return JOB_FORM.read(text, file.path.name)
    except MitertoolError:
        return ()


def save_text(request: Request, given: Given) -> Response:
    """Write the text of a job, if it is one."""
    file = TextFile.of(folder_of(request), given.get("file", ""))
    return _saved(request, file, as_typed(given.get("text", "")), given)


def save_form(request: Request, given: Given) -> Response:
    """Write what was typed in one table of a job, a table more, or without one."""
    file = TextFile.of(folder_of(request), given.get("file", ""))
    try:
        text = _filled(file, given)
    except MitertoolError as error:
        return _job(request, file, "", wrongs(file.text, error), given)
    return _saved(request, file, text, given)


def _filled(file: TextFile, given: Given) -> str:
    table, number = given.get("table", ""), given.get("number", "")
    typed = {key.removeprefix("k-"): value for key, value in given.items() if key.startswith("k-")}
    more = given.get("more", "")
    typed |= {more: given.get("more-value", "")} if more else {}
    if table not in JOB_FORM.tables or (number and not number.isdecimal()):
        raise BadInput(phrase("what.table"), table, among(JOB_FORM.tables))
    if given.get("do") == "add":
        return JOB_FORM.added(file.text, file.path.name, table, typed)
    if given.get("do") == "take":
        return JOB_FORM.taken_away(file.text, file.path.name, table, int(number or 0))
    nth = int(number) if number else None
    places = {(table, nth, key): value for key, value in typed.items()}
    return JOB_FORM.filled_in(file.text, file.path.name, places)


def _saved(request: Request, file: TextFile, text: str, given: Given) -> Response:
    """Write a text in the place of a job: only one that is a job, over the one that was opened."""
    try:
        job_of(folder_of(request), file, text)
        file.written(text, given.get("version", ""))
    except MitertoolError as error:
        return _job(request, file, text, wrongs(text, error), given)
    return _to(file.name)


def changed(request: Request) -> Response:
    """Whether a file was changed since it was opened."""
    name, version = (request.query_params.get(key, "") for key in ("file", "version"))
    file = TextFile.of(folder_of(request), name)
    at = "/saw" if request.query_params.get("at") == "saw" else "/job"
    return page(request, "changed.html", file=name, at=at, changed=file.version != version)


def _to(name: str) -> Response:
    return RedirectResponse(f"/job?{urlencode({'file': name, 'saved': 'yes'})}", HTTPStatus.SEE_OTHER)


_MORE: Final = (
    Route("/job", job),
    Route("/job/changed", changed),
    posts("/jobs/new", new_job),
    posts("/job/text", save_text),
    posts("/job/form", save_form),
    *solved.ROUTES,
    *packets.ROUTES,
    *first_piece.ROUTES,
)

SCREEN = Screen("page.jobs", "/jobs", jobs, _MORE)
