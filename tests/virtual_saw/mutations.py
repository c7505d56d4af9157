"""A sheet told wrong by one step, in one place: what the virtual saw must not let through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tests.virtual_saw.further import Further
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.walk import Bar, Step

SMALL = 0.1
"""mm. One step of the last figure printed in mm."""

ANY = "tape"
"""A way that every bar can be moved by."""

Told = tuple[str, str, list[Bar]]
"""What was changed, the way in which the bars are moved, and the bars as they are told then."""


def of_bars(saw: Machine, bars: Sequence[Bar], small: float = SMALL) -> Iterator[Told]:
    """Every bar told wrong in one place, lengths by `small` mm."""
    for number, bar in enumerate(bars):
        for what, way, wrong in _of_bar(saw, bar, small):
            yield f"bar {number + 1}, {what}", way, [*bars[:number], wrong, *bars[number + 1 :]]


def of_further(saw: Machine, rows: Sequence[Further]) -> Iterator[tuple[str, list[Further]]]:
    """The cuts on parted pieces told wrong in one place."""
    for number, row in enumerate(rows):
        for what, wrong in _of_row(saw, row):
            yield f"row {number + 1}, {what}", [*rows[:number], wrong, *rows[number + 1 :]]


def _of_row(saw: Machine, row: Further) -> Iterator[tuple[str, Further]]:
    yield "reading a division up", replace(row, reading=row.reading + saw.division)
    yield "tilt half a degree more", replace(row, tilt=row.tilt + 0.5)
    yield "the other end", replace(row, end="right" if row.end == "left" else "left")
    yield "one piece less", replace(row, pieces=row.pieces - 1)
    if saw.two_sided and abs(row.reading) > saw.division:
        yield "arm to the other side", replace(row, side="feed" if row.side == "discharge" else "discharge")
    if abs(saw.swing(row.reading, row.side)) > saw.division:
        yield "half a turn too many", replace(row, roll=row.roll + 180.0)
    for by in (SMALL, -SMALL):
        yield f"marked back {by:+}", replace(row, back={edge: back + by for edge, back in row.back.items()})
        yield f"long {by:+}", replace(row, long={edge: long + by for edge, long in row.long.items()})


def _of_bar(saw: Machine, bar: Bar, small: float) -> Iterator[tuple[str, str, Bar]]:
    for at, step in enumerate(bar.steps):
        slants = any(saw.swing(later.reading, later.side) or later.tilt for later in bar.steps[at:])
        for what, way, wrong in (*_settings(saw, step, slants), *_moves(step, small, trims=at == 0)):
            yield f"cut {at + 1}: {what}", way, replace(bar, steps=(*bar.steps[:at], wrong, *bar.steps[at + 1 :]))
    yield "one bar more", ANY, replace(bar, count=bar.count + 1)


def _settings(saw: Machine, step: Step, slants: bool) -> Iterator[tuple[str, str, Step]]:
    """The arm, the blade and the bar set otherwise; cuts that do not slant come out alike rolled either way."""
    yield "reading a division up", ANY, replace(step, reading=step.reading + saw.division)
    yield "reading a division down", ANY, replace(step, reading=step.reading - saw.division)
    if saw.two_sided and abs(step.reading) > saw.division:
        other = "feed" if step.side == "discharge" else "discharge"
        yield "arm to the other side", ANY, replace(step, side=other)
    if step.tilt:
        yield "tilt to the other side", ANY, replace(step, tilt=-step.tilt)
    yield "tilt half a degree more", ANY, replace(step, tilt=step.tilt + 0.5)
    yield from _rolls(step, slants)
    if step.mark:
        yield "a piece kept as scrap", ANY, replace(step, mark="")


def _rolls(step: Step, slants: bool) -> Iterator[tuple[str, str, Step]]:
    if step.roll_to is not None:
        yield "rolled half a turn further", ANY, replace(step, roll_to=step.roll_to + 180.0)
    elif step.roll:
        yield "roll left out", ANY, replace(step, roll=0.0)
    else:
        yield "half a turn too many", ANY, replace(step, roll=180.0)
    if step.roll and abs(step.roll) != 180 and slants:
        yield "roll the other way", ANY, replace(step, roll=-step.roll)


def _moves(step: Step, small: float, trims: bool) -> Iterator[tuple[str, str, Step]]:
    """The bar moved otherwise. A square raw end that needs no trim is not cut at all if it stands less far out."""
    for by in (small, -small):
        if step.tape:
            fixed, moving = step.tape
            yield f"tape of the fixed side {by:+}", "tape", replace(step, tape=(fixed + by, moving))
            yield f"tape of the moving side {by:+}", "tape", replace(step, tape=(fixed, moving + by))
        if step.fed is not None and not (trims and by < 0):
            yield f"fed {by:+}", "fed", replace(step, fed=step.fed + by)
        if step.key is not None:
            yield f"key {by:+}", "key", replace(step, key=step.key + by)
        if step.stop is not None:
            yield f"stop {by:+}", "stop", replace(step, stop=replace(step.stop, distance=step.stop.distance + by))
    if step.tape:
        yield "kerf on the other side of the mark", "tape", replace(step, kerf_behind=not step.kerf_behind)
