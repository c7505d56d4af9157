"""The frames on the page, as on the fitter's page: picture, check measures, corners, marks, stops, sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mitertool.job import FrameOrder, Solution
from mitertool.packet.pages.browser import pictures
from mitertool.packet.pages.browser.job_part import listed, table_of
from mitertool.packet.pages.browser.markup import Markup, element, joined
from mitertool.packet.pages.fitter.held import held_tables
from mitertool.packet.pages.fitter.marked import landed_rows
from mitertool.packet.pages.fitter.stops import stop_rows
from mitertool.packet.pages.fitter.told import by_tape, corners_said, joins, opens, opens_title, sentences, title_of
from mitertool.quantity import show_angle, show_exact, show_gap, show_length
from mitertool.words import counted, phrase


def frames_part(solution: Solution) -> Iterator[Markup]:
    """Every frame, and its mirror image where that is another, folded up."""
    yield from (_frame(hand, solution) for order in solution.frames for hand in order.hands)


def _frame(order: FrameOrder, solution: Solution) -> Markup:
    units = solution.job.head.units
    inside = (
        element("p", counted("frame.make", order.quantity)),
        pictures.of_frame(order, units),
        _measures(order, solution),
        _corners(order, solution),
        *_held(order, solution),
        _marks(order, solution),
        _stops(order, solution),
        listed(sentences(order, solution)),
    )
    return element("details", element("summary", title_of(order)), *inside, class_="frame")


def _measures(order: FrameOrder, solution: Solution) -> Markup | None:
    """What a tape must read from corner to corner."""
    rows = [
        (
            f"{one.first} - {one.second}",
            by_tape(one.length, solution.job),
            show_gap(one.length, solution.job.head.units),
        )
        for one in order.measures
    ]
    return table_of(_titles("frame.check", "over", "tape", "exact"), rows) if rows else None


def _corners(order: FrameOrder, solution: Solution) -> Markup | None:
    """Each corner, as on paper, with what its coordinates mean above."""
    units, fit = solution.job.head.units, solution.fit.frame(order.assembly.mark)
    rows = [
        (
            str(one.number),
            joins(one),
            "" if one.angle is None else show_angle(one.angle),
            show_exact(one.gap, units) if one.gap else "",
            opens(one, fit, units),
            show_length(one.at.real, units),
            show_length(one.at.imag, units),
        )
        for one in order.corners
    ]
    titles = _titles("frame.corner", "number", "pieces", "angle", "gap", "across", "up")
    titles.insert(4, _line(opens_title(fit)))
    return element("div", element("p", corners_said(order.corners)), table_of(titles, rows)) if rows else None


def _held(order: FrameOrder, solution: Solution) -> Iterator[Markup]:
    """How members that lie in no one plane are held and cut."""
    for one in held_tables(order.assembly, solution.job.head.units):
        yield element("div", element("p", one.says), table_of(one.titles, one.rows))


def _marks(order: FrameOrder, solution: Solution) -> Markup | None:
    """Where bars land, a row a side."""
    sides = landed_rows(order.assembly, order.out, solution.job.head.units)
    rows = [(on, joined(*(_mark(*one) for one in shown))) for on, shown in sides]
    return _told("frame.marks.says", _titles("frame.marks", "on", "bar"), rows)


def _mark(mark: str, at: str) -> Markup:
    """A mark and its place, which no end of a line parts."""
    return element("span", phrase("browser.frame/mark", mark=mark, at=at), class_="landed")


def _stops(order: FrameOrder, solution: Solution) -> Markup | None:
    rows = stop_rows(order.assembly, order.out, solution.job.head.units)
    titles = _titles("frame.stops", "piece", "side", "right", "up", "to-right", "to-up", "angle")
    return _told("frame.stops.says", titles, rows)


def _told(code: str, titles: Sequence[str], rows: Sequence[Sequence[str]]) -> Markup | None:
    """A table with what it means above it; None where it has no row."""
    return element("div", element("p", phrase(code)), table_of(titles, rows)) if rows else None


def _titles(room: str, *columns: str) -> list[str]:
    """The titles of a table of paper, each in one line."""
    return [_line(phrase(f"{room}.{one}")) for one in columns]


def _line(title: str) -> str:
    """A title that paper has in two lines in one."""
    return " ".join(title.split())
