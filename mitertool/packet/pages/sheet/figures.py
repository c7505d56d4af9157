"""The figures and short words of the sheet: readings in the scale's own lines, rolls, lengths to key, stops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import pairwise
from typing import Final

from mitertool.base.tolerances import SAME_SETTING
from mitertool.cut.blade.arms import BladeArm
from mitertool.packet.floor.values import BarWork, CutRow, EndPast, LaidBlank, Loop, Proof, Reading, ToMeasure, Turn
from mitertool.packet.words import control_units, keyed, stop_touches
from mitertool.quantity import Units, show_angle, show_angle_limit, show_exact, show_length, show_limit
from mitertool.quantity.problem import Remark
from mitertool.quantity.telling import As
from mitertool.saw import Machine
from mitertool.saw.feed.stops import Stop
from mitertool.words import phrase

_HALF: Final = 180.0


def line_figure(reading: Reading) -> str:
    """The figure to set: the nearest line of the scale, or degrees from square where no saw is known."""
    return show_angle(reading.degrees if reading.line is None else reading.line)


def beside_figure(reading: Reading, row: CutRow | None = None) -> tuple[str, ...]:
    """What stands small beside it: tenths of a division more or less, the exact degrees, how the cut lies over the bar.

    Without a saw file where the piece is long; in a row of its bar it says which piece.
    """
    found = []
    if reading.tenths:
        case = "sheet.more" if reading.tenths > 0 else "sheet.less"
        found.append(phrase(case, tenths=f"{abs(reading.tenths) / 10:g}"))
    if reading.line is not None and show_angle(reading.line) != show_angle(reading.degrees):
        found.append(show_angle(reading.degrees))
    found += _side(reading)
    if reading.line is None:
        found.append(_long(f"sheet.long-{reading.arm}", row))
    return tuple(found)


def _side(reading: Reading) -> tuple[str, ...]:
    """To which side the moving side of the blade goes, or on which side a scale that reads both ways is read."""
    if not reading.side:
        return ()
    return (phrase(f"sheet.{'to' if reading.side == reading.arm else 'read'}-{reading.side}"),)


def _long(code: str, row: CutRow | None) -> str:
    """Where the piece is long: the one that comes off, by its mark; the next one behind a trim or a scrap."""
    if row is None or code == "sheet.long-square":
        return phrase(code)
    if row.makes != "piece":
        return phrase(f"{code}/next")
    return phrase(f"{code}/of", mark=" + ".join(row.marks))


def lean(row: CutRow, work: BarWork) -> float:
    """How a cut leans on the strip, its moving side up: 1 like a slash, -1 like a backslash."""
    tape = next((tape for tape in work.tapes if tape.number == row.numbers[0]), None)
    if tape is None:
        side = {"moving": 1.0, "fixed": -1.0}.get(row.reading.arm, 0.0)
        return side if row.makes == "piece" else -side
    return 0.0 if row.reading.arm == "square" else 1.0 if tape.moving > tape.fixed else -1.0


def lean_up(row: CutRow, work: BarWork) -> float:
    """How a cut leans over the bed where no saw is known, its top to the right where that is over 0."""
    if work.run:
        return work.run.bar.cuts[row.numbers[0] - 1].cut.q
    return row.reading.tilt * (1 if row.makes == "piece" else -1)


def tilt_figure(reading: Reading, row: CutRow | None = None) -> tuple[str, str]:
    """The blade's tilt, or the bevel where no saw is known, and which way; nothing where it stays upright."""
    if not reading.tilt:
        return phrase("sheet.tilt", angle=show_angle(0.0)) if reading.comes_back else "", ""
    tilt = show_angle(abs(reading.tilt))
    if reading.line is None:
        return phrase("sheet.bevel", angle=tilt), _long(
            "sheet.long-top" if reading.tilt > 0 else "sheet.long-bottom", row
        )
    return phrase("sheet.tilt", angle=tilt), phrase(
        "sheet.top-to-feed" if reading.tilt > 0 else "sheet.top-to-discharge"
    )


def turn_words(turn: Turn) -> str:
    """How a bar is rolled that is not rolled by half a turn: by how it then stands, so that no rounding adds up."""
    if abs(turn.to) <= SAME_SETTING:
        return phrase("sheet.roll-back")
    if abs(abs(turn.to) - _HALF) <= SAME_SETTING:
        return phrase("sheet.roll-over")
    return phrase("sheet.roll-to-moving" if turn.to > 0 else "sheet.roll-to-fixed", angle=show_angle(abs(turn.to)))


def roll_words(row: CutRow) -> str:
    """How often a bar is rolled before the cuts of a row, and that it is marked for it where it is keyed."""
    if row.turn is None or not row.turn.half or not row.several:
        return ""
    return phrase("sheet.before-each/mark" if mark_round_words(row) else "sheet.before-each", count=len(row.numbers))


def mark_round_words(row: CutRow) -> tuple[str, ...]:
    """That a bar which is keyed is marked right round before it is rolled: it is clamped at that mark again."""
    return (phrase("sheet.mark-round"),) if row.turn and row.key is not None else ()


def tip_words(turn: Turn) -> str:
    """Where the tip of the end that is cut then stands, of a round bar; "" of any other."""
    if turn.half or turn.tip is None:
        return ""
    off = abs(turn.tip)
    if off <= SAME_SETTING or _HALF - off <= SAME_SETTING:
        return phrase("sheet.tip/top" if off <= SAME_SETTING else "sheet.tip/bottom")
    return phrase("sheet.tip/moving" if turn.tip > 0 else "sheet.tip/fixed", angle=show_angle(off))


def numbers_told(numbers: Sequence[int]) -> str:
    """The numbers of cuts or bars: "5", "2, 3", "2 to 5", "2, 4, 6"; of many in equal steps three and the last."""
    first, last = numbers[0], numbers[-1]
    if len(numbers) > 2 and tuple(numbers) == tuple(range(first, last + 1)):
        return phrase("sheet.to", first=first, last=last)
    steps = {after - before for before, after in pairwise(numbers)}
    if len(numbers) > _MANY and len(steps) == 1:
        return phrase("sheet.and-so-on", first=", ".join(map(str, numbers[:3])), last=last)
    return ", ".join(map(str, numbers))


_MANY: Final = 8
"""Numbers that are told one by one; their places on the strip and in the columns tell of more."""


def key_figure(row: CutRow, saw: Machine, units: Units) -> str:
    """The length to key; where the control does not take it what a hand does instead; "" where neither is known."""
    if row.key is not None:
        return keyed(row.key, saw, units)
    if row.end_past:
        return _past(row.end_past, units)
    return "" if row.moved is None else show_length(abs(row.moved), units)


def _past(where: EndPast, units: Units) -> str:
    """How far the end stands past the blade: of a cut end never less than the kerf that is in it."""
    return show_length(where.past, units) if where.raw else show_limit(where.past, units, "up")


def key_title(saw: Machine, units: Units) -> str:
    """What is keyed, and whether the control adds the kerf, as much as it is, or the length has it."""
    kerf = show_exact(saw.kerf, units)
    return phrase(f"sheet.title-key/{'added' if saw.feed and saw.feed.counts_kerf else 'inside'}", kerf=kerf)


def beside_made(row: CutRow, work: BarWork, units: Units) -> Iterator[str]:
    """What goes with what comes off: how thick a shaving is, how many a round of rows gives, what a short bar wants.

    First that its angle is set with a protractor, where no scale is known that would close its frame. Of a bar that is
    rolled also at which side a piece is long as it comes off. Before the first cut how long the bar must be, behind the
    last what little is left to hold.
    """
    if row.exact and row.sets:
        yield phrase("sheet.exact")
    if row.end_past and not row.raw_face:
        yield phrase("sheet.kerf-included")
    if row.thick:
        yield phrase("sheet.thick", most=show_limit(row.thick, units, "up"))
    if row.makes == "piece" and (loop := loop_of(row, work)):
        count = len(row.numbers) * row.each
        yield phrase("sheet.each-round", count=count // loop.times, all=count)
    if row.comes_long:
        yield phrase("sheet.comes-long", sides=", ".join(phrase(f"sheet.comes-long/{side}") for side in row.comes_long))
    if work.least and row is work.rows[0]:
        yield phrase("sheet.bar-least", length=show_limit(work.least, units, "up"))
    if work.left_to_hold and row.numbers[-1] == max(one.numbers[-1] for one in work.rows):
        yield phrase("sheet.left-to-hold", length=show_limit(work.left_to_hold, units, "down"))


def wander_words(row: CutRow, units: Units) -> str:
    """Of a shaving that the blade may wander on it, and how much more of it is better; "" of all else."""
    if row.makes != "skim":
        return ""
    if not row.more:
        return phrase("sheet.wanders")
    way = "key" if row.key is not None else "end" if row.end_past else "tape"
    return phrase(f"sheet.wanders/{way}", more=show_limit(row.more, units, "down"))


def loop_of(row: CutRow, work: BarWork) -> Loop | None:
    """The rows that are gone through in turn of which this is one."""
    return next((loop for loop in work.loops if row in work.rows[loop.begins : loop.ends]), None)


def stop_figure(row: CutRow, units: Units) -> str:
    """On a saw without a feed: where the stop stands, or the end past the blade; the tape where neither is known."""
    if row.stop and row.stop.holds:
        return show_length(row.stop.at_bed, units)
    return _past(row.end_past, units) if row.end_past else phrase("sheet.tape")


def brought_words(row: CutRow, saw: Machine, units: Units) -> str:
    """How the bar comes to its place, where the figure does not tell it all."""
    if saw.feed and row.stop is None:
        return _fed_words(row, saw)
    if row.makes == "piece":
        held = row.stop if row.stop and row.stop.holds else None
        return touches_words(held, units) if held else phrase("sheet.no-stop")
    return end_words(row.end_past) if row.end_past else ""


def stop_title(stop: Stop | None) -> str:
    """On which side of the blade a stop stands, as the title of its figure; of none as of those that part a bar."""
    return phrase("sheet.title-stop-behind" if stop and stop.behind else "sheet.title-stop")


def touches_words(stop: Stop, units: Units) -> str:
    """What touches the stop; of a blade that leans that the bed is meant, and how far it is where steel touches."""
    what, there = stop_touches(stop, units), show_length(stop.from_blade, units)
    if there == show_length(stop.at_bed, units):
        return phrase("sheet.touches", what=what)
    return phrase("sheet.touches/bed", what=what, length=there)


def end_words(where: EndPast) -> str:
    """Past what, and along which side, the figure tells how far the end of the bar stands."""
    case = "-".join((*([where.side] if where.side else []), *(["bed"] if where.leans else [])))
    code = "sheet.raw-end-past" if where.raw else "sheet.end-past"
    return phrase(f"{code}/{case}" if case else code)


def raw_face_words(row: CutRow) -> str:
    """What the first cut of a bar leaves where nobody said a trim: the mill's end on a piece, where that stands."""
    if not row.raw_face:
        return ""
    return phrase(f"sheet.no-trim/{row.raw_face}{'-at-blade' if row.end_past else ''}")


def mark_words(row: CutRow, work: BarWork, units: Units) -> str:
    """Of a trim that no length and no stop brings to the blade where its mark is; "" of all else."""
    tape = next((tape for tape in work.tapes if tape.number == row.numbers[0]), None)
    if row.makes != "trim" or row.raw_face or tape is None:
        return ""
    fixed, moving = show_length(tape.fixed, units), show_length(tape.moving, units)
    case = "/bed" if tape.leans else "/square" if fixed == moving else ""
    return phrase(f"sheet.mark-at{case}", fixed=fixed, moving=moving)


def blank_words(row: CutRow, units: Units) -> str:
    """Of a blank how long it is, and which end of it is cut later; nothing of a finished piece."""
    if not row.recut:
        return ""
    return phrase(f"sheet.blank-{row.recut}", length=show_length(row.blank, units))


def laid_words(laid: LaidBlank | None, units: Units) -> Iterator[str]:
    """Of blanks laid for their second end how long they are, how they lie, and what is packed under them."""
    if laid:
        told = "rest.laid" if laid.of else "floor.laid"
        yield phrase(f"{told}/{laid.pose}", length=show_length(laid.length, units), mark=laid.of)
        if laid.pack:
            yield phrase("sheet.pack", height=show_length(laid.pack, units))


def guides_apart(gap: float, saw: Machine, units: Units) -> str:
    """How far apart the guides stand; where both of them move the gap between them."""
    shown, guides = show_limit(gap, units, "up"), saw.guides
    return phrase("sheet.guides-apart" if guides and guides.fixed_u is not None else "sheet.guide-gap", guides=shown)


def guide_words(row: CutRow, saw: Machine | None, units: Units) -> tuple[str, ...]:
    """The same where they are moved for a row."""
    return (guides_apart(row.guides, saw, units),) if saw and row.guides is not None else ()


def lift_spot(arm: BladeArm, units: Units) -> tuple[str, dict[str, str]]:
    """Where along the blade the height of the teeth is measured: the case of the words that tell it, and its figures.

    "" of a blade that comes down level, which is as high everywhere.
    """
    if not arm.stands_on_axis:
        return "", {}
    if not arm.stop:
        return "/axis", {}
    return f"/{'moving' if arm.stop > 0 else 'fixed'}", {"spot": show_length(abs(arm.stop), units)}


def stays_words(row: CutRow) -> tuple[str, ...]:
    """Since which bar arm and blade stand as they are read; nothing where they are set."""
    return (phrase("sheet.stays-from", number=row.stays),) if row.stays else ()


def set_figure(reading: Reading) -> str:
    """What is set for a cut, in a line: the line of the scale with tenths and side beside it, and the tilt."""
    line, beside = line_figure(reading), ", ".join((*beside_line(reading), *_side(reading)))
    swing = phrase("sheet.first-set", reading=line, beside=beside) if beside else line
    tilt = tilt_figure(reading)[0]
    return ", ".join(word for word in (swing, tilt) if word)


def standing_figure(reading: Reading) -> str:
    """What stands set, swing and tilt, in a line."""
    return ", ".join(word for word in (line_figure(reading), tilt_figure(reading)[0]) if word)


def rounds_told(loop: Loop, work: BarWork) -> tuple[str, str]:
    """How often rows are gone through, and in which order all their cuts are made."""
    return phrase("sheet.rounds", count=loop.times), _ROUND.join(_rounds(loop, work))


def orders_told(loop: Loop, work: BarWork) -> tuple[str, str]:
    """In which order the cuts of rounds are made: in full, and shortened."""
    each = _rounds(loop, work)
    few = phrase("sheet.rounds-few", first=_ROUND.join(each[:_FEW]), last=each[-1])
    return phrase("sheet.rounds-order", order=_ROUND.join(each)), few


def _rounds(loop: Loop, work: BarWork) -> list[str]:
    """The cuts of each round in their order."""
    rows = work.rows[loop.begins : loop.ends]
    return [" ".join(str(cut) for row in rows for cut in _of_round(row, at, loop)) for at in range(loop.times)]


_ROUND, _FEW = " / ", 2
"""What parts the cuts of one round from those of the next, and how many rounds tell the order of all."""


def _of_round(row: CutRow, at: int, loop: Loop) -> tuple[int, ...]:
    """The cuts of a row that one round has."""
    many = len(row.numbers) // loop.times
    return row.numbers[at * many : (at + 1) * many]


def laid_by_tape(row: CutRow, units: Units) -> str:
    """Where no stop holds blanks for their second end how long they are along either side when it is cut; else ""."""
    if row.laid is None or (row.stop and row.stop.holds):
        return ""
    fixed, moving = (show_length(x, units) for x in (row.laid.fixed, row.laid.moving))
    return phrase("sheet.second-by-tape", fixed=fixed, moving=moving)


def _fed_words(row: CutRow, saw: Machine) -> str:
    if row.end_past:
        return end_words(row.end_past)
    if row.moved is not None:
        return phrase(f"sheet.by-hand/{'on' if row.moved >= 0 else 'back'}")
    if row.key is None:
        return phrase("sheet.no-stop")
    return _trim_words(saw) if row.makes == "trim" else ""


def why_words(row: CutRow, saw: Machine) -> str:
    """Why the control's own cycle does not make a cut, where that is not for what is set before it; else ""."""
    return control_says(row.why, saw) if row.why else ""


def _trim_words(saw: Machine) -> str:
    """Where the raw end stands before the trim is keyed, and whether this control counts it, where its file says so."""
    first = phrase("sheet.raw-end-first")
    counts = saw.feed.counts_trim if saw.feed else None
    if counts is None:
        return first
    return phrase("sheet.trim-counted" if counts else "sheet.trim-not-counted", first=first)


def control_says(note: Remark, saw: Machine) -> str:
    """A sentence about what the control takes, its lengths with their units as the control shows them."""
    own = control_units(saw)
    unit = " mm" if own == "mm" else ""
    return note.told_by(lambda length: keyed(length, saw, own) + unit, partial(_limit, own))


def _limit(units: Units, length: float, asked: As) -> str:
    """A limit of the control, or another length of a note, never looser than it is."""
    shown = show_limit(length, units, asked) if asked in ("up", "down") else show_exact(length, units)
    return f"{shown} mm" if units == "mm" else shown


def how_words(row: CutRow) -> Iterator[str]:
    """Whether each cut is started by itself or the control repeats it, and how many strokes of the feed it takes.

    Nothing of what is not keyed.
    """
    if row.key is not None:
        yield phrase("sheet.single" if row.by_hand else "sheet.automatic")
    if row.key is not None and row.strokes > 1:
        yield phrase("sheet.strokes", count=row.strokes)


def proof_words(proof: Proof) -> str:
    """What the setting is proved to with a protractor."""
    out = show_angle_limit(proof.allowed, "down")
    angles = {"angle": show_angle(proof.square), "bar": show_angle(90 - proof.square)}
    return phrase("sheet.prove/each" if proof.each else "sheet.prove", out=out, **angles)


def measured_words(first: ToMeasure, units: Units) -> tuple[str, ...]:
    """The lengths of the first piece, each to write down beside what is measured; one where its ends are parallel."""
    out = "" if first.allowed is None else phrase("sheet.out", out=show_limit(first.allowed, units, "down"))
    told = {"length": phrase("sheet.measured", length=show_length(first.long_point, units), out=out).rstrip()}
    if first.ends:
        return (phrase(f"sheet.first-{first.ends}", **told),)
    short = phrase("sheet.first-short", length=show_length(first.short_point, units))
    if first.overall is None:
        return phrase("sheet.first-long", **told), short
    return phrase("sheet.first-tip", **told, tip=show_length(first.overall, units)), short


def again_words(row: CutRow, rows: Sequence[CutRow], saw: Machine, units: Units) -> str:
    """That a mark is keyed with another length than in a row before, for its slants and not for another piece."""
    before = [one for one in rows[: rows.index(row)] if one.marks == row.marks and one.recut == row.recut]
    says = key_figure(row, saw, units)
    if row.makes != "piece" or not says or all(key_figure(one, saw, units) == says for one in before):
        return ""
    return phrase("sheet.other-key")


def beside_line(reading: Reading) -> tuple[str, ...]:
    """The same in short: the tenths past or short of the line alone."""
    return beside_figure(reading)[:1] if reading.tenths and reading.line is not None else ()
