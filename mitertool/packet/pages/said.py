"""The figures of the cut sheet as they are read, each one short text; knows the floor's values and the table of words.

Paper and browser take them from here, so that they say the same.
"""

from __future__ import annotations

from typing import Final

from mitertool.packet.floor.values import BarWork, CutRow, Fetch, LeftOver, Proof, Reading, Refusal, SetBack, Tape, Turn
from mitertool.packet.words import keyed, stop_touches
from mitertool.quantity import Units, show_angle, show_length, show_limit, show_mass
from mitertool.quantity.problem_words import reason_says
from mitertool.quantity.show import show_angle_limit
from mitertool.saw import Machine
from mitertool.words import counted, phrase

_TENTHS: Final = 10


def reading(shown: Reading) -> str:
    """What is set: the nearest line of the scale, and what lies past or short of it in tenths of a division."""
    if not shown.ok:
        return phrase("floor.reading/cannot")
    if shown.line is None:
        return show_angle(shown.degrees)
    case = "past" if shown.tenths > 0 else "short" if shown.tenths else "line"
    return phrase(f"floor.reading/{case}", line=show_angle(shown.line), part=abs(shown.tenths) / _TENTHS)


def exactly(shown: Reading) -> str:
    """The reading in degrees, where no line of the scale says it exactly; else ""."""
    beside = shown.ok and shown.line is not None and show_angle(shown.line) != show_angle(shown.degrees)
    return show_angle(shown.degrees) if beside else ""


def scale_side(shown: Reading) -> str:
    """On which side of the scale the reading stands, where it reads up both ways; else ""."""
    return phrase(f"floor.scale/{shown.side}") if shown.ok and shown.side else ""


def arm(shown: Reading) -> str:
    """To which side the arm goes; without a saw file, on which side the piece is long."""
    plain = shown.line is None and shown.arm == "square"
    return phrase("floor.arm/plain" if plain else f"floor.arm/{shown.arm}")


def tilt(shown: Reading) -> str:
    """How far the blade is tilted, or without a saw file the bevel; "" where there is none."""
    if not shown.tilt or not shown.ok:
        return ""
    kind = "bevel" if shown.line is None else "tilt"
    side = "plus" if shown.tilt > 0 else "minus"
    return phrase(f"floor.{kind}/{side}", angle=show_angle(abs(shown.tilt)))


def turn(rolled: Turn) -> str:
    """How the bar is rolled before a cut."""
    if rolled.half:
        return phrase("floor.turn/half")
    case = "moving" if rolled.to > 0 else "fixed" if rolled.to else "back"
    return phrase(f"floor.turn/{case}", angle=show_angle(abs(rolled.to)))


def makes(row: CutRow) -> str:
    """What comes off: the mark of a piece, with how many where bars are cut at once, or that it is trim or scrap."""
    if row.makes != "piece":
        return phrase(f"floor.makes/{row.makes}")
    one, other = (
        phrase("floor.each", count=row.each, mark=mark) if row.each > 1 else mark for mark in (row.mark, row.beside)
    )
    return phrase("floor.pair", one=one, other=other) if row.beside else one


def key(row: CutRow, saw: Machine, units: Units) -> str:
    """The length to key; "" where none is keyed."""
    return "" if row.key is None else keyed(row.key, saw, units)


def stop(row: CutRow, units: Units) -> str:
    """How far from the blade the stop stands; "" where none is set or none holds."""
    return show_length(row.stop.from_blade, units) if row.stop and row.stop.holds else ""


def touches(row: CutRow, units: Units) -> str:
    """What touches the stop, or that the tape mark is taken where no stop holds; "" without a stop."""
    if row.stop is None:
        return ""
    return stop_touches(row.stop, units) if row.stop.holds else phrase("floor.stop/none")


def brought(row: CutRow, units: Units) -> str:
    """Where the raw end stands for a first cut that is not keyed, or how the bar is moved for scrap; else ""."""
    if row.key is not None:
        return ""
    if row.raw_end is not None:
        case = "past" if row.raw_end > 0 else "before"
        return phrase(f"floor.raw/{case}", length=show_length(abs(row.raw_end), units))
    if row.moves is None:
        return ""
    return phrase(f"floor.move/{'forward' if row.moves > 0 else 'back'}", length=show_length(abs(row.moves), units))


def way_of_cut(row: CutRow, units: Units) -> str:
    """Whether a keyed cut is made by the control's cycle or by hand, and why; "" where nothing is keyed."""
    if row.key is None:
        return ""
    if not row.by_hand:
        return phrase("floor.cycle")
    return phrase("floor.by-hand/why", why=row.why.in_units(units)) if row.why else phrase("floor.by-hand")


def strokes(row: CutRow) -> str:
    """In how many strokes the feed pushes, where it takes more than one; else ""."""
    return counted("floor.strokes", row.strokes) if row.strokes > 1 else ""


def proof(wanted: Proof) -> str:
    """To what a setting is proved with a protractor."""
    angle, allowed = show_angle(wanted.square), show_angle_limit(wanted.allowed, "down")
    return phrase("floor.proof", angle=angle, allowed=allowed)


def tape(place: Tape, units: Units) -> tuple[str, str]:
    """The tape mark of a cut on the fixed and on the moving side."""
    return show_length(place.fixed, units), show_length(place.moving, units)


def kerf(place: Tape) -> str:
    """On which side of the marks the blade cuts."""
    return phrase(f"floor.kerf/{'past' if place.past else 'before'}")


def set_back(asked: SetBack, units: Units) -> str:
    """How far back an obstacle must stand; "" where it is clear."""
    return "" if asked.least is None else show_limit(asked.least, units, "up")


def bar_title(bar: BarWork) -> str:
    """The bar or batch by its number, and how many are cut alike."""
    if bar.run is None:
        return counted("floor.loose", bar.count, number=bar.number)
    return counted("floor.bar", bar.count, number=bar.number)


def material(section: str, grade: str) -> str:
    """A section with its grade, where one is named."""
    return phrase("floor.graded", section=section, grade=grade) if grade else section


def fetch(bars: Fetch, units: Units) -> tuple[str, str, str]:
    """How many bars of what, how long, and the mass of one."""
    return str(bars.count), show_length(bars.length, units), show_mass(bars.bar_mass, units)


def left_over(rest: LeftOver, units: Units) -> tuple[str, str]:
    """The length that is left of a bar, and how far its end stands from square."""
    case = "both" if rest.bevel else "slant" if rest.miter else "square"
    miter, bevel = show_angle(abs(rest.miter)), show_angle(abs(rest.bevel))
    return show_length(rest.length, units), phrase(f"floor.end/{case}", miter=miter, bevel=bevel)


def refusal(why: Refusal, units: Units) -> str:
    """Why marks are refused, as a sentence without the marks."""
    return reason_says(why.problem, units)
