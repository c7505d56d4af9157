"""What stands before and behind the bars: the job, what cannot be made, bars to fetch, pieces and their counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from mitertool.job import Solution, SolvedPiece
from mitertool.packet.floor.values import BarWork, FloorSheet, PieceRow, Reading
from mitertool.packet.pages import rest_said, said
from mitertool.packet.pages.browser import pictures, ticks
from mitertool.packet.pages.browser.markup import Markup, element, joined, sentence
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.first_page import cautions, first_told, head_facts, row_order, watched
from mitertool.packet.pages.sheet.piece_rows import both_ways, same_words
from mitertool.packet.paper.stand import leads
from mitertool.packet.words import instead, keyed
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units, show_length
from mitertool.quantity.units import said as unit_words
from mitertool.saw import Machine
from mitertool.words import counted, phrase


def job_part(sheet: FloorSheet, solution: Solution) -> Markup:
    """The head, refused marks, what to watch, bars to fetch and the pieces in the order of cutting."""
    units, rest = sheet.head.units, solution.job.rest
    inside = (
        element("h1", sheet.head.name),
        element("dl", *_facts(sheet)),
        _refused(sheet, units),
        *_listed("sheet.past-scale", [instead(one, units) for one in sheet.past]),
        *_listed("browser.changed", list(rest_said.lines(rest, units)) if rest else []),
        *(element("p", says, class_="prove") for says in watched(sheet)),
        *(element("p", says) for says in row_order(sheet)),
        element("details", element("summary", phrase("browser.cautions")), listed(cautions(sheet.saw))),
        _fetch(sheet, units),
        element("h2", phrase("browser.pieces")),
        element("ul", *(_piece(row, sheet, units) for row in sheet.pieces), class_="marks"),
    )
    return element("section", *inside)


def _facts(sheet: FloorSheet) -> Iterator[Markup]:
    """Who and what it is for, and with what it is cut."""
    revision = [(phrase("browser.revision"), sheet.head.revision)] if sheet.head.revision else []
    facts = [*revision, *((phrase(f"sheet.head-{word}"), value) for word, value in head_facts(sheet))]
    facts += [(phrase("browser.lengths"), unit_words(sheet.head.units)), (phrase("browser.inputs"), sheet.digest)]
    if sheet.bars and not sheet.recut_pieces:
        first = element("a", _named(sheet.bars[0]), href=f"#bar-{sheet.bars[0].number}", class_="jump")
        case, told = first_told(sheet)
        figures_first = element("strong", phrase(f"browser.first{case}", **told)) if case else None
        yield joined(element("dt", phrase("browser.cut-first")), element("dd", first, figures_first))
    for name, value in facts:
        yield joined(element("dt", name), element("dd", value))


def _named(bar: BarWork) -> str:
    """A bar by its number, without stock the mark that stands by itself."""
    return phrase("browser.bar", number=bar.number) if bar.run else bar.rows[-1].mark


def _listed(title: str, lines: Sequence[str]) -> Iterator[Markup]:
    if lines:
        yield element("h2", phrase(title))
        yield listed(lines)


def listed(lines: Iterable[str]) -> Markup:
    """A line an item."""
    return element("ul", *(element("li", line) for line in lines))


def _refused(sheet: FloorSheet, units: Units) -> Markup | None:
    """The refused marks, first and loud."""
    if not sheet.refused:
        return None
    rows = (
        element("tr", element("td", ", ".join(one.marks)), element("td", said.refusal(one, units)))
        for one in sheet.refused
    )
    table = element("table", element("tbody", *rows))
    wide = element("div", table, class_="wide", tabindex=0, role="group", aria_label=phrase("browser.refused"))
    return element("div", element("h2", phrase("browser.refused")), wide, class_="warn")


def _fetch(sheet: FloorSheet, units: Units) -> Markup | None:
    if not sheet.fetch:
        return None
    names = [phrase(f"browser.fetch/{name}") for name in ("count", "section", "grade", "length", "mass", "heat")]
    rows = []
    for bars in sheet.fetch:
        count, length, mass = said.fetch(bars, units)
        told = ", ".join(said.fetch_told(bars, units))
        rows.append((count, bars.section, bars.grade, length, mass, told))
    return joined(element("h2", phrase("browser.fetch")), table_of(*_filled(names, rows)))


def _filled(names: Sequence[str], rows: Sequence[Sequence[str]]) -> tuple[Sequence[str], Sequence[Sequence[str]]]:
    """A table without its last column where that is empty: a screen in the hand is narrow."""
    return (names, rows) if any(row[-1] for row in rows) else (names[:-1], [row[:-1] for row in rows])


def table_of(names: Sequence[str], rows: Iterable[Sequence[str]]) -> Markup:
    """A table that scrolls by itself where the screen is narrow."""
    head = element("tr", *(element("th", name, scope="col") for name in names))
    body = (element("tr", *(element("td", cell) for cell in row)) for row in rows)
    table = element("table", element("thead", head), element("tbody", *body))
    return element("div", table, class_="wide", tabindex=0, role="group", aria_label=names[0])


def _piece(row: PieceRow, sheet: FloorSheet, units: Units) -> Markup:
    """A mark with its readings, where it is cut, and its counts."""
    solved = row.solved
    many = counted("browser.of", solved.quantity, section=said.material(solved.piece.section.name, solved.order.grade))
    facts = [(phrase(f"browser.piece/{name}"), value) for name, value in _figures(row, sheet, units) if value]
    listed = element("dl", *(joined(element("dt", name), element("dd", value)) for name, value in facts))
    bars = (element("a", phrase("browser.bar", number=bar), href=f"#bar-{bar}", class_="jump") for bar in row.bars)
    refused = element("p", phrase("browser.refused/mark"), class_="prove") if row.refused else None
    head = element("h3", row.mark, class_="mark"), pictures.of_piece(row), element("p", many)
    ways = (element("p", says) for says in (same_words(row), *both_ways(row)) if says)
    inside = (*head, *ways, refused, listed, *_told(solved))
    return element("li", *inside, element("p", *bars), _counts(row), **ticks.of_piece(row))


def _told(solved: SolvedPiece) -> Iterator[Markup]:
    """What the job file says of the piece besides."""
    told = solved.order.particulars
    for name, says in (("prep", told.prep), ("process", told.process), ("note", told.note)):
        if says:
            yield element("p", phrase(f"browser.piece/{name}", says=says))


def _figures(row: PieceRow, sheet: FloorSheet, units: Units) -> Iterator[tuple[str, str]]:
    yield "long-point", show_length(row.solved.piece.long_point, units)
    for name, end in zip(("first", "second"), _ends(sheet.saw), strict=True):
        yield name, "; ".join(_reading(getattr(one, end)) for one in row.cut)
    if sheet.saw:
        yield "key", "; ".join(keyed(length, sheet.saw, units) for length in row.keys)
    yield "stop", "; ".join(show_length(length, units) for length in row.stops)


def _ends(saw: Machine | None) -> tuple[str, str]:
    """The end of a piece, as it lies on its bar, that is cut first, and the other."""
    return leads(saw), OTHER_END[leads(saw)]


def _reading(shown: Reading) -> str:
    if not shown.ok:
        return phrase("sheet.cannot")
    words = (figures.line_figure(shown), *figures.beside_figure(shown), *figures.tilt_figure(shown))
    return ", ".join(filter(None, words))


def _counts(row: PieceRow) -> Markup:
    """Good and scrap, which the page counts."""
    good, scrap, left = (element("strong", "0", data_shows=name) for name in ("good", "scrap", "left"))
    less = element("button", "−", type="button", data_step=-1, aria_label=phrase("browser.scrap/less", mark=row.mark))
    plus = element("button", "+", type="button", data_step=1, aria_label=phrase("browser.scrap/more", mark=row.mark))
    counts = element("span", sentence("browser.counts", good=good, left=left))
    thrown = element("span", sentence("browser.scrap", count=scrap))
    spoiled = element("span", thrown, less, plus, class_="step")
    return element("div", counts, spoiled, class_="step scripted", hidden=True)


def left_overs(sheet: FloorSheet) -> Markup | None:
    """What is left of every bar, with how its end stands."""
    if not sheet.left_overs:
        return None
    codes = (*(f"browser.left-overs/{name}" for name in ("bar", "section", "length")), "last.end")
    names = [*map(phrase, codes), phrase("browser.left-overs/place")]
    rows = []
    for rest in sheet.left_overs:
        length, end = said.left_over(rest, sheet.head.units, "last.end")
        rows.append((rest.bar, said.material(rest.section.name, rest.grade), length, end, said.goes_to(rest)))
    return joined(element("h2", phrase("browser.left-overs")), table_of(*_filled(names, rows)))
