"""The cut sheet held against the drawing, the plan, and what the saw counted; then its bars are walked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tests.virtual_saw import further, judge
from tests.virtual_saw.figures import STEP
from tests.virtual_saw.judge import Counted, Drawing
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.plan_reader import short, ways
from tests.virtual_saw.recuts import ANY_ROLL, POSES, Recut
from tests.virtual_saw.sheet_reader import Sheet, Told
from tests.virtual_saw.sheet_rows import Line, Row
from tests.virtual_saw.steel import Solid, minus
from tests.virtual_saw.walk import Bar, Step

ANGLES = 0.05
"""mm. What printed angles may put a corner out: half a hundredth of a degree at reading and roll, over 100 mm."""

SHOWN = 0.005 + 1e-9
"""degrees. Half a step of a printed angle."""


def faults(
    sheet: Sheet, saw: Machine, drawing: Drawing, bars: Sequence[Bar], recuts: Sequence[Recut], counted: Counted
) -> Iterator[str]:
    """All that is wrong on the sheet. `bars` and `recuts` are the plan's, `counted` what the saw counted by them."""
    yield from totals(sheet, counted)
    yield from marks(sheet, drawing)
    yield from readings(sheet, saw)
    yield from first_pieces(sheet, drawing)
    yield from left_overs(sheet, bars)
    yield from bars_told(sheet, sheet.bars, saw, drawing, bars)
    yield from recuts_told(sheet.recuts, recuts, sheet.units)
    yield from further.faults(saw, drawing, sheet.further, counted.arm, step_of(sheet) + ANGLES)[0]


def bars_told(
    sheet: Sheet, told: Sequence[Bar], saw: Machine, drawing: Drawing, planned: Sequence[Bar]
) -> Iterator[str]:
    """The bars as planned, and cut as told; a rounded length may be out by half a step at either end."""
    yield from as_planned(sheet, told, planned, saw.key_step)
    for way in ways(told):
        yield from judge.job(saw, drawing, told, way, max(step_of(sheet), saw.key_step) + ANGLES, sheet.recuts)[0]


def recuts_told(told: Sequence[Recut], planned: Sequence[Recut], units: str) -> Iterator[str]:
    """The second ends of blanks as the plan has them, rounded as the sheet rounds."""
    near = STEP[units] / 2 + 1e-6
    if len(told) != len(planned):
        yield f"{len(told)} rows of second ends told, {len(planned)} planned"
    for number, (one, two) in enumerate(zip(told, planned, strict=False), 1):
        heads = [(each.section, each.mark, each.count, each.end, each.after) for each in (one, two)]
        if heads[0] != heads[1]:
            yield f"second ends {number}: {heads[0]} told, {heads[1]} planned"
        if abs(one.blank - two.blank) > near:
            yield f"second ends {number}: blank {one.blank:g} told, {two.blank:g} planned"
        if one.step.stop is None and two.step.stop is not None:
            yield f"second ends {number}: no stop told"
        rolled, wanted = (POSES.get(each.pose, (0,))[0] + (each.step.roll_to or each.step.roll) for each in (one, two))
        if one.pose != ANY_ROLL and abs(short(rolled - wanted)) > SHOWN:
            yield f"second ends {number}: rolled to {rolled:g} told, {wanted:g} planned"
        yield from (f"second ends {number}: {what}" for what in differences(one.step, two.step, near, near))


def step_of(sheet: Sheet) -> float:
    return STEP[sheet.units]


def totals(sheet: Sheet, counted: Counted) -> Iterator[str]:
    """Totals told, by what was counted."""
    pieces, bars, cuts, again, swings, tilts, rolls = sheet.totals
    claims = {
        "pieces": (pieces, counted.made.total()),
        "bars": (bars, counted.bars),
        "cuts": (cuts, counted.cuts),
        "cuts on parted pieces": (again, sum(row.pieces for row in sheet.further)),
        "swings": (swings, counted.swings),
        "tilts": (tilts, counted.tilts),
        "rolls": (rolls, counted.rolls),
    }
    for what, (told, found) in claims.items():
        if told != found:
            yield f"the last page says {told:g} {what}, counted are {found:g}"


def marks(sheet: Sheet, drawing: Drawing) -> Iterator[str]:
    """Quantity and long point of each mark on page one."""
    if sheet.marks.keys() != drawing.pieces.keys():
        yield f"page 1 tells of {sorted(sheet.marks)}, drawn are {sorted(drawing.pieces)}"
    for mark, told in sheet.marks.items():
        wanted = drawing.pieces[mark]
        if told.count != drawing.quantity[mark]:
            yield f"{mark}: {told.count} told, {drawing.quantity[mark]} drawn"
        if abs(told.long - longest(wanted)) > sheet.near:
            yield f"{mark}: {told.long:g} told, {longest(wanted):g} drawn"


def first_pieces(sheet: Sheet, drawing: Drawing) -> Iterator[str]:
    """Each mark is measured once, in the row of its first cut, and what it is to measure is drawn so."""
    every = [row for told in sheet.told for row in (*told.rows, *told.second_ends)]
    rows = [row for row in every if row.long is not None and row.short is not None]
    if sorted(row.mark for row in rows) != sorted(drawing.pieces):
        yield f"first pieces of {sorted(row.mark for row in rows)}, drawn are {sorted(drawing.pieces)}"
    for row in rows:
        wanted = drawing.pieces[row.mark]
        out = max(abs((row.long or 0) - longest(wanted)), abs((row.short or 0) - shortest(wanted)))
        if out > sheet.near:
            yield f"{row.mark}: {row.long:g}, {row.short:g} to measure, {longest(wanted):g}, {shortest(wanted):g} drawn"


def readings(sheet: Sheet, saw: Machine) -> Iterator[str]:
    """A reading by line and tenths is the exact one, and page one has of a mark what the rows of its cuts have."""
    cut_by: dict[str, set[Line]] = {}
    last: Line | None = None
    for told in sheet.told:
        for number, row in _numbered(told):
            before, last = last, line_of(row, last)
            yield from (f"bar {told.number}, cut {number}: {what}" for what in _wrong_reading(row, saw))
            if row.mark:
                cut_by.setdefault(row.mark, set()).update({before or last, last})
        for row in told.second_ends:
            last = line_of(row, last)
            yield from (f"second end of {row.mark}: {what}" for what in _wrong_reading(row, saw))
            cut_by.setdefault(row.mark, set()).add(last)
    for mark, one in sheet.marks.items():
        if one.readings != cut_by.get(mark):
            yield f"{mark}: {sorted(map(str, one.readings))} on page 1, {cut_by.get(mark)} where it is cut"


def _wrong_reading(row: Row, saw: Machine) -> Iterator[str]:
    if row.arm and row.line and abs(off_line(row.arm.reading, row.line, saw)) > _TENTH * saw.division:
        yield f"{row.line} told, which is not {row.arm.reading}"
    if saw.two_sided and row.arm and row.arm.reading and not row.arm.side:
        yield "no side of a scale that reads up both ways"


def _numbered(told: Told) -> list[tuple[int, Row]]:
    """The rows of a bar by the numbers of their cuts."""
    return sorted(((number, row) for row in told.rows for number in row.numbers), key=lambda one: one[0])


_TENTH = 0.05 + 1e-6
"""Divisions. Half of the tenth to which a reading is told beside a line."""


def off_line(reading: float, line: Line, saw: Machine) -> float:
    """How far the reading by line and tenths is from the exact one, degrees, less what that is rounded by."""
    off = abs(abs(reading) - abs(line.line) - line.tenths * saw.division)
    return max(0.0, off - SHOWN)


def line_of(row: Row, last: Line | None) -> Line:
    """Line and tenths for a row, as they stand from the cut before where nothing is set."""
    line = row.line or (Line(abs(row.arm.reading), 0.0) if row.arm else last)
    assert line, "the first cut tells no reading"
    return line


def left_overs(sheet: Sheet, bars: Sequence[Bar]) -> Iterator[str]:
    """What is left of each bar, as the plan has it."""
    for number, bar in enumerate(bars, 1):
        told = sheet.left_over.get(number)
        if bar.longest is not None and (told is None or abs(told - bar.longest) > sheet.near):
            yield f"bar {number}: {told} told to be left, {bar.longest:g} planned"


def longest(solid: Solid) -> float:
    if len(solid.low) + len(solid.high) > 2:
        return max(solid.length(place) for place in solid.places)
    return solid.section.most(minus(solid.high[0], solid.low[0]))


def shortest(solid: Solid) -> float:
    if len(solid.low) + len(solid.high) > 2:
        return min(solid.length(place) for place in solid.places)
    return max(0.0, solid.section.least(minus(solid.high[0], solid.low[0])))


def as_planned(sheet: Sheet, bars: Sequence[Bar], plan: Sequence[Bar], key_step: float) -> Iterator[str]:
    """Every step as the plan has it, rounded as the sheet rounds."""
    if len(bars) != len(plan):
        yield f"{len(bars)} bars on the sheet, {len(plan)} planned"
    for number, (told, planned) in enumerate(zip(bars, plan, strict=False), 1):
        if (told.count, round(told.length - planned.length, 3)) != (planned.count, 0):
            yield f"bar {number}: {told.count} of {told.length:g} told, {planned.count} of {planned.length:g} planned"
        if len(told.steps) != len(planned.steps):
            yield f"bar {number}: {len(told.steps)} cuts told, {len(planned.steps)} planned"
        rolls = zip(lying(told.steps), lying(planned.steps), strict=False)
        steps = zip(told.steps, planned.steps, rolls, strict=False)
        for cut, (one, two, (rolled, wanted)) in enumerate(steps, 1):
            told_rolled = bool(one.roll) or one.roll_to is not None
            if abs(short(rolled - wanted)) > SHOWN or told_rolled != bool(two.roll):
                yield f"bar {number}, cut {cut}: rolled to {rolled:g} told, {wanted:g} planned"
            for what in differences(one, two, STEP[sheet.units] / 2 + 1e-6, key_step / 2 + 1e-6):
                yield f"bar {number}, cut {cut}: {what}"


def lying(steps: Sequence[Step]) -> Iterator[float]:
    """How the bar lies rolled for each cut, from how it is drawn."""
    rolled = 0.0
    for step in steps:
        rolled = rolled + step.roll if step.roll_to is None else step.roll_to
        yield rolled


def differences(told: Step, planned: Step, near: float, near_key: float) -> Iterator[str]:
    """Where a step is told otherwise than it is planned."""
    if abs(told.reading - planned.reading) > SHOWN or abs(told.tilt - planned.tilt) > SHOWN:
        yield f"{told.reading:g}, tilt {told.tilt:g} told, {planned.reading:g}, tilt {planned.tilt:g} planned"
    if abs(planned.reading) > SHOWN and planned.side in SIDES and told.side not in ("", planned.side):
        yield f"the {told.side} side told, the {planned.side} side planned"
    if told.tape and planned.tape and told.kerf_behind != planned.kerf_behind:
        yield "the kerf told on the other side of the mark"
    if told.mark != planned.mark:
        yield f"{told.mark or 'scrap'} told, {planned.mark or 'scrap'} planned"
    if told.key is not None and planned.key is not None and abs(told.key - planned.key) > near_key:
        yield f"key {told.key:g} told, {planned.key:g} planned"
    yield from _lengths(told, planned, near)


SIDES = ("feed", "discharge")


def _lengths(told: Step, planned: Step, near: float) -> Iterator[str]:
    pairs = {
        "fed": (told.fed, planned.fed),
        "stop": (told.stop and told.stop.distance, planned.stop and planned.stop.distance),
        "tape, fixed side": (told.tape and told.tape[0], planned.tape and planned.tape[0]),
        "tape, moving side": (told.tape and told.tape[1], planned.tape and planned.tape[1]),
    }
    for what, (one, two) in pairs.items():
        if one is not None and two is not None and abs(one - two) > near:
            yield f"{what} {one:g} told, {two:g} planned"
