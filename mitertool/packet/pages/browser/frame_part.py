"""The frames on the page, as on the fitter's page: picture, check measures, corners, marks, stops, sentences."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.frame import SpaceAssembly
from mitertool.job import FrameOrder, Solution
from mitertool.packet.pages.browser import pictures
from mitertool.packet.pages.browser.job_part import listed, table_of
from mitertool.packet.pages.browser.markup import Markup, element, joined
from mitertool.packet.pages.fitter.details import details
from mitertool.packet.pages.fitter.held import FrameTable, held_tables
from mitertool.packet.pages.fitter.loose import loose_says
from mitertool.packet.pages.fitter.marked import landed_rows
from mitertool.packet.pages.fitter.pattern import no_saw, pattern_says, plates_of
from mitertool.packet.pages.fitter.seams import seam_drawing, seams
from mitertool.packet.pages.fitter.stops import stop_rows
from mitertool.packet.pages.fitter.told import (
    by_tape,
    corners_said,
    joins,
    opens,
    opens_title,
    running_rows,
    running_says,
    sentences,
    title_of,
)
from mitertool.quantity import Units, show_angle, show_exact, show_gap, show_length
from mitertool.words import counted, phrase


def frames_part(solution: Solution) -> Iterator[Markup]:
    """Every frame, and its mirror image where that is another, folded up; then the marks of none."""
    yield from (_frame(hand, solution) for order in solution.frames for hand in order.hands)
    loose = loose_says(solution)
    if loose:
        yield element("p", loose)


def _frame(order: FrameOrder, solution: Solution) -> Markup:
    units = solution.job.head.units
    inside = (
        element("p", counted("frame.make", order.quantity)),
        pictures.of_frame(order, units),
        *(pictures.picture(one.drawing, one.title) for one in details(order, units)),
        *(pictures.picture(seam_drawing(one), one.title) for one in seams(order.assembly, order.out)),
        *_patterns(order, solution),
        _measures(order, solution),
        listed(sentences(order, solution)),
        *(_told(one) for one in (*corner_tables(order, solution), *held_tables(order.assembly, units))),
        *(_told(one) for one in running_tables(order, units)),
        _marks(order, solution),
        *(_told(one) for one in stop_tables(order, units)),
    )
    return element("details", element("summary", title_of(order)), *inside, class_="frame")


def _patterns(order: FrameOrder, solution: Solution) -> Iterator[Markup]:
    """The flat patterns of a hopper's plates below what they mean."""
    assembly, units = order.assembly, solution.job.head.units
    plates = plates_of(assembly.leaning) if isinstance(assembly, SpaceAssembly) else []
    if plates:
        yield element("p", pattern_says(no_saw(assembly, solution)))
    yield from (pictures.of_plate(one, units) for one in plates)


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


def frame_tables(order: FrameOrder, solution: Solution) -> Iterator[FrameTable]:
    """The tables of a frame as plain text: corners, how members are held, where bars stand and land, stops."""
    units = solution.job.head.units
    yield from corner_tables(order, solution)
    yield from held_tables(order.assembly, units)
    yield from running_tables(order, units)
    rows = tuple((on, ", ".join(_at(*one) for one in shown)) for on, shown in _landed(order, units))
    if rows:
        yield FrameTable(phrase("frame.marks.says"), _titles("frame.marks", "on", "bar"), rows)
    yield from stop_tables(order, units)


def corner_tables(order: FrameOrder, solution: Solution) -> Iterator[FrameTable]:
    """Each corner, as on paper, with what its coordinates mean above; none of a frame that is not set out."""
    units, fit = solution.job.head.units, solution.fit.frame(order.assembly.mark)
    rows = tuple(
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
    )
    *first, across, up = _titles("frame.corner", "number", "pieces", "angle", "gap", "across", "up")
    if rows:
        yield FrameTable(corners_said(order.corners), (*first, _line(opens_title(fit)), across, up), rows)


def running_tables(order: FrameOrder, units: Units) -> Iterator[FrameTable]:
    """Where the bars of an infill stand; none of any other frame."""
    rows = tuple(running_rows(order.assembly, units))
    if rows:
        yield FrameTable(running_says(order.assembly), _titles("frame.running", "number", "at"), rows)


def stop_tables(order: FrameOrder, units: Units) -> Iterator[FrameTable]:
    """The stops of its jig; none of a frame whose corners and widths are its stops."""
    rows = tuple(map(tuple, stop_rows(order.assembly, order.out, units)))
    if rows:
        titles = _titles("frame.stops", "piece", "side", "right", "up", "to-right", "to-up", "angle")
        yield FrameTable(phrase("frame.stops.says"), titles, rows)


def _marks(order: FrameOrder, solution: Solution) -> Markup | None:
    """Where bars land, a row a side; no end of a line parts a mark and its place."""
    units = solution.job.head.units
    rows = [
        (on, joined(*(element("span", _at(*one), class_="landed") for one in shown)))
        for on, shown in _landed(order, units)
    ]
    titles = _titles("frame.marks", "on", "bar")
    return element("div", element("p", phrase("frame.marks.says")), table_of(titles, rows)) if rows else None


def _landed(order: FrameOrder, units: Units) -> list[tuple[str, list[tuple[str, str]]]]:
    return landed_rows(order.assembly, order.out, units)


def _at(mark: str, at: str) -> str:
    """A mark and its place."""
    return phrase("browser.frame/mark", mark=mark, at=at)


def _told(table: FrameTable) -> Markup:
    """A table with what it means above it."""
    return element("div", element("p", table.says), table_of(table.titles, table.rows))


def _titles(room: str, *columns: str) -> tuple[str, ...]:
    """The titles of a table of paper, each in one line."""
    return tuple(_line(phrase(f"{room}.{one}")) for one in columns)


def _line(title: str) -> str:
    """A title that paper has in two lines in one."""
    return " ".join(title.split())
