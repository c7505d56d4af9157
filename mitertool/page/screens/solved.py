"""A job solved beside its text: how far the work is, then frames, pieces and bars; its packet; knows the bench."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from functools import cached_property
from http import HTTPStatus
from typing import Final

import attrs
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from mitertool.base.errors import MitertoolError
from mitertool.job import FrameOrder, Job, Solution, solve
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.cautions import for_job, short
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.values import BarWork
from mitertool.packet.lists_told import ListTold, lists_told
from mitertool.packet.packet import folder_of as packet_name
from mitertool.packet.packet import write_packet
from mitertool.packet.pages.browser import pictures
from mitertool.packet.pages.browser.frame_part import frame_tables
from mitertool.packet.pages.fitter.held import FrameTable
from mitertool.packet.pages.fitter.notes import frame_notes
from mitertool.packet.pages.fitter.picture import frame_drawing
from mitertool.packet.pages.said import bar_length, bar_title, material
from mitertool.packet.tables import Rows, piece_rows, way_rows
from mitertool.packet.words import instead, section_words
from mitertool.page.bench import Bench, BenchWork, Tell
from mitertool.page.posted import posts
from mitertool.page.screen import asks_part, folder_of, page, picture
from mitertool.page.screens.packets import told
from mitertool.page.shop import TextFile, job_of
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LARGE: Final = (160.0, 120.0)
_SMALL: Final = (84.0, 84.0)
"""Paper mm of a frame on a desk, and on a telephone, where its lettering stays plain over the width of the screen."""

_WAITS: Final = 0.8
"""seconds that an answer waits for the work, so that short work is answered at once."""

_WRITES: Final = ("packet", "anyway")
_MAKES: Final = ("plan", "compare", *_WRITES)
"""What is made of a job: its solution, the ways of its bars side by side, its packet, also with marks left out."""


@attrs.frozen
class FrameShown:
    """A frame as it is drawn, and what is told of it."""

    mark: str
    drawing: Markup
    small: Markup
    notes: tuple[str, ...]
    tables: tuple[FrameTable, ...]


@attrs.frozen
class BarShown:
    """A bar of the plan."""

    title: str
    says: tuple[str, str]
    strip: Markup | None


@attrs.frozen
class Made:
    """What came of a job; `ways` where they were compared, `files` where its packet was written into `folder`."""

    solution: Solution
    ways: Rows = attrs.field(factory=list)
    folder: str = ""
    files: tuple[str, ...] = ()

    @cached_property
    def pieces(self) -> Rows:
        """The table of its pieces."""
        return piece_rows(self.solution, self._units)

    @cached_property
    def lists(self) -> tuple[ListTold, ...]:
        """Its lists of parts, as they were read."""
        return tuple(lists_told(self.solution.job, self._units))

    @property
    def told_files(self) -> tuple[tuple[str, str], ...]:
        """The files of its packet, in the order in which they are wanted, each with what it is for."""
        return told(self.files)

    @property
    def caution(self) -> str:
        """What can hurt."""
        return for_job(self.solution) or short()

    @cached_property
    def past(self) -> tuple[str, ...]:
        """Corners and braces that the saw does not reach, and what is done instead."""
        steep = (one.in_units(self._units) for one in self.solution.steep.values())
        return (*(instead(one, self._units) for one in self.solution.past), *steep)

    @cached_property
    def frames(self) -> tuple[FrameShown, ...]:
        """The frames, drawn."""
        return tuple(map(self._frame, self.solution.frames))

    @cached_property
    def bars(self) -> tuple[BarShown, ...]:
        """The bars in their order, drawn."""
        if self.solution.plan is None:
            return ()
        return tuple(self._bars())

    @property
    def _units(self) -> Units:
        return self.solution.job.head.units

    def _frame(self, order: FrameOrder) -> FrameShown:
        large, small = (frame_drawing(order.assembly, self._units, *size, out=order.out) for size in (_LARGE, _SMALL))
        says = phrase("page.job.frame", mark=order.assembly.mark)
        notes = (*self._lying(order), *frame_notes(order, self._units))
        tables = tuple(frame_tables(order, self.solution))
        return FrameShown(order.assembly.mark, picture(large, says), picture(small, says), notes, tables)

    def _lying(self, order: FrameOrder) -> tuple[str, ...]:
        """Which way each section lies in a frame in one plane, where that makes a difference."""
        if not order.assembly.in_plan:
            return ()
        sections = (member.piece.section for member in order.assembly.pieces)
        sizes = {one.name: (one.width, one.height) for one in sections if one.width != one.height}
        shown = {name: [show_length(size, self._units) for size in both] for name, both in sizes.items()}
        return tuple(phrase("page.job.lies", section=name, over=a, deep=b) for name, (a, b) in shown.items())

    def _bars(self) -> Iterator[BarShown]:
        sheet = floor_of(self.solution)
        for bar in sheet.bars:
            strip = pictures.of_strip(bar, sheet.saw)
            yield BarShown(bar_title(bar), _bar_words(bar, self._units), Markup(strip) if strip else None)


def _bar_words(bar: BarWork, units: Units) -> tuple[str, str]:
    """Of what it is and how long."""
    return material(section_words(bar.section), bar.grade), bar_length(bar, units)


@attrs.frozen
class WorkShown:
    """Work on a job as its page shows it: `of` is the state of its files that it is of, `last` the last good one."""

    name: str
    of: str
    make: str
    work: BenchWork | None
    last: Made | None = None


def bench_of(request: Request) -> Bench:
    """Where the page works."""
    bench: Bench = request.app.state.bench
    return bench


def shown_of(request: Request, file: TextFile, job: Job | None, make: str = "plan", anew: bool = False) -> WorkShown:
    """The work on a job, begun where it is not; without a job what was good last."""
    bench = bench_of(request)
    last = bench.found(("last", file.name))
    kept = last.result if last and last.good else None
    if job is None:
        return WorkShown(file.name, "", make, None, kept)
    work = bench.asked((file.name, job.digest, make), _making(request, file, job, make), anew)
    return WorkShown(file.name, job.digest, make, work, kept)


def _making(request: Request, file: TextFile, job: Job, make: str) -> Callable[[Tell], Made]:
    bench = bench_of(request)
    key: Hashable = ("last", file.name)

    def made(tell: Tell) -> Made:
        solution = _solved(bench, file, job, make, tell)
        found = Made(solution)
        if make == "compare" and solution.plan:
            found = Made(solution, way_rows(solution.plan.alternatives, BarCost.of(job, job.head.units)))
        if make in _WRITES:
            found = _with_packet(request, found, make == "anyway", tell)
        bench.keep(key, found)
        return found

    return made


def _solved(bench: Bench, file: TextFile, job: Job, make: str, tell: Tell) -> Solution:
    """The job solved, as it was shown where it was."""
    before = bench.found((file.name, job.digest, "plan"))
    if make != "compare" and before and before.good:
        found: Solution = before.result.solution
        return found
    cost = BarCost.of(job, job.head.units)

    def so_far(best: float, bound: float, share: float) -> None:
        tell(share, cost.so_far(best, bound))

    return solve(job, progress=so_far, every_way=make == "compare")


def _with_packet(request: Request, made: Made, anyway: bool, tell: Tell) -> Made:
    solution = made.solution
    folder = solution.job.path.parent / packet_name(solution)
    names = write_packet(solution, folder, anyway, tell=lambda share, code: tell(share, phrase(code)))
    told = folder.relative_to(folder_of(request).root).as_posix()
    return attrs.evolve(made, folder=told, files=names)


def solved(request: Request) -> Response:
    """How far the work on a job is, or what came of it; a packet that nobody asked for is not begun."""
    given = request.query_params
    make = _make(given)
    file, job, wrong = _read(request, given.get("file", ""))
    if job is None:
        return _failed(request, file, wrong)
    begun = bench_of(request).found((file.name, job.digest, make))
    return _answer(request, file, shown_of(request, file, job, make if begun or make not in _WRITES else "plan"))


def begin(request: Request, given: Mapping[str, str]) -> Response:
    """Begin work on a job, also where it is over; or stop it."""
    make = _make(given)
    file, job, wrong = _read(request, given.get("file", ""))
    if job is None:
        return _failed(request, file, wrong)
    under_way = bench_of(request).found((file.name, job.digest, make))
    if "stop" in given and under_way:
        under_way.stop()
    return _answer(request, file, shown_of(request, file, job, make, anew="stop" not in given))


def _make(given: Mapping[str, str]) -> str:
    make = given.get("make", "plan")
    return make if make in _MAKES else "plan"


def _read(request: Request, name: str) -> tuple[TextFile, Job | None, tuple[str, ...]]:
    file = TextFile.of(folder_of(request), name)
    try:
        return file, job_of(folder_of(request), file), ()
    except MitertoolError as error:
        return file, None, error.lines


def _failed(request: Request, file: TextFile, lines: tuple[str, ...]) -> Response:
    return page(request, "solved.html", HTTPStatus.BAD_REQUEST, shown=None, lines=lines, file=file)


def _answer(request: Request, file: TextFile, shown: WorkShown) -> Response:
    assert shown.work is not None
    shown.work.over.wait(_WAITS)
    return page(request, "solved.html" if asks_part(request) else "job_work.html", shown=shown, lines=(), file=file)


ROUTES = (Route("/job/solved", solved), posts("/job/work", begin))
