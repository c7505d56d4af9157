"""What is keyed into the bar feed for a bar, or where the stop stands, line by line; knows job and layout."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from typing import Final

from mitertool.cut import Cut
from mitertool.drawing import Drawing, wrap
from mitertool.job.runs import Run
from mitertool.packet.pages.sheet.bar_block import Numbers, ends_of
from mitertool.packet.paper.layout import Block, TableColumn, cell, in_lines, table
from mitertool.packet.words import control_units, keyed, long_side, reading_words, stop_touches
from mitertool.quantity import Units, show_angle, show_exact, show_length, show_limit
from mitertool.quantity.problem import Remark
from mitertool.quantity.telling import As
from mitertool.saw import Machine
from mitertool.saw.feed.feed import CENTERLINE, OVER_AXIS, SIDE, FeedLine, FeedList, SetCut
from mitertool.saw.feed.stops import BlanksBeside, Tally


def list_blocks(run: Run, numbers: Numbers, width: float, units: Units, first: str = "") -> Iterator[Block]:
    """What is keyed into the feed, or where the stop stands, with what is set before each line.

    `first` is what is to know of the first cut.
    """
    if run.saw is not None and run.feed is not None:
        columns = [
            TableColumn("Length to key", 36, "right", bold=True, height=3.5),
            TableColumn("Pieces", 15, "right", bold=True, height=3.5),
            TableColumn("Mark", 31),
            TableColumn("Strokes", 17, "right"),
            TableColumn("Cycle", 13),
            TableColumn("Measured on", 25),
            TableColumn("Setting before it", width - 137),
        ]
        yield from table(
            columns, _with_first(_feed_rows(run.feed, run.saw, numbers, width - 140, units), first, width - 140)
        )
        said = [
            *(_of_control(note, run.saw, units) for note in run.feed.notes),
            *([blanks_say(run.blanks, units)] if run.blanks else []),
        ]
        yield from _notes(said, width)
        return
    columns = [
        TableColumn("Stop from blade", 30, "right", bold=True, height=3.5),
        TableColumn("It touches", 36),
        TableColumn("Pieces", 15, "right", bold=True, height=3.5),
        TableColumn("Mark", 30),
        TableColumn("Setting before it", width - 111),
    ]
    yield from table(columns, _with_first(_stop_rows(run, numbers, width - 114, units), first, width - 114))
    if any(stop.holds for stop in run.stops):
        yield from _notes((BACK_OFF,), width)


def plain_list(run: Run, width: float, first: str = "") -> Iterator[Block]:
    """The cuts of a bar where no saw is known: degrees from square, and on which side the piece comes out long.

    `first` is what is to know of the first cut.
    """
    columns = [
        TableColumn("Cut", 20, "right", bold=True),
        TableColumn("Finishes", 52, bold=True),
        TableColumn("From square", 28, "right", bold=True, height=3.5),
        TableColumn("It is long", width - 100),
    ]
    yield from table(columns, _with_first(_plain_rows(run, width - 103), first, width - 103))


def _with_first(rows: Iterable[list[str]], first: str, room: float) -> list[list[str]]:
    """The rows of a list, in the last column of its first row what is to know of the first cut."""
    (*cells, last), *more = rows
    says = (last, *wrap(first, room, 3.2)) if first else (last,)
    return [[*cells, "\n".join(word for word in says if word)], *more]


def _plain_rows(run: Run, room: float) -> Iterator[list[str]]:
    """A row a cut, equal neighbours as one."""
    rows = [_plain_row(finishes, cut, room) for finishes, cut in _plain_cuts(run)]
    for row, alike in itertools.groupby(enumerate(rows, 1), lambda numbered: numbered[1]):
        numbers = [number for number, _ in alike]
        yield [f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else str(numbers[0]), *row]


def _plain_cuts(run: Run) -> Iterator[tuple[str, Cut]]:
    """Each cut as what it finishes and how it lies on the bar: a lead cut begins a piece, the others end one."""
    for piece, (lead, _) in zip(run.pieces, ends_of(run.bar), strict=True):
        if not lead.shared:
            yield f"{piece.mark}, leading end", piece.left
        yield piece.mark, piece.right


def _plain_row(finishes: str, cut: Cut, room: float) -> list[str]:
    bevel = f", bevel {show_angle(abs(cut.bevel))}" if cut.bevel else ""
    says = long_side(cut) + bevel
    return [in_lines(finishes, 49), show_angle(abs(cut.miter)), in_lines(says, room)]


def _feed_rows(feed: FeedList, saw: Machine, numbers: Numbers, room: float, units: Units) -> Iterator[list[str]]:
    """A row a line to key; equal neighbours as one that says how often and counts the pieces of all."""
    told = [
        (line, _feed_row(line, "wedge" if i else "trim cut", numbers, saw, units)) for i, line in enumerate(feed.lines)
    ]
    for (_, (key, *cells, sets)), alike in itertools.groupby(told, lambda one: (one[0].quantity, one[1])):
        lines = [line for line, _ in alike]
        yield [key, _pieces(lines), *cells, "\n".join(wrap(_each_time(sets, len(lines)), room, 3.2))]


def _pieces(lines: Sequence[FeedLine]) -> str:
    """How many pieces some equal lines make."""
    if lines[0].cut is None:
        return "0"
    return str(sum(line.quantity for line in lines)) if lines[0].counted else "-"


_ON: Final = {OVER_AXIS: "line over axis", CENTERLINE: "centerline", SIDE: "side"}


def _feed_row(line: FeedLine, takes_off: str, numbers: Numbers, saw: Machine, units: Units) -> list[str]:
    """A line to key without its pieces; a cut that makes no piece says what it `takes_off`."""
    if line.cut is None:
        return ["0", "", "", "", "", "end of program"]
    reach = line.cut.reach
    number = f"{numbers(reach)} ({reading_words(reach)})" if line.set_up or not line.counted else ""
    roll = [f"roll {line.roll.in_units(units)}"] if line.roll else []
    why = [_of_control(line.manual, saw, units)] if line.manual and not line.set_up else []
    return [
        _moved(line.key, saw, units),
        in_lines(line.mark, 28) or takes_off,
        str(line.strokes),
        "hand" if line.manual or not line.counted else "auto",
        _ON.get(line.on, line.on),
        ", ".join(word for word in (number, *roll, *why) if word),
    ]


def _moved(length: float | None, saw: Machine, units: Units) -> str:
    """How far the bar goes on, or back, as it is keyed."""
    if length is None:
        return ""
    return keyed(length, saw, units) if length >= 0 else f"back {keyed(-length, saw, units)}"


def _of_control(note: Remark, saw: Machine, units: Units) -> str:
    """A sentence about what the control takes, its lengths with their units as the control shows them."""
    own = control_units(saw)
    unit = " mm" if own == units == "mm" else ""
    return note.told_by(lambda length: keyed(length, saw, units) + unit, partial(_limit, own))


def _limit(units: Units, length: float, asked: As) -> str:
    """A limit of the control, or another length of a note, never looser than it is."""
    shown = show_limit(length, units, asked) if asked in ("up", "down") else show_exact(length, units)
    return f"{shown} mm" if units == "mm" else shown


def _stop_rows(run: Run, numbers: Numbers, width: float, units: Units) -> Iterator[list[str]]:
    """A row a cut: what takes off the raw end or a wedge, and each piece at its stop; equal neighbours as one."""
    for (stop, touches, counted, makes, sets), alike in itertools.groupby(_stop_cells(run, numbers, units)):
        times = len(list(alike))
        said = sets and _each_time(sets, times)
        cells = (in_lines(touches, 33), str(times) if counted else "-", in_lines(makes, 27))
        yield [stop, *cells, "\n".join(wrap(said, width, 3.2))]


def _stop_cells(run: Run, numbers: Numbers, units: Units) -> Iterator[tuple[str, str, bool, str, str]]:
    """Each cut by its stop, what touches it, whether it counts, what it makes, what is set before."""
    stops, before = iter(run.stops), None
    for cut in run.cuts:
        sets = [_sets(before, cut, numbers)]
        if cut.mark:
            stop = next(stops)
            distance = show_length(stop.from_blade, units) if stop.holds else "tape"
            yield distance, stop_touches(stop, units) if stop.holds else "no stop holds", True, cut.mark, sets[0]
        else:
            sets.append(_goes(before, cut, units))
            makes = "trim cut" if before is None else "wedge"
            yield "-", "-", False, makes, ", ".join(word for word in sets if word)
        before = cut


BACK_OFF: Final = "Back the stop off when the bar is clamped: a piece cut free must not be held between blade and stop."


def _goes(before: SetCut | None, cut: SetCut, units: Units) -> str:
    """The trim cut meets its tape marks; later how far the bar goes on or back, where that is known."""
    if before is None or before.fed is None or cut.fed is None:
        return "at the tape mark"
    moved = cut.fed - before.fed
    return f"bar {'on' if moved >= 0 else 'back'} {show_length(abs(moved), units)}"


def _each_time(sets: str, times: int) -> str:
    """What is set before a row that stands for so many equal ones."""
    return ", ".join(word for word in (sets, f"each of {times} times" if times > 1 else "") if word)


def _sets(before: SetCut | None, cut: SetCut, numbers: Numbers) -> str:
    """The setting before a cut where it changes, and the roll; "" where nothing is set."""
    if before is not None and cut.same_setting(before):
        return ""
    roll = cut.rolled(before)
    return f"{numbers(cut.reach)} ({reading_words(cut.reach)}){f', roll {roll}' if roll else ''}"


def blanks_say(found: BlanksBeside, units: Units) -> str:
    """Parallel blanks first, one end recut, beside the bar as listed: cuts, set-ups and steel."""

    def work(one: Tally) -> str:
        return f"{one.cuts} cuts, {one.set_ups} set-ups, {show_length(one.steel, units)} of steel"

    return f"Parallel blanks first, one end recut: {work(found.blanks)}; as listed: {work(found.as_planned)}."


def _notes(lines: Sequence[str], width: float) -> Iterator[Block]:
    wrapped = [part for line in lines for part in wrap(line, width, 2.8)]
    texts = [cell(part, (0, -4.2 * (i + 1) + 0.6), width, 2.8) for i, part in enumerate(wrapped)]
    if texts:
        yield Block(4.2 * len(wrapped), Drawing(texts), gap=6.0)
