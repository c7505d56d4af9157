"""The work on parted pieces: second ends of blanks, and further cuts of ends with more than one plane."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from mitertool.job import Job, Solution
from mitertool.job.further import FurtherRow
from mitertool.packet.floor.readings import reading_for
from mitertool.packet.floor.values import CutRow, FloorSheet, SecondEnds
from mitertool.packet.pages.browser import ticks
from mitertool.packet.pages.browser.figures_part import first_part, reading_part, turn_part
from mitertool.packet.pages.browser.markup import Attribute, Markup, element
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.second_ends import second_work, set_words
from mitertool.packet.words import all_more, back_words, worked_lines
from mitertool.quantity import Units
from mitertool.saw import Machine
from mitertool.words import phrase


def second_ends_part(one: SecondEnds, solution: Solution) -> Markup:
    """Blanks of one mark that get their other end against the stop, told as a row of a bar."""
    run = solution.recuts[one.number - 1]
    made = ticks.of_second_ends(run, solution.job.digest, solution.heat_of(run.recut.mark))
    return _part(one, f"r{one.number}", f"recut-{one.number}", solution.job, made)


def recut_parts(sheet: FloorSheet, solution: Solution) -> Iterator[Markup]:
    """Pieces that are cut already and become others, told as rows of a bar; the last row of each makes them."""
    rows = sheet.recut_pieces
    for number, one in enumerate(rows, 1):
        last = number == len(rows) or rows[number].number != one.number
        job = solution.job
        made = ticks.of_recut(solution.again[one.number - 1], job.head.revision, job.digest) if last else {}
        yield _part(one, f"a{number}", f"again-{number}", job, made)


def _part(one: SecondEnds, box: str, place: str, job: Job, made: Mapping[str, Attribute]) -> Markup:
    row, count, saw, units = one.row, len(one.row.numbers), job.saw, job.head.units
    title = element("h2", row.again.in_units(units) if row.again else row.mark)
    words = (
        *set_words(second_work([one]), units),
        *figures.laid_words(row.laid, units),
        figures.laid_by_tape(row, units),
    )
    laid = (element("p", says, class_="roll") for says in words if says)
    prove = element("p", figures.proof_words(row.proof), class_="prove") if row.proof else None
    does = element("div", element("div", reading_part(row.reading, saw), prove), _stop(row, units), class_="does")
    beside = (row.said.prep, row.said.process, row.said.note, *worked_lines(row.worked, units))
    told = (element("p", word) for word in beside if word)
    boxes = ticks.piece_boxes(box, count, phrase("browser.recut/box", mark=row.mark))
    cut = element(
        "li", *laid, turn_part(row, one.section), does, first_part(row, units), *told, boxes, class_="cut", **made
    )
    return element("section", title, element("ol", cut, class_="cuts"), class_="work", id=place)


def _stop(row: CutRow, units: Units) -> Markup | None:
    if row.stop is None or not row.stop.holds:
        return None
    large = element("div", figures.stop_figure(row, units), class_="key")
    name = element("div", figures.stop_title(row.stop), class_="soft")
    return element("div", name, large, element("div", figures.touches_words(row.stop, units)))


def further_part(solution: Solution) -> Markup | None:
    """A row a further cut and mark."""
    if not solution.further:
        return None
    rows = (
        _further(number, row, solution.job.saw, solution.job.head.units)
        for number, row in enumerate(solution.further, 1)
    )
    inside = (element("h2", phrase("browser.further")), element("p", phrase("browser.further/how")))
    return element("section", *inside, element("ol", *rows, class_="cuts"), class_="work", id="further")


def _further(number: int, row: FurtherRow, saw: Machine | None, units: Units) -> Markup:
    cut = row.cut
    shown = reading_for(cut.reach, cut.cut)
    end = element("span", phrase(f"browser.further/{cut.end}", number=cut.number), class_="soft")
    head = element("p", element("span", row.mark, class_="mark"), end, class_="what")
    back = element("div", phrase("browser.further/back", places=back_words(cut.back, units)))
    how = all_more(cut.way, cut.cut)
    more = element("div", back, element("div", how) if how else None)
    does = element("div", reading_part(shown, saw), more, class_="does")
    says = phrase("browser.further/box", mark=row.mark, number=cut.number)
    return element("li", head, does, ticks.piece_boxes(f"f{number}", row.quantity, says), class_="cut")
