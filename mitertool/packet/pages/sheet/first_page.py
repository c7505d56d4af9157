"""The first page: what job this is, what is fetched, the pieces in the order of cutting, what to watch; knows layout.

Paper mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, Drawing, Polygon, Text, text_width, wrap
from mitertool.job.particulars import Particulars
from mitertool.packet.floor.values import BarWork, CutRow, Fetch, FloorSheet, Refusal
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.piece_rows import piece_rows
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, TableColumn, boxed, cell, in_lines, table
from mitertool.packet.paper.stand import leads
from mitertool.packet.words import instead
from mitertool.quantity import Units, show_angle, show_exact, show_length, show_mass
from mitertool.saw import Machine
from mitertool.words import counted, phrase

_PITCH: Final = 4.3
_LABEL: Final = 18.5
_TABLE_GAP: Final = 2.4
_LINE: Final = 4.1
_LINES_GAP: Final = 0.7
_FIRST_LINE: Final = 5.0
_MARKS: Final = 3
"""Lines of marks that one reason is told of; the pages of the bars name them all."""


@attrs.frozen
class OnPages:
    """On which pages parts of the sheet begin: each bar by its number, what changed since before, what is recut."""

    bars: Mapping[int, int] = attrs.field(factory=dict)
    rest: int = 1
    recut: int = 1


def first_blocks(floor: FloorSheet, width: float, on: OnPages, rest: str = "") -> Iterator[Block]:
    """The blocks of the first page, which tells on which pages the others stand; `rest` what is told of those before.

    Above all what is cut first.
    """
    if first := first_cut(floor, on):
        lines = wrap(first, width, ROW, bold=True)
        texts = [cell(line, (0, -4.2 - _FIRST_LINE * i), width, ROW, bold=True) for i, line in enumerate(lines)]
        yield Block(5.6 + _FIRST_LINE * (len(lines) - 1), Drawing(texts), gap=0.0)
    yield _facts(floor, width)
    if rest:
        yield _lines([rest], width, bold=True)
    if floor.refused:
        yield from _refused(floor, width)
    if floor.past:
        yield from boxed(phrase("sheet.past-scale"), [instead(one, floor.head.units) for one in floor.past], width)
    yield from _fetched(floor, width)
    yield from piece_rows(floor, width, on.bars)
    if told := list(watched(floor)):
        yield _lines(told, width, bold=True)
    yield _lines([" ".join(row_order(floor)), " ".join(cautions(floor.saw))], width)


def _facts(floor: FloorSheet, width: float) -> Block:
    """Who and what it is for, and with what it is cut, in two columns."""
    said = [(phrase(f"sheet.head-{word}"), value) for word, value in head_facts(floor)]
    half, middle = (width - 4) / 2, -(-len(said) // 2)
    columns = [_fact_column(one, half) for one in (said[:middle], said[middle:])]
    drawing = columns[0][0] + columns[1][0].moved(half + 4, 0)
    return Block(max(deep for _, deep in columns) + 0.6, drawing, gap=1.2)


def first_cut(floor: FloorSheet, on: OnPages) -> str:
    """What is cut first, and on which page it stands; "" where nothing is cut."""
    if floor.recut_pieces:
        return phrase("sheet.first-again", page=on.recut)
    if not floor.bars:
        return ""
    bar = floor.bars[0]
    page = on.bars.get(bar.number, 1)
    if bar.run is None:
        return phrase("sheet.first-mark", mark=bar.rows[-1].mark, page=page)
    case, told = first_told(floor)
    return phrase(f"sheet.first-bar{case}", number=bar.number, page=page, **told)


def first_told(floor: FloorSheet) -> tuple[str, dict[str, str]]:
    """What is rolled, set, keyed or held for the first two cuts of all: the case of the words for it, and its figures.

    The case is "" where nothing can be told.
    """
    bar, units = floor.bars[0], floor.head.units
    rows = bar.rows[:2]
    if not rows[0].reading.ok:
        return "", {}
    if floor.saw is None:
        case, key, then = _first_by_tape(bar, units)
    elif floor.saw.feed is None:
        case, key, then = _first_stops(rows, units)
    else:
        case, key, then = _first_keys(rows, floor.saw, units)
    if not case:
        return "", {}
    then = _rolled(rows[1], then) if rows[1:] else then
    return case, {"set": _rolled(rows[0], figures.set_figure(rows[0].reading)), "key": key, "then": then}


def _rolled(row: CutRow, then: str) -> str:
    """What follows, behind how the bar is rolled for it."""
    if row.turn is None:
        return then
    roll = phrase("sheet.first-half-turn") if row.turn.half else figures.turn_words(row.turn)
    return phrase("sheet.first-rolled", roll=roll, then=then)


def _first_by_tape(bar: BarWork, units: Units) -> tuple[str, str, str]:
    """Where the mark of a trim is, and how long the piece behind it is, where no saw is known."""
    mark, then = figures.mark_words(bar.rows[0], bar, units), bar.rows[:2][-1].long
    return ("/mark" if mark else "/plain") if then > 0 else "", mark, show_length(then, units)


def _first_stops(rows: Sequence[CutRow], units: Units) -> tuple[str, str, str]:
    """How far the raw end stands past the blade, and where the stop then stands."""
    end, stop = (figures.stop_figure(row, units) for row in (rows[0], rows[-1]))
    known = rows[0].end_past is not None and rows[-1].stop is not None and rows[-1].stop.holds
    return "/stop" if known else "", end, phrase("sheet.first-stop", stop=stop)


def _first_keys(rows: Sequence[CutRow], saw: Machine, units: Units) -> tuple[str, str, str]:
    """The first two lengths to key."""
    keys = [figures.key_figure(row, saw, units) if row.key is not None else "" for row in rows]
    key, then, trims = keys[0], keys[-1], rows[0].makes == "trim" and all(keys[1:])
    if not key:
        return "/hand" if trims else "", "", phrase("sheet.first-key", key=then)
    return ("/first" if rows[0].raw_face else "/trim") if trims else "/key", key, then


def _fact_column(said: list[tuple[str, str]], width: float) -> tuple[Drawing, float]:
    """Words with their values beside them, one below the other, hanging from (0, 0); and how deep they go."""
    room = width - _LABEL
    texts: list[Text] = []
    y = 0.0
    for label, value in said:
        lines = [value] if text_width(value, NOTE) <= room else list(wrap(value, room, NOTE))
        texts.append(cell(label, (0, y - _PITCH - 0.2), _LABEL - 1, NOTE))
        height = ROW if len(lines) == 1 else NOTE
        texts += [cell(line, (_LABEL, y - _PITCH - 0.2 - 5.0 * i), room, height) for i, line in enumerate(lines)]
        y -= 5.2 * len(lines)
    return Drawing(texts), -y


def head_facts(floor: FloorSheet) -> Iterator[tuple[str, str]]:
    """What the head tells, by the word of each fact."""
    head, saw = floor.head, floor.saw
    told = (("customer", head.customer), ("drawing", head.particulars.drawing), ("date", head.date))
    yield from ((word, value) for word, value in told if value)
    totals = floor.totals
    pieces = phrase(
        "sheet.pieces-of-marks",
        pieces=counted("sheet.pieces", totals.pieces),
        marks=counted("sheet.marks", totals.marks),
        mass=show_mass(totals.mass, head.units),
    )
    before = {"recut": totals.recut, "kept": totals.kept, "all": totals.pieces + totals.recut + totals.kept}
    yield "pieces", phrase("sheet.pieces-beside", pieces=pieces, **before) if totals.recut or totals.kept else pieces
    if saw is None:
        yield "saw", _no_saw(floor)
    else:
        corrected = phrase("sheet.corrected", date=saw.scale.offset_date) if saw.scale.offset_date else ""
        named = phrase("sheet.invented", saw=saw.name) if saw.invented else saw.name
        yield "saw", ", ".join(word for word in (named, corrected) if word)
        yield from _saw_facts(saw, floor)
    if saw is None and floor.kerf:
        yield "kerf", phrase("sheet.kerf", kerf=show_exact(floor.kerf, head.units))
    if head.tolerance:
        of = floor.tolerance.of if floor.tolerance else phrase("sheet.tolerance-unknown")
        yield "tolerance", phrase("sheet.tolerance", name=head.tolerance, of=of)


def _no_saw(floor: FloorSheet) -> str:
    """How angles are meant where no saw is known, and what of a bar is left for the vise to hold."""
    if not floor.grip:
        return phrase("sheet.no-saw" if floor.grip is None else "sheet.no-saw/no-grip")
    return phrase("sheet.no-saw/grip", grip=show_length(floor.grip, floor.head.units))


def _saw_facts(saw: Machine, floor: FloorSheet) -> Iterator[tuple[str, str]]:
    """The blade with its kerf, which reading is a square cut, and whether lengths are keyed with the kerf."""
    units, teeth = floor.head.units, saw.blade.teeth_per_inch
    kerf = show_exact(saw.kerf, units)
    toothed = phrase("sheet.teeth", teeth=f"{teeth:.3g}") if teeth else "_" * 12
    yield "blade", phrase("sheet.blade", teeth=toothed, kerf=kerf)
    square, division = show_angle(saw.scale.reading(0.0)), show_angle(saw.scale.division)
    yield "scale", phrase("sheet.scale", square=square, division=division)
    if saw.feed:
        case, axis = "added" if saw.feed.counts_kerf else "inside", saw.bed.swing_axis
        if axis is None or not any(bar.two_angles for bar in floor.bars):
            yield "keyed", phrase(f"sheet.kerf/{case}", kerf=kerf)
        else:
            yield "keyed", phrase(f"sheet.kerf/{case}-pivot", kerf=kerf, axis=show_length(axis, units))


def _refused(floor: FloorSheet, width: float) -> list[Block]:
    """First and loud: how many marks need what, and what the saw has, a row each."""
    columns = [
        TableColumn(phrase("sheet.title-refused"), 26, "left", bold=True, height=ROW),
        TableColumn("", width - 96, height=NOTE),
        TableColumn(phrase("sheet.title-marks"), 70, bold=True, height=NOTE),
    ]
    says = phrase("sheet.refused")
    title = Block(
        9.0,
        Drawing([cell(says, (2, -6.2), width - 4, ROW + 1, bold=True), Polygon(_frame(width, 9.0), OUTLINE)]),
        keep_with_next=True,
        gap=1.0,
    )
    return [title, *table(columns, [_refusal(one, floor.head.units, width) for one in floor.refused])]


def _frame(width: float, height: float) -> list[tuple[float, float]]:
    return [(0, 0), (width, 0), (width, -height), (0, -height)]


def _refusal(one: Refusal, units: Units, width: float) -> list[str]:
    says = list(wrap(said.refusal(one, units), width - 99, NOTE))
    marks = list(wrap(", ".join(one.marks), 67, NOTE, bold=True))
    if len(marks) > _MARKS:
        marks = [*marks[: _MARKS - 1], phrase("sheet.and-more")]
    return [counted("sheet.marks", len(one.marks)), "\n".join(says), "\n".join(marks)]


def _fetched(floor: FloorSheet, width: float) -> list[Block]:
    """Bars to fetch, with a blank for the heat or certificate of each."""
    if not floor.fetch:
        return [Block(6.0, Drawing([cell(phrase("sheet.no-stock"), (0, -4.4), width, ROW)]))]
    columns = [
        TableColumn(phrase("sheet.title-fetch"), 14, "right", bold=True, height=ROW),
        TableColumn(phrase("sheet.title-section"), 44, bold=True, height=ROW),
        TableColumn(phrase("sheet.title-grade"), 30, height=NOTE),
        TableColumn(phrase("sheet.title-length"), 28, "right", bold=True, height=ROW),
        TableColumn(phrase("sheet.title-mass"), 20, "right", height=NOTE),
        TableColumn(phrase("sheet.title-heat"), width - 136, height=NOTE),
    ]
    rows = table(columns, [_fetch(one, floor.head.units, width - 139) for one in floor.fetch])
    return [*rows[:-1], attrs.evolve(rows[-1], gap=_TABLE_GAP)]


def _fetch(one: Fetch, units: Units, room: float) -> list[str]:
    told = [line for word in said.fetch_told(one, units) for line in wrap(word, room, NOTE)]
    blank = [] if one.heats else [_heat_blanks(one.count, room)]
    count, length, mass = said.fetch(one, units)
    steel = in_lines(one.section, 41, bold=True), in_lines(one.grade, 27)
    return [count, *steel, length, mass, "\n".join((*blank, *told))]


def _heat_blanks(bars: int, room: float) -> str:
    """A blank for the heat of each bar beside each other; one of all where they are more than have room."""
    blanks = bars if bars <= _HEATS else 1
    between = " " * 3
    each = (room - (blanks - 1) * text_width(between, NOTE)) / blanks
    return between.join(["_" * int(each / text_width("_", NOTE))] * blanks)


_HEATS: Final = 3
"""Blanks for heats beside each other: with more of them none has room for a number."""


def watched(floor: FloorSheet) -> Iterator[str]:
    """The few things to watch: what is proved, what the tolerance is of, what nobody checked, what is on no bar."""
    if floor.proved:
        case = "" if floor.saw else "/plain"
        yield phrase(f"sheet.prove-marks{case}", marks=", ".join(floor.proved))
    if floor.exact:
        yield phrase("sheet.exact-marks", marks=", ".join(floor.exact))
    if any(row.raw_face for bar in floor.bars for row in bar.rows):
        yield phrase("plan.raw-ends")
    for mark, count in floor.left_out:
        yield phrase("sheet.left-out", count=count, mark=mark)
    missing = [word for word, there in _told_of(floor.saw) if not there]
    if missing:
        yield phrase("sheet.unchecked", what=", ".join(phrase(f"sheet.{word}") for word in missing))
    yield from (note.in_units(floor.head.units) for note in floor.drawn)
    yield from _asked(floor.head.particulars)


def _told_of(saw: Machine | None) -> list[tuple[str, object]]:
    if saw is None:
        return []
    return [("arm", saw.arm), ("guides", saw.guides), ("obstacles", saw.obstacles)]


def _asked(said: Particulars) -> Iterator[str]:
    yield from (word for word in (said.note, said.prep, said.process) if word)


def row_order(floor: FloorSheet) -> Iterator[str]:
    """In which order a row is worked, what the sign at its reading shows, and what is done before a bar is rolled.

    Last what is meant by the side at which a piece is long.
    """
    saw, rows = floor.saw, [row for bar in floor.bars for row in bar.rows]
    yield phrase(f"sheet.order/{'plain' if saw is None else 'feed' if saw.feed else 'stop'}")
    if leads(saw) == "right":
        yield phrase("sheet.order/right")
    if saw and any(row.turn for row in rows):
        yield phrase("sheet.order/clear")
    if any(row.turn and row.key is not None for row in rows):
        yield phrase("sheet.order/rolled")
    if any(row.comes_long for row in rows):
        yield phrase("sheet.order/long")


def cautions(saw: Machine | None) -> Iterator[str]:
    """What can hurt, a line each."""
    yield from (phrase(f"sheet.caution-{n}") for n in (1, 2, 3, 4))
    if saw and saw.feed:
        yield phrase("sheet.caution-feed")
        yield from (word for word in (saw.feed.caution,) if word)


def _lines(said: list[str], width: float, bold: bool = False) -> Block:
    """Short lines, one below the other."""
    lines = [line for one in said for line in wrap(one, width, NOTE, bold)]
    texts = [cell(line, (0, -_LINE * (i + 1)), width, NOTE, bold=bold) for i, line in enumerate(lines)]
    return Block(_LINE * len(lines) + 0.6, Drawing(texts), gap=_LINES_GAP)
