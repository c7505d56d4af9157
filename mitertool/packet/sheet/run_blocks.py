"""A bar on the sheet: drawn with its cuts and set-ups, by tape, and what to key or where the stop stands."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, THIN, Drawing, Entity, Line, Polygon, Text, text_width, wrap
from mitertool.job import Solution
from mitertool.job.runs import Run
from mitertool.job.settings import number_of
from mitertool.nest import Bar, SawCut
from mitertool.packet.layout import Block, Column, boxed, cell, in_lines, kept_together, table
from mitertool.packet.words import POSES, reading_words, turn_words
from mitertool.quantity import Units, show_length
from mitertool.saw import Reach, Saw
from mitertool.saw.feed import CENTERLINE, OVER_AXIS, SIDE, FeedLine, FeedList
from mitertool.saw.machine import Feed
from mitertool.saw.reach import same_roll, same_setting
from mitertool.saw.stops import Alternative, Work

_TALL: Final = 9.0
_PITCH: Final = 4.6
_FLAG: Final = 4.5
"""Paper mm above a bar for its set-ups."""

_NAME: Final = 2.8
_MOST: Final = 30
"""Lines of text in one block, so that it fits any page."""

Numbers = Callable[[Reach], str]
"""The number of the setting that makes a cut."""

Flag = tuple[float, str]
"""Where a text stands above a bar, paper mm from its leading end, and what it says."""


def run_blocks(run: Run, solution: Solution, width: float) -> list[Block]:
    """The bar, its tape positions and its list; `width` paper mm wide."""
    units, saw = solution.job.head.units, solution.job.saw
    longest = max(bar.stock_length for bar in solution.plan.bars) if solution.plan else run.bar.stock_length
    numbers = _numbers(solution, run)
    blocks = list(_bar(run, numbers, width, longest, units))
    if saw is None:
        return kept_together(blocks)
    blocks[-1] = attrs.evolve(blocks[-1], gap=2.0)
    return kept_together([*blocks, *_list(run, numbers, width, units)])


def legend(saw: Saw | None, units: Units, width: float) -> list[Block]:
    """How the bars and their lists are read; once, before the first."""
    says = [
        "The strip shows the bar from above as the pieces are drawn, leading end at the left, moving side up.",
        "By tape: the faces of the pieces on both sides, at the height of the bed. Mark them before the bar is rolled.",
        "Drop: what is left on the centerline, the grip in it.",
    ]
    if saw:
        says.append("Above a bar: the number of the setting to go to before the cut, and R where the bar is rolled.")
        says.append("Mark the bar at a jaw before it is unclamped to be rolled, so that it comes back to its place.")
    return boxed("How to read the bars", [*says, *(_feed_legend(saw.kerf, saw.feed, units) if saw else ())], width)


def _feed_legend(kerf: float, feed: Feed | None, units: Units) -> Iterator[str]:
    if feed is None:
        yield "The stop stands on the discharge side; its distance is from the blade, on the line over the swing axis."
        return
    less = f", less the kerf of {show_length(kerf, units, decimals=2)} that this control adds by itself"
    moves = f"what the bar moves, the kerf at the angle in it{less if feed.counts_kerf else ''}"
    yield f"The length to key is {moves}; it is not the long point."
    yield "It is measured on the line of the piece over the swing axis, on its centerline, or on its side."
    yield "The lead cut is not part of the count; at the closing line the control stops. Strokes are for one piece."
    by_hand = "the arm or the bar is set before it, or the control does not take the length"
    yield f"Cycle hand: cut one by one, for {by_hand}."


def _numbers(solution: Solution, run: Run) -> Numbers:
    return lambda reach: str(number_of(solution.settings, reach, run.bar.grade) or "")


def _bar(run: Run, numbers: Numbers, width: float, longest: float, units: Units) -> Iterator[Block]:
    bar = run.bar
    times = f", {bar.count} alike" if bar.count > 1 else ""
    names = ", ".join(word for word in (bar.section.name, bar.grade) if word)
    length, drop = show_length(bar.stock_length, units), show_length(bar.drop, units)
    title = f"Bar {run.number}{times}: {names}, {length}, drop {drop}"
    low = 8 + _FLAG + _TALL
    picture = _picture(run, numbers, width / longest).moved(0, -low)
    lines = [*wrap(_pieces(bar), width, 3.0), *wrap(_positions(bar, units), width, 3.0)]
    parts = [lines[i : i + _MOST] for i in range(0, len(lines), _MOST)]
    texts = [cell(title, (0, -5), width, 3.6, bold=True)]
    yield Block(low + 1 + _PITCH * len(parts[0]), picture + Drawing(texts + _lines(parts[0], low + 0.5, width)))
    for part in parts[1:]:
        yield Block(_PITCH * len(part) + 1, Drawing(_lines(part, 0, width)))


def _lines(lines: Sequence[str], low: float, width: float) -> list[Text]:
    return [cell(line, (0, -low - _PITCH * (i + 1) + 0.8), width, 3.0) for i, line in enumerate(lines)]


def _picture(run: Run, numbers: Numbers, k: float) -> Drawing:
    """The bar to scale along its length from its leading end, with its cuts, set-ups and as many marks as have room."""
    bar = run.bar
    end = bar.stock_length * k
    outline = Polygon([(0, 0), (end, 0), (end, _TALL), (0, _TALL)], THIN)
    cuts = [Line((cut.fixed * k, 0), (cut.moving * k, _TALL), OUTLINE) for cut in bar.cuts]
    return Drawing([outline, *cuts, *_marks(bar, k), *_flags(run, numbers, k)])


def _marks(bar: Bar, k: float) -> Iterator[Text]:
    """The mark of each piece where it has room between its slanted ends."""
    for placed, (lead, trail) in zip(bar.pieces, _ends(bar), strict=True):
        begin, end = max(lead.fixed, lead.moving) * k, min(trail.fixed, trail.moving) * k
        if end - begin > text_width(placed.mark, _NAME) + 1:
            yield Text(((begin + end) / 2, _TALL / 2), placed.mark, _NAME, "center", "middle")


def _ends(bar: Bar) -> Iterator[tuple[SawCut, SawCut]]:
    """The leading and the trailing cut of each piece: a shared one is both, else the next piece has one of its own."""
    at = 0
    for _ in bar.pieces:
        lead, trail = bar.cuts[at], bar.cuts[at + 1]
        yield lead, trail
        at += 1 if trail.shared else 2


def _flags(run: Run, numbers: Numbers, k: float) -> Iterator[Entity]:
    """Above a cut before which arm or bar is set: the number of the setting, R for a roll; near ones as one text."""
    end = run.bar.stock_length * k
    befores = [None, *(cut.reach for cut in run.cuts[:-1])] if run.cuts else []
    flags = (
        (cut.place * k, says)
        for before, cut in zip(befores, run.cuts, strict=True)
        if (says := _flag(before, cut.reach, numbers))
    )
    for group in _apart(flags, end):
        low, high = _span(group, end)
        if high - low < end:
            yield Text(((low + high) / 2, _TALL + 1.2), group[1], _NAME, "center", "baseline", bold=True)


def _apart(flags: Iterable[Flag], end: float) -> list[Flag]:
    """Flags that would stand on one another put together, each at the place of its first."""
    found: list[Flag] = []
    for flag in flags:
        found.append(flag)
        while len(found) > 1 and _span(found[-2], end)[1] + 1 > _span(found[-1], end)[0]:
            (x, first), (_, second) = found[-2:]
            found[-2:] = [(x, f"{first} {second}")]
    return found


def _span(group: Flag, end: float) -> tuple[float, float]:
    """From where to where the text of a flag stands, within the bar."""
    x, says = group
    half = text_width(says, _NAME, bold=True) / 2
    middle = min(max(x, half), end - half)
    return middle - half, middle + half


def _flag(before: Reach | None, reach: Reach, numbers: Numbers) -> str:
    if before is None:
        return numbers(reach) + ("R" if reach.roll else "")
    number = "" if same_setting(before, reach) else numbers(reach)
    return number + ("R" if not same_roll(before, reach) else "")


def _pieces(bar: Bar) -> str:
    """The pieces in their order, each with how it lies where that is not as drawn; equal neighbours counted."""
    said = []
    for (mark, pose), alike in itertools.groupby(bar.pieces, lambda placed: (placed.mark, placed.pose)):
        count, lies = len(list(alike)), POSES[pose]
        said.append(f"{f'{count} x ' if count > 1 else ''}{mark}{f' {lies}' if lies else ''}".replace(" ", "\u00a0"))
    return "From the leading end: " + ", ".join(said)


def _positions(bar: Bar, units: Units) -> str:
    """Where each cut meets the fixed and the moving side, by tape from the leading end."""
    said = []
    for number, cut in enumerate(bar.cuts, 1):
        fixed, moving = show_length(cut.fixed, units), show_length(cut.moving, units)
        place = fixed if fixed == moving else f"{fixed} fixed side, {moving} moving side"
        said.append(f"cut {number}: {place}{' (shared)' if cut.shared else ''}".replace(" ", "\u00a0"))
    return "Tape from the leading end, " + "; ".join(said)


def _list(run: Run, numbers: Numbers, width: float, units: Units) -> Iterator[Block]:
    """What is keyed into the feed, or where the stop stands, with what is set before each line."""
    if run.feed is not None:
        columns = [
            Column("Length to key", 28, "right", bold=True, height=3.5),
            Column("Pieces", 15, "right", bold=True, height=3.5),
            Column("Mark", 31),
            Column("Strokes", 17, "right"),
            Column("Cycle", 13),
            Column("Measured on", 25),
            Column("Setting before it", width - 129),
        ]
        yield from table(columns, list(_feed_rows(run.feed, numbers, width - 132, units)))
        said = [
            *(note.in_units(units) for note in run.feed.notes),
            *([blanks_say(run.blanks, units)] if run.blanks else []),
        ]
        yield from _notes(said, width)
        return
    columns = [
        Column("Stop at long tip", 32, "right", bold=True, height=3.5),
        Column("or at short tip", 30, "right", height=3.5),
        Column("Pieces", 15, "right", bold=True, height=3.5),
        Column("Mark", 30),
        Column("Setting before it", width - 107),
    ]
    yield from table(columns, list(_stop_rows(run, numbers, width - 110, units)))


def _feed_rows(feed: FeedList, numbers: Numbers, room: float, units: Units) -> Iterator[list[str]]:
    """A row a line to key; equal neighbours as one that says how often."""
    rows = (_feed_row(line, numbers, units) for line in feed.lines)
    for row, alike in itertools.groupby(rows):
        times = len(list(alike))
        *cells, sets = row
        yield [*cells, "\n".join(wrap(f"{sets}, {times} times" if times > 1 else sets, room, 3.2))]


_ON: Final = {OVER_AXIS: "line over axis", CENTERLINE: "centerline", SIDE: "side"}


def _feed_row(line: FeedLine, numbers: Numbers, units: Units) -> list[str]:
    """A line to key; the lead cut is not counted, and the closing line stops the control."""
    if line.cut is None:
        return ["0", "0", "", "", "", "", "closing line"]
    reach = line.cut.reach
    number = f"{numbers(reach)} ({reading_words(reach)})" if line.set_up or not line.counted else ""
    roll = [words.replace("the bar ", "") for words in line.set_up if words.startswith("roll")]
    why = [line.manual.in_units(units)] if line.manual.text and not line.set_up else []
    return [
        _moved(line.key, units),
        str(line.quantity) if line.counted else "lead",
        in_lines(line.mark, 28) or "not counted",
        str(line.strokes),
        "hand" if line.manual.text or not line.counted else "auto",
        _ON.get(line.on, line.on),
        ", ".join(word for word in (number, *roll, *why) if word),
    ]


def _moved(length: float | None, units: Units) -> str:
    """How far the bar goes on, or back."""
    if length is None:
        return ""
    return show_length(length, units) if length >= 0 else f"back {show_length(-length, units)}"


def _stop_rows(run: Run, numbers: Numbers, width: float, units: Units) -> Iterator[list[str]]:
    """A row a cut: what takes off the raw end or a wedge, and each piece at its stop; equal neighbours as one."""
    for row, alike in itertools.groupby(_stop_cells(run, numbers, width, units)):
        times = len(list(alike))
        long_tip, short_tip, _, *rest = row
        yield [long_tip, short_tip, str(times) if row[2] else "lead", *rest]


def _stop_cells(run: Run, numbers: Numbers, width: float, units: Units) -> Iterator[list[str]]:
    stops = iter(run.stops)
    before: Reach | None = None
    fed: float | None = None
    for cut in run.cuts:
        sets = _sets(before, cut.reach, numbers)
        if cut.mark:
            stop = next(stops)
            lengths = (
                "not known" if tip is None else show_length(tip, units) for tip in (stop.long_tip, stop.short_tip)
            )
            yield [*lengths, "piece", in_lines(cut.mark, 27), "\n".join(wrap(sets, width, 3.0))]
        else:
            moved = None if cut.fed is None else cut.fed - (fed or 0.0)
            on = f"raw end past the axis {_moved(moved, units)}" if before is None else f"bar on {_moved(moved, units)}"
            says = sets if moved is None else f"{sets}; {on.replace('on back', 'back')}"
            yield ["-", "-", "", "raw end" if before is None else "wedge", "\n".join(wrap(says, width, 3.0))]
        before, fed = cut.reach, cut.fed


def _sets(before: Reach | None, reach: Reach, numbers: Numbers) -> str:
    """The setting before a cut where it changes, and the roll; "" where nothing is set."""
    if before is not None and same_setting(before, reach) and same_roll(before, reach):
        return ""
    roll = "" if before is None or same_roll(before, reach) else ", roll the bar"
    roll = f", rolled {turn_words(reach.roll)}" if before is None and reach.roll else roll
    return f"{numbers(reach)} ({reading_words(reach)}){roll}"


def blanks_say(found: Alternative, units: Units) -> str:
    """Parallel blanks first, one end recut, beside the bar as listed: cuts, set-ups and steel."""

    def work(one: Work) -> str:
        return f"{one.cuts} cuts, {one.set_ups} set-ups, {show_length(one.steel, units)} of steel"

    return f"Parallel blanks first, one end recut: {work(found.blanks)}; as listed: {work(found.as_planned)}."


def _notes(lines: Sequence[str], width: float) -> Iterator[Block]:
    wrapped = [part for line in lines for part in wrap(line, width, 2.8)]
    texts = [cell(part, (0, -4.2 * (i + 1) + 0.6), width, 2.8) for i, part in enumerate(wrapped)]
    if texts:
        yield Block(4.2 * len(wrapped), Drawing(texts), gap=6.0)
