"""Bars, steel and tape marks as they are named, each one short text; knows the floor's values and the table of words.

Paper and browser take them from here, so that they say the same.
"""

from __future__ import annotations

from typing import Final

from mitertool.drawing import text_width
from mitertool.packet.floor.values import BarWork, CutRow, Fetch, LeftOver, Reading, Refusal, SetBack, Tape
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.quantity import Units, show_angle, show_length, show_limit, show_mass
from mitertool.quantity.problem_words import reason_says
from mitertool.saw import Machine
from mitertool.words import counted, phrase


def arm(shown: Reading) -> str:
    """To which side of the saw the arm goes."""
    return phrase(f"floor.arm/{shown.arm}")


def makes(row: CutRow) -> str:
    """What comes off: a mark, with how many where bars are cut at once, or what is no piece."""
    if row.raw_face:
        return phrase(f"sheet.untrimmed/{row.raw_face}")
    if row.makes != "piece":
        return phrase(f"sheet.{row.makes}")
    one, other = (
        phrase("floor.each", count=row.each, mark=mark) if row.each > 1 else mark for mark in (row.mark, row.beside)
    )
    return phrase("floor.pair", one=one, other=other) if row.beside else one


def tape(place: Tape, units: Units) -> tuple[str, str]:
    """The tape mark of a cut on the fixed and on the moving side."""
    return show_length(place.fixed, units), show_length(place.moving, units)


def kerf(place: Tape) -> str:
    """On which side of the marks the blade cuts."""
    return phrase(f"floor.kerf/{'past' if place.past else 'before'}")


def things(saw: Machine) -> dict[str, str]:
    """What the sheet calls each thing in the blade's way: as the saw file does, else as what it stands at.

    A name with no room beside its figure is not used at all, so that a thing has one name everywhere; but where two
    things stand at the same both keep theirs.
    """
    plain = [phrase(f"sheet.stands/{one.stands}") for one in saw.obstacles]
    return {
        one.name: one.name if text_width(one.name, NOTE) <= _NAME or plain.count(says) > 1 else says
        for one, says in zip(saw.obstacles, plain, strict=True)
    }


_NAME: Final = 22.0
"""Paper mm that the name of a thing may take beside the figure of its set-back."""


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


def bar_length(bar: BarWork, units: Units) -> str:
    """The length of a bar; of a left-over with a slanted end what is whole of it, and what a tape measures."""
    if bar.run is None:
        return ""
    length = show_length(bar.run.bar.stock_length, units)
    tip = show_length(bar.tip_to_tip, units)
    return phrase("sheet.bar-whole", whole=length, tip=tip) if bar.tip_to_tip else length


def fetch_told(bars: Fetch, units: Units) -> tuple[str, ...]:
    """Where bars come from, of which heats they may be, and what else is said of them."""
    source = (bars.source.in_units(units),) if bars.source else ()
    return (*source, *bars.heats, *bars.notes)


def left_over(rest: LeftOver, units: Units, told: str = "floor.end") -> tuple[str, str]:
    """The length that is left of a bar, and how far its end stands from square and where it is long, as clamped.

    Of what comes off a piece how far both ends stand from square.
    """
    if rest.ends:
        left, right = (show_angle(abs(cut.miter)) for cut in rest.ends)
        return show_length(rest.length, units), phrase("floor.ends", left=left, right=right)
    case = ("both" if rest.miter else "bevel") if rest.bevel else "slant" if rest.miter else "square"
    miter, bevel = show_angle(abs(rest.miter)), show_angle(abs(rest.bevel))
    side = phrase("side.moving" if rest.miter > 0 else "side.fixed")
    up = phrase("side.top" if rest.bevel > 0 else "side.bottom")
    end = phrase(f"{told}/{case}", miter=miter, bevel=bevel, side=side, up=up)
    return show_length(rest.length, units), end


def goes_to(rest: LeftOver) -> str:
    """Where what is left goes: on the rack, with its numbers there, or to the scrap; "" where nobody says."""
    if rest.kept is None:
        return ""
    if not rest.kept:
        return phrase("floor.goes-to/scrap")
    numbers = ", ".join(map(str, rest.numbers))
    return phrase("floor.goes-to/numbers", numbers=numbers) if numbers else phrase("floor.goes-to/rack")


def refusal(why: Refusal, units: Units) -> str:
    """Why marks are refused, as a sentence without the marks."""
    return reason_says(why.problem, units)
