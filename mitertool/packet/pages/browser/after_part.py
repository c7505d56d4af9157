"""The work on parted pieces: second ends of blanks, and further cuts of ends with more than one plane."""

from __future__ import annotations

from mitertool.job import Solution
from mitertool.job.further import FurtherRow
from mitertool.job.recuts import RecutRun
from mitertool.packet.floor.readings import reading_for
from mitertool.packet.pages.browser import ticks
from mitertool.packet.pages.browser.figures_part import reading_part
from mitertool.packet.pages.browser.markup import Markup, element
from mitertool.packet.words import all_more, back_words, stop_touches
from mitertool.quantity import Units, show_length
from mitertool.saw import Machine
from mitertool.words import counted, phrase


def recut_part(one: RecutRun, saw: Machine | None, units: Units) -> Markup:
    """Blanks of one mark that get their other end against the stop."""
    recut = one.recut
    shown = reading_for(one.reach, recut.cut.plane)
    title = element("h2", counted("browser.recut", recut.count, mark=recut.mark))
    lies = phrase(f"browser.recut/{recut.pose}", length=show_length(recut.blank, units))
    blank = element("p", lies, class_="roll")
    inside = [reading_part(shown, saw), _stop(one, units)]
    boxes = ticks.piece_boxes(f"r{one.number}", recut.count, phrase("browser.recut/box", mark=recut.mark))
    row = element("li", blank, element("div", *inside, class_="does"), boxes, class_="cut")
    return element("section", title, element("ol", row, class_="cuts"), class_="work", id=f"recut-{one.number}")


def _stop(one: RecutRun, units: Units) -> Markup | None:
    if one.stop is None or not one.stop.holds:
        return None
    large = element("div", show_length(one.stop.from_blade, units), class_="key")
    name = element("div", phrase("sheet.title-stop"), class_="soft")
    return element("div", name, large, element("div", stop_touches(one.stop, units)))


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
