"""Practice: a question from the shop's own saw, an answer, then the picture with the working; knows practice."""

from __future__ import annotations

from functools import lru_cache
from typing import Any, Final

from attrs import evolve, frozen
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.base.names import among
from mitertool.packet.cautions import invented, short
from mitertool.packet.pages.practice.pages import practice_files
from mitertool.packet.pages.practice.picture import after, before
from mitertool.page.asked import address, asked
from mitertool.page.folder import Folder
from mitertool.page.saws import saw_of
from mitertool.page.screen import Screen, folder_of, page, picture
from mitertool.page.shop import TextFile, job_of
from mitertool.practice import USUAL, Exercise, exercises
from mitertool.saw import Saw
from mitertool.sections import Section, section
from mitertool.words import phrase

COUNT: Final = 12
"""Questions of a set."""

_SETS: Final = 99_999
_KEPT: Final = 8
"""Sets that are kept while they are gone through."""

_VISE: Final = (60.0, 34.0)
_ANSWER: Final = (110.0, 62.0)
"""Paper mm of the pictures."""


@frozen
class PracticeAsked:
    """What the address asks for: a saw, a job whose sections are practiced with, a set, a question, and an answer."""

    saw: str = ""
    job: str = ""
    set: str = "1"
    question: str = "1"
    right: str = "0"
    answer: str = ""


@frozen
class QuestionView:
    """A question with what is given; once it is answered whether that was right, how it is found, what can hurt."""

    number: int
    asks: str
    given: tuple[str, ...]
    lies: Markup
    unit: str
    words: tuple[str, ...]
    met: bool | None = None
    says: str = ""
    working: tuple[str, ...] = ()
    shown: Markup | None = None
    caution: str = ""


def practice(request: Request) -> Response:
    """A question, or what begins a set."""
    wanted, folder = asked(PracticeAsked, request.query_params), folder_of(request)
    view, wrong = _view(folder, wanted)
    made_up = invented() if view and _saw(folder, wanted).invented else ""
    more: dict[str, Any] = {
        "saws": folder.files("saw"),
        "jobs": folder.files("job"),
        "following": address("/practice", _following(wanted, view)) if view and view.met is not None else "",
        "count": COUNT,
        "right": _right(wanted, view),
        "cautions": (short(), made_up),
    }
    return page(request, "practice.html", view=view, wrong=wrong, asked=wanted, **more)


def _following(wanted: PracticeAsked, view: QuestionView) -> PracticeAsked:
    """The next question, and how many were right so far; after the last one the first of the next set."""
    if view.number >= COUNT:
        return evolve(wanted, set=str(int(wanted.set) % _SETS + 1), question="1", right="0", answer="")
    return evolve(wanted, question=str(view.number + 1), right=str(_right(wanted, view)), answer="")


def _right(wanted: PracticeAsked, view: QuestionView | None) -> int:
    """How many were right, this one too."""
    before = int(wanted.right) if wanted.right.isdecimal() else 0
    return before + bool(view and view.met)


def _view(folder: Folder, wanted: PracticeAsked) -> tuple[QuestionView | None, tuple[str, ...]]:
    """What is shown, and what is wrong with what was asked or answered."""
    if not wanted.saw:
        return None, ()
    number, seed = _within(wanted.question, COUNT), _within(wanted.set, _SETS)
    one = _set(_saw(folder, wanted), _sections(folder, wanted.job), seed)[number - 1]
    asking = _asking(one, number)
    if not wanted.answer.strip():
        return asking, ()
    try:
        met = one.answer.is_met_by(wanted.answer.strip(), one.reach.setting.saw.units)
    except MitertoolError as error:
        return asking, error.lines
    return _answered(one, asking, met), ()


def _saw(folder: Folder, wanted: PracticeAsked) -> Saw:
    found = saw_of(folder, wanted.saw)
    if found is None:
        raise BadInput("saw", wanted.saw, phrase("refuse.not-in-folder"))
    return found


def _within(given: str, most: int) -> int:
    if not given.isdecimal() or not 1 <= int(given) <= most:
        raise BadInput(phrase("page.practice.number"), given, phrase("limits.least-most", least=1, most=most))
    return int(given)


def _sections(folder: Folder, job: str) -> tuple[Section, ...]:
    """Those of a job, each once, or usual ones."""
    if not job:
        return tuple(section(name) for name in USUAL)
    file = TextFile.of(folder, job)
    return tuple({one.piece.section.name: one.piece.section for one in job_of(folder, file).pieces}.values())


@lru_cache(maxsize=_KEPT)
def _set(saw: Saw, sections: tuple[Section, ...], seed: int) -> tuple[Exercise, ...]:
    return exercises(saw, sections, COUNT, seed)


def _asking(one: Exercise, number: int) -> QuestionView:
    units = one.reach.setting.saw.units
    lies = picture(before(one, *_VISE), phrase("page.practice.lies", section=one.reach.section.name))
    asks, *given = (told.in_units(units) for told in one.question)
    return QuestionView(number, asks, tuple(given), lies, one.answer.unit, one.answer.words)


def _answered(one: Exercise, asking: QuestionView, met: bool) -> QuestionView:
    units = one.reach.setting.saw.units
    return evolve(
        asking,
        met=met,
        says=one.says.in_units(units),
        working=tuple(step.in_units(units) for step in one.working),
        shown=picture(after(one, *_ANSWER, units), phrase("page.practice.shown")),
        caution=phrase(f"practice.caution/{one.kind}") if one.hurts else "",
    )


def paper(request: Request) -> Response:
    """The questions or the answers of a set as PDF, as the command writes them."""
    wanted, folder = asked(PracticeAsked, request.query_params), folder_of(request)
    which, seed = request.query_params.get("which", ""), _within(wanted.set, _SETS)
    machine = _saw(folder, wanted)
    files = practice_files(machine, _set(machine, _sections(folder, wanted.job), seed), seed)
    if which not in files:
        raise BadInput(phrase("what.file"), which, among(files))
    return Response(files[which], media_type="application/pdf")


SCREEN = Screen("page.practice", "/practice", practice, (Route("/practice/paper", paper),))
