"""The cut sheet held against the drawing, the plan, and what the saw counted; then its bars are walked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from tests.virtual_saw import further, judge
from tests.virtual_saw import sheet_patterns as says
from tests.virtual_saw.ends import wrong_end
from tests.virtual_saw.figures import STEP
from tests.virtual_saw.judge import Counted, Drawing
from tests.virtual_saw.lays import laid
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.plan_reader import short, ways
from tests.virtual_saw.sheet_ends import Card, End, Short
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.steel import Plane, Solid, minus
from tests.virtual_saw.walk import Bar, Step

Readings = Mapping[tuple[str, str], Sequence[set[Short]]]
"""The ways of every cut, by mark and end."""

ANGLES = 0.05
"""mm. What printed angles may put a corner out: half a hundredth of a degree at reading and roll, over 100 mm."""

SHOWN = 0.005 + 1e-9
"""degrees. Half a step of a printed angle."""


def faults(sheet: Sheet, saw: Machine, drawing: Drawing, bars: Sequence[Bar], counted: Counted) -> Iterator[str]:
    """All that is wrong on the sheet. `bars` are those of the plan, `counted` what the saw counted by them."""
    yield from first_page(sheet, counted)
    yield from marks(sheet, drawing)
    yield from cards(sheet, saw, drawing, bars)
    yield from readings(sheet.readings, sheet.cards, saw)
    yield from settings(sheet)
    yield from bars_told(sheet, sheet.bars, saw, drawing, bars)
    yield from further.faults(saw, drawing, sheet.further, counted.arm, step_of(sheet) + ANGLES)[0]


def bars_told(
    sheet: Sheet, told: Sequence[Bar], saw: Machine, drawing: Drawing, planned: Sequence[Bar]
) -> Iterator[str]:
    """The bars as planned, and cut as told; a rounded length may be out by half a step at either end."""
    yield from as_planned(sheet, told, planned, saw.key_step)
    for way in ways(told):
        yield from judge.job(saw, drawing, told, way, max(step_of(sheet), saw.key_step) + ANGLES)[0]


def step_of(sheet: Sheet) -> float:
    return STEP[sheet.units]


def first_page(sheet: Sheet, counted: Counted) -> Iterator[str]:
    """Totals told, by what was counted; lengths within half a step."""
    near = STEP[sheet.units] / 2 + 1e-6
    pieces, marks = sheet.first(says.PIECES)
    bars, stock, cuts = sheet.first(says.BARS)
    swings, tilts, rolls = sheet.first(says.SETUPS)
    bought, in_pieces, kerf, wedges, trim, grip, drops = map(sheet.length, sheet.first(says.STEEL))
    parts = in_pieces + kerf + wedges + trim + grip + drops
    claims = {
        "pieces": (int(pieces), counted.made.total(), 0),
        "marks": (int(marks), len(counted.made), 0),
        "bars": (int(bars), counted.bars, 0),
        "cuts": (int(cuts), counted.cuts, 0),
        "swings": (int(swings), counted.swings, 0),
        "tilts": (int(tilts or 0), counted.tilts, 0),
        "rolls": (int(rolls), counted.rolls, 0),
        "stock": (sheet.length(stock), counted.bought, near),
        "bought": (bought, counted.bought, near),
        "steel in pieces": (in_pieces, counted.pieces, near),
        "steel in kerfs": (kerf, counted.kerf, near),
        "steel left": (grip + drops, counted.left, 2 * near),
        "steel in all": (parts, bought, 7 * near),
    }
    for what, (told, found, out) in claims.items():
        if abs(told - found) > out:
            yield f"page 1 says {told:g} {what}, counted are {found:g}"


def marks(sheet: Sheet, drawing: Drawing) -> Iterator[str]:
    """Quantity, long point and short point of each mark."""
    near = STEP[sheet.units] / 2 + 1e-6
    if sheet.marks.keys() != drawing.pieces.keys():
        yield f"page 1 tells of {sorted(sheet.marks)}, drawn are {sorted(drawing.pieces)}"
    for mark, (count, long, short_point) in sheet.marks.items():
        wanted = drawing.pieces[mark]
        if count != drawing.quantity[mark]:
            yield f"{mark}: {count} told, {drawing.quantity[mark]} drawn"
        if abs(long - longest(wanted)) > near or abs(short_point - shortest(wanted)) > near:
            yield f"{mark}: {long:g}, {short_point:g} told, {longest(wanted):g}, {shortest(wanted):g} drawn"


def longest(solid: Solid) -> float:
    if len(solid.low) + len(solid.high) > 2:
        return max(solid.length(place) for place in solid.places)
    return solid.section.most(minus(solid.high[0], solid.low[0]))


def shortest(solid: Solid) -> float:
    if len(solid.low) + len(solid.high) > 2:
        return min(solid.length(place) for place in solid.places)
    return max(0.0, solid.section.least(minus(solid.high[0], solid.low[0])))


def cards(sheet: Sheet, saw: Machine, drawing: Drawing, bars: Sequence[Bar]) -> Iterator[str]:
    """Each mark's card."""
    for mark, one in sheet.cards.items():
        yield from card(sheet, mark, one, saw, drawing, bars)


def card(sheet: Sheet, mark: str, one: Card, saw: Machine, drawing: Drawing, bars: Sequence[Bar]) -> Iterator[str]:
    """Each end cut by every way of its card; and the settings that a way names read as it does."""
    stock = next(bar.section for bar in bars if any(step.mark == mark for step in bar.steps))
    if not laid(drawing.stocks[stock], one.lies).looks_like(drawing.pieces[mark].section):
        yield f"{mark} lies otherwise on its card than it is drawn"
    wanted = drawing.pieces[mark]
    drawn = {(end, n) for end, planes in ends(wanted) for n in range(2, len(planes) + 1)}
    if one.further.keys() != drawn:
        yield f"{mark}: further cuts {sorted(one.further)} on its card, drawn are {sorted(drawn)}"
    parting = [(end, 1, told) for end, every in one.ends.items() for told in every]
    for end, cut, told in (*parting, *((end, n, told) for (end, n), told in one.further.items() if (end, n) in drawn)):
        out = wrong_end(saw, told.arm, told.roll, told.turned, wanted, end, cut)
        if out > ANGLES:
            yield f"{mark}, {end} end, cut {cut} by its card comes out {out:.3g} wrong"
        if sheet.arms and not told.settings:
            yield f"{mark}, {end} end, cut {cut}: its card names no setting"
        for number in told.settings:
            if sheet.arms.get(number) != told.arm:
                yield f"{mark}, {end} end: {told.arm} on its card, {sheet.arms.get(number)} in setting {number}"


def ends(solid: Solid) -> tuple[tuple[str, Sequence[Plane]], ...]:
    """The planes of both ends."""
    return (("left", solid.low), ("right", solid.high))


def readings(told: Readings, cards: Mapping[str, Card], saw: Machine) -> Iterator[str]:
    """The table of pieces says of an end what the card does, and the side where the scale reads up both ways."""
    for (mark, end), cuts in told.items():
        card = cards[mark]
        further = [card.further[at] for at in sorted(card.further) if at[0] == end]
        wanted = [{in_short(way, saw) for way in ways} for ways in (card.ends[end], *([one] for one in further))]
        if cuts != wanted:
            yield f"{mark}, {end} end: {cuts} in the table of pieces, {wanted} on its card"


def in_short(way: End, saw: Machine) -> Short:
    """A way of a card as the table of pieces has to tell it; degrees from square have no sign."""
    arm = way.arm
    side = arm.side if saw.two_sided and arm.reading else ""
    return Short(arm.reading if way.settings else abs(arm.reading), side, bool(way.roll), bool(arm.tilt))


def settings(sheet: Sheet) -> Iterator[str]:
    """A setting as it is walked down reads as the table of settings has it."""
    for number, (arm, _) in sheet.blocks.items():
        if arm != sheet.arms.get(number):
            yield f"setting {number}: {arm} in its block, {sheet.arms.get(number)} in the table"


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
    if abs(planned.reading) > SHOWN and planned.side in SIDES and told.side != planned.side:
        yield f"the {told.side} side told, the {planned.side} side planned"
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
