"""The figures of a cut on the page, as the sheet tells them: what is set, with its arrow; how the bar is brought."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.packet.floor.values import BarWork, CutRow, Reading
from mitertool.packet.pages import said
from mitertool.packet.pages.browser import pictures
from mitertool.packet.pages.browser.markup import Markup, element
from mitertool.packet.pages.sheet import figures
from mitertool.quantity import Units, show_length
from mitertool.saw import Machine
from mitertool.sections import Section
from mitertool.words import phrase


def reading_part(shown: Reading, saw: Machine | None, row: CutRow | None = None, bar: BarWork | None = None) -> Markup:
    """The line of the scale with the arm's arrow, tenths more or less, tilt; of a `row` of a `bar` or by itself.

    Where no saw is known a row has the cut over its bar for an arrow.
    """
    if not shown.ok:
        return element("div", element("div", phrase("sheet.cannot"), class_="set"))
    arrow = pictures.arm(shown, saw) if shown.line is not None else pictures.cut(row, bar) if row and bar else None
    lines = [element("div", arrow, figures.line_figure(shown), class_="set")]
    lines += [element("div", word) for word in figures.beside_figure(shown, row)]
    if shown.line is not None and shown.side != shown.arm:
        lines.append(element("div", said.arm(shown), class_="soft"))
    tilt, way = figures.tilt_figure(shown, row)
    sign = None
    if tilt and saw and shown.line is not None:
        sign = pictures.tilt(shown, saw)
    elif tilt and row and bar and shown.line is None:
        sign = pictures.bevel(row, bar)
    lines += [element("div", sign, tilt, class_="set"), element("div", way)] if tilt else []
    return element("div", *lines)


def brought_part(row: CutRow, bar: BarWork, saw: Machine | None, units: Units) -> Markup | None:
    """The length to key or where the stop stands, as large as can be, and in words how the bar comes there."""
    if saw is None:
        mark = figures.mark_words(row, bar, units)
        words = (figures.raw_face_words(row), figures.wander_words(row, units), mark)
        lines = [element("div", word) for word in words if word]
        return element("div", *(_long(row, units) if row.long else ()), *lines) if lines or row.long else None
    keyed = saw.feed is not None
    large = figures.key_figure(row, saw, units) if keyed else figures.stop_figure(row, units)
    lines = (
        [element("div", _name(row, saw, units), class_="soft"), element("div", large, class_="key")] if large else []
    )
    lines += [element("div", word) for word in _words(row, saw, units) if word]
    again = figures.again_words(row, bar.rows, saw, units) if keyed else ""
    lines += [element("div", again)] if again else []
    return element("div", *lines) if lines else None


def _long(row: CutRow, units: Units) -> Iterator[Markup]:
    """How long the piece is that comes off, where no saw is known: what its row has for a key or a stop."""
    yield element("div", phrase("sheet.title-long-row"), class_="soft")
    yield element("div", show_length(row.long, units), class_="long")


def _name(row: CutRow, saw: Machine, units: Units) -> str | None:
    if saw.feed and row.key is not None:
        return figures.key_title(saw, units)
    return figures.stop_title(row.stop) if row.stop else None


def _words(row: CutRow, saw: Machine, units: Units) -> Iterator[str]:
    yield figures.brought_words(row, saw, units)
    yield figures.why_words(row, saw)
    yield figures.raw_face_words(row)
    yield figures.wander_words(row, units)
    if saw.feed and figures.key_figure(row, saw, units):
        yield from figures.how_words(row)


def turn_part(row: CutRow, section: Section) -> Markup | None:
    """How the bar is rolled before each of the cuts."""
    if row.turn is None:
        return None
    half = "browser.half-turn/each" if row.several else "browser.half-turn"
    says = phrase(half, count=len(row.numbers)) if row.turn.half else figures.turn_words(row.turn)
    beside = [word for word in (figures.tip_words(row.turn), *figures.mark_round_words(row)) if word]
    told = [element("span", word) for word in (says, *beside)] if beside else [says]
    return element("p", pictures.turn(section, row.turn, row.several), *told, class_="roll")


def first_part(row: CutRow, units: Units) -> Markup | None:
    """What the first piece of a mark measures."""
    if row.first is None:
        return None
    return element("p", ", ".join(figures.measured_words(row.first, units)))
