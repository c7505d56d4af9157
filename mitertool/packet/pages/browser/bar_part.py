"""A bar on the page: what it is, how it lies, its cuts in the order of work with their boxes; knows said and ticks."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.job import Solution
from mitertool.packet.floor.values import BarWork, CutRow, Loop
from mitertool.packet.pages import said
from mitertool.packet.pages.browser import pictures, ticks
from mitertool.packet.pages.browser.figures_part import brought_part, first_part, reading_part, turn_part
from mitertool.packet.pages.browser.markup import Markup, element, joined, sentence
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.bar_panel import panel_words
from mitertool.packet.words import place_lines, section_words, worked_lines
from mitertool.quantity import Units
from mitertool.saw import Machine
from mitertool.words import counted, phrase


def bar_part(bar: BarWork, solution: Solution) -> Markup:
    """The section of a bar or of a batch of equal ones."""
    units, saw = solution.job.head.units, solution.job.saw
    inside = (
        element("h2", said.bar_title(bar)),
        _what(bar, solution, units),
        _set_up(bar, saw, units),
        pictures.of_strip(bar, saw),
        _tapes(bar, saw, units) if bar.by_tape else None,
        element("ol", *_rows(bar, solution, units), class_="cuts"),
        None if bar.by_tape else _tapes(bar, saw, units),
        _left(bar, units),
    )
    data = ticks.of_bar(bar.number, bar.run.bar, solution.job.digest, _off_rack(bar, solution)) if bar.run else {}
    return element("section", *inside, class_="work", id=f"bar-{bar.number}", **data)


def _off_rack(bar: BarWork, solution: Solution) -> int:
    """How many of the bars alike are left-overs off the rack."""
    return sum(one.number == bar.number for one in solution.sources if one.rack)


def _what(bar: BarWork, solution: Solution, units: Units) -> Markup:
    """The steel to fetch for it: section, grade, length, heat."""
    parts = [element("strong", said.material(section_words(bar.section), bar.grade))]
    if bar.run:
        parts.append(element("span", phrase("browser.stock", length=said.bar_length(bar, units))))
        heats = solution.heats(bar.number)
        parts += [element("span", phrase("browser.heat", heat=heat)) for heat in heats]
    return element("p", *_spaced(parts))


def _spaced(parts: list[Markup]) -> Iterator[str]:
    for number, part in enumerate(parts):
        yield from ((" ", part) if number else (part,))


def _set_up(bar: BarWork, saw: Machine | None, units: Units) -> Markup:
    """How it lies and what stands back, or the bar that tells it."""
    vise = pictures.of_vise(bar, units)
    if bar.told_in:
        name = phrase("browser.as-bar/link", number=bar.told_in)
        link = element("a", name, href=f"#bar-{bar.told_in}", class_="jump")
        return element("p", sentence("browser.as-bar", bar=link))
    names = said.things(saw) if saw else {}
    backs = [(names[one.name], said.set_back(one, units), one.moves) for one in bar.set_backs]
    far = [joined(element("dt", name), element("dd", _back(says, moves))) for name, says, moves in backs if says]
    stand = joined(element("h3", phrase("browser.set-back")), element("dl", *far)) if far else None
    views = element("div", vise, pictures.of_plan(bar, saw, units), class_="pictures")
    words = [element("p", says) for says in dict.fromkeys(panel_words(bar, units))]
    return element("details", element("summary", phrase("browser.set-up")), views, stand, *words, open=True)


def _back(length: str, moves: bool) -> str:
    """How far a thing stands back, and that it is clear where the saw file has it stand."""
    return length if moves else phrase("browser.set-back/clear", length=length)


def _rows(bar: BarWork, solution: Solution, units: Units) -> Iterator[Markup]:
    begins = {loop.begins: loop for loop in bar.loops}
    for at, row in enumerate(bar.rows):
        if at in begins:
            yield element("li", _in_turn(begins[at], bar), class_="roll")
        yield _row(bar, row, solution, units)


def _in_turn(loop: Loop, bar: BarWork) -> str:
    rounds, order = figures.rounds_told(loop, bar)
    return phrase("browser.in-turn", rows=loop.ends - loop.begins, rounds=rounds, order=order)


def _row(bar: BarWork, row: CutRow, solution: Solution, units: Units) -> Markup:
    """A row of cuts that are made alike: what comes off, roll, reading, key or stop, boxes."""
    numbers = ", ".join(map(str, row.numbers))
    what = element("span", said.makes(row), class_="mark" if row.makes == "piece" else "soft")
    which = element("span", counted("browser.cuts", len(row.numbers), cuts=numbers), class_="soft")
    head = element("p", what, which, class_="what")
    saw = solution.job.saw
    does = element("div", _reading(row, saw, bar), brought_part(row, bar, saw, units), class_="does")
    boxes = ticks.bar_boxes(bar, row, said.makes(row))
    blank = figures.blank_words(row, units)
    measured = element("p", blank, class_="roll") if blank else first_part(row, units)
    after = (*worked_lines(row.worked, units), *place_lines(row.places, units))
    beside = (
        *figures.beside_made(row, bar, units),
        row.said.prep,
        row.said.process,
        row.said.note,
        *after,
    )
    told = (element("p", word) for word in (*figures.guide_words(row, saw, units), *beside) if word)
    turned = turn_part(row, bar.section)
    return element("li", head, turned, does, measured, *told, *boxes, class_="cut", **ticks.of_row(row))


def _reading(row: CutRow, saw: Machine | None, bar: BarWork) -> Markup | None:
    """What arm and blade are set to where they are set, or stand at since another bar; else that they stay."""
    if not row.reading.ok:
        return reading_part(row.reading, saw, row, bar)
    if not (row.sets or row.stays):
        return element("p", phrase("browser.stays", reading=figures.standing_figure(row.reading)), class_="soft")
    stays = (element("div", says) for says in figures.stays_words(row))
    prove = element("p", figures.proof_words(row.proof), class_="prove") if row.proof else None
    return element("div", reading_part(row.reading, saw, row, bar), *stays, prove)


def _tapes(bar: BarWork, saw: Machine | None, units: Units) -> Markup | None:
    """Where each cut is by tape from the leading end, on either side; open where a cut is made by it."""
    if not bar.tapes:
        return None
    names = ("browser.cut", "side.fixed", "side.moving", "sheet.tape-kerf")
    head = element("tr", *(element("th", phrase(name), scope="col") for name in names))
    rows = []
    for place in bar.tapes:
        fixed, moving = said.tape(place, units)
        cells = (str(place.number), fixed, moving, joined(pictures.kerf(place, saw), said.kerf(place)))
        rows.append(element("tr", *(element("td", cell) for cell in cells)))
    table = element("table", element("thead", head), element("tbody", *rows))
    wide = element("div", table, class_="wide", tabindex=0, role="group", aria_label=phrase("browser.tape"))
    cases = (("all", bar.by_tape), ("bed", any(place.leans for place in bar.tapes)))
    where = (element("p", phrase(f"browser.tape/{case}")) for case, so in cases if so)
    return element("details", element("summary", phrase("browser.tape")), *where, wide, open=bar.by_tape or None)


def _left(bar: BarWork, units: Units) -> Markup | None:
    if bar.left_over is None:
        return None
    length, end = said.left_over(bar.left_over, units)
    return element("p", phrase("browser.left-over", length=length, end=end))
