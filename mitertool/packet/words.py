"""Settings and lays as sentences for a person at the saw; used by the sheets and by the commands."""

from __future__ import annotations

from cmath import phase
from collections.abc import Mapping, Sequence
from math import degrees
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.base.tolerances import SAME_LENGTH, SAME_SETTING, SAME_SLOPE
from mitertool.quantity import show_angle, show_length

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.frame.alternatives import PastTheScale
    from mitertool.job import Job
    from mitertool.job.solved import EndWay
    from mitertool.piece import Piece
    from mitertool.quantity import Units
    from mitertool.saw import Machine, Reach
    from mitertool.saw.feed.stops import Stop
    from mitertool.saw.setting.reasons import Reason
    from mitertool.sections import Section


def origin(job: Job) -> str:
    """What a page or a sketch was made from: a hash of the inputs, and the saw file with the date of its correction."""
    saw = f"saw file {job.saw_path}" if job.saw else "no saw file"
    if job.saw and job.saw.scale.offset_date:
        saw += f", corrected {job.saw.scale.offset_date}"
    return f"inputs {job.digest}, {saw}"


def reading(reach: Reach | None, cut: Cut) -> str:
    """The number to set, as the scale shows it; degrees from square without a saw; none that must not be set."""
    if reach and not reach.ok:
        return CANNOT
    return scale_words(reach) if reach else show_angle(abs(cut.miter))


CANNOT: Final = "cannot be cut"
"""What stands in the place of a reading that nobody is to set."""


def scale_words(reach: Reach) -> str:
    """The number that the scale shows, with the side on which it stands where the arm is not swung to that side."""
    shown = show_angle(reach.scale)
    return shown if reach.scale_side in (reach.side, "square") else f"{shown} {reach.scale_side}"


def reading_label(reach: Reach | None) -> str:
    """What the number is."""
    if reach and not reach.ok:
        return "on this saw"
    return "scale reads" if reach else "from square"


def which_way(reach: Reach | None, cut: Cut) -> str:
    """Which way the arm goes; what is asked and where the long point lies where no saw is known or it cannot."""
    if reach is None:
        return long_side(cut)
    if not reach.ok:
        return f"{show_angle(abs(cut.miter))} from square, {long_side(cut)}" if cut.miter else long_side(cut)
    if reach.side == "square":
        return "arm straight" if cut.bevel else "square cut, arm straight"
    return f"arm {show_angle(abs(reach.swing))} to {reach.side} side"


def long_side(cut: Cut) -> str:
    """Where the long point of a cut is."""
    across = ("moving jaw" if cut.miter > 0 else "fixed jaw") if cut.miter else ""
    above = ("top" if cut.bevel > 0 else "bottom") if cut.bevel else ""
    where = ", ".join(word for word in (across, above) if word)
    return f"long point at {where}" if where else "square cut"


def more(reach: Reach | None, cut: Cut) -> str:
    """A roll, a tilt, a packing or the bevel, where there is one; "" otherwise."""
    if reach is None or not reach.ok:
        return f"bevel {show_angle(abs(cut.bevel))}" if cut.bevel else ""
    parts = [
        f"bar rolled from the picture {turn_words(reach.roll)}" if reach.roll else "",
        _tilt(reach),
        "packed" if reach.pack else "",
    ]
    return ", ".join(part for part in parts if part)


def reading_and_more(reach: Reach | None, cut: Cut) -> str:
    """The number to set and, where there is one, roll, tilt, packing or bevel, as short as a table takes it."""
    if reach is None:
        return ", ".join(word for word in (reading(reach, cut), more(reach, cut)) if word)
    if not reach.ok:
        return CANNOT
    rolled = f"rolled {turn_words(reach.roll)}" if reach.roll else ""
    packed = "packed" if reach.pack else ""
    return ", ".join(word for word in (reading_words(reach), rolled, _tilt(reach), packed) if word)


def as_drawn(way: EndWay) -> Reach | None:
    """The settings of a way with the bar's roll from how it is drawn."""
    return way.reach and attrs.evolve(way.reach, roll=way.roll)


def reasons_of(way: EndWay) -> tuple[Reason, ...]:
    """Why an end cannot be cut so; empty where it can, or where no saw is known."""
    return way.reach.reasons if way.reach else ()


def every_reading(ways: Sequence[EndWay], cut: Cut) -> tuple[str, ...]:
    """Every number that is set for an end, each with its roll and tilt, as short as a table takes it."""
    return tuple(dict.fromkeys(reading_and_more(as_drawn(way), cut) for way in ways))


def end_words(way: EndWay, cut: Cut) -> str:
    """A way to cut an end in one line: the reading, which way, then a roll, tilt or bevel."""
    reach = as_drawn(way)
    words = (reading(reach, cut), which_way(reach, cut), all_more(way, cut))
    return f"{reading_label(reach)} {', '.join(word for word in words if word)}"


def all_more(way: EndWay, cut: Cut) -> str:
    """As `more`, and whether the bar is laid end for end."""
    says = more(as_drawn(way), cut)
    if not way.turned or reasons_of(way):
        return says
    return f"bar end for end from the picture, {says.replace('bar rolled from the picture', 'then rolled')}"


def long_points(piece: Piece) -> str:
    """How the long points of both ends lie to each other: parallel ends print the same angles as mirrored ones do."""
    if piece.further:
        return "pointed"
    left, right = complex(piece.left.p, piece.left.q), complex(piece.right.p, piece.right.q)
    if min(abs(left), abs(right)) <= SAME_SLOPE:
        return "-"
    apart = abs(degrees(phase(right / left)))
    if apart <= _ALONG:
        return "same side"
    return "opposite sides" if apart >= _HALF - _ALONG else f"{show_angle(apart)} round"


_ALONG: Final = 0.005
"""degrees. Long points that lie so nearly on one side, or on opposite ones, are told so: two decimals show no more."""


def between(left: Sequence[EndWay], right: Sequence[EndWay]) -> str:
    """Whether the bar is rolled between the two cuts of a piece; "" where it lies as drawn for both.

    Nothing is said of an end that is cut in more than one way: there the lists of the bars tell it.
    """
    from mitertool.bar import short_way

    if reasons_of(left[0]) or reasons_of(right[0]):
        return ""
    if len(left) > 1 or len(right) > 1 or not (left[0].roll or right[0].roll) or right[0].turned != left[0].turned:
        return ""
    turn = abs(short_way(right[0].roll - left[0].roll))
    if turn <= SAME_SETTING:
        return "do not roll between the cuts"
    half = abs(turn - _HALF) <= SAME_SETTING
    return "roll half a turn BETWEEN the cuts" if half else "roll the bar BETWEEN the cuts"


def turn_words(roll: float) -> str:
    """How far a bar is rolled, and toward which jaw its top goes where that is less than half a turn."""
    if abs(abs(roll) - _HALF) <= SAME_SETTING:
        return "half a turn"
    return f"{show_angle(abs(roll))}, its top to the {'moving' if roll > 0 else 'fixed'} jaw"


_HALF: Final = 180.0


def sided_reading(reach: Reach | None, cut: Cut) -> str:
    """As `reading`, with its side where nothing beside it says which way the arm goes."""
    return reading_words(reach) if reach else reading(reach, cut)


def reading_words(reach: Reach) -> str:
    """The reading of a setting, with the side where the scale reads up both ways; none that must not be set."""
    if not reach.ok:
        return CANNOT
    sided = reach.setting.saw.scale.two_sided and reach.scale_side != "square"
    return f"{show_angle(reach.scale)} {reach.scale_side}" if sided else show_angle(reach.scale)


def back_words(back: Mapping[str, float], units: Units) -> str:
    """Where a further cut is marked: along which side, and how far behind the face of the end's first cut."""
    said = []
    for side in ("fixed", "moving"):
        low, high = (back.get(f"{side}_{level}") for level in ("bottom", "top"))
        if low is not None and high is not None and abs(low - high) < SAME_LENGTH:
            said.append(f"{side} side {show_length(low, units)}")
            continue
        found = (("at the bed", low), ("at the top", high))
        said += [f"{side} side {where} {show_length(x, units)}" for where, x in found if x is not None]
    return ", ".join(said)


def keyed(length: float, saw: Machine, units: Units) -> str:
    """A length as the control of the feed takes it: in the saw file's own units, never as a fraction."""
    own = control_units(saw)
    decimals = saw.feed.decimals if saw.feed else None
    shown = show_length(length, own, decimals=CONTROL_DECIMALS[own] if decimals is None else decimals)
    return f"{shown} mm" if own == "mm" != units else shown


def control_units(saw: Machine) -> Units:
    """What a control counts in: mm, or inches where the saw file is in inches or feet of any kind."""
    return "mm" if saw.units == "mm" else "in"


CONTROL_DECIMALS: Final[Mapping[Units, int]] = {"mm": 1, "in": 2}
"""Decimals of a control where its saw file does not say: common practice, no source."""


def stop_words(stop: Stop, units: Units) -> str:
    """How far from the blade the stop stands on the discharge side, and what touches it."""
    if not stop.holds:
        return "no stop holds: the blade or its guides need its place; cut at the tape mark"
    return f"{show_length(stop.from_blade, units)} from the blade, {stop_touches(stop, units)}"


def stop_touches(stop: Stop, units: Units) -> str:
    """What touches the stop, and how high that is where it is not on the bed."""
    high = f", {show_length(stop.z, units)} up" if stop.level in ("top", "mid-height") else ""
    return f"{stop.touches}{high}"


POSES: Final[Mapping[str, str]] = {
    "as-drawn": "",
    "end-for-end": "end for end",
    "rolled": "rolled",
    "end-for-end-rolled": "end for end and rolled",
}
"""How a piece lies on its bar against its drawing."""


def _tilt(reach: Reach) -> str:
    if not reach.tilt:
        return ""
    return f"tilt {show_angle(abs(reach.tilt))}, top to {'feed' if reach.tilt > 0 else 'discharge'} side"


def lies(section: Section) -> str:
    """How the section lies, in the words of its shape; "" where every lay is plain from the picture."""
    return section.shape.lies(section)


def instead(past: PastTheScale, units: Units) -> str:
    """What a shop would do about a seam past the scale, each way with its lengths."""
    from mitertool.frame.joints import FIRST_THROUGH

    ways = [
        f"butt it with {a.first if a.kind == FIRST_THROUGH else a.second} through "
        f"({a.first} {show_length(a.first_piece.long_point, units)}, {a.second} "
        f"{show_length(a.second_piece.long_point, units)} to the long point, cut {show_angle(a.miter)} from square)"
        for a in past.alternatives
    ]
    ways.append(f"or hold the bar {show_angle(past.fixture)} round in a fixture and swing {show_angle(past.most)}")
    asks = f"corner of {past.first} and {past.second} asks {show_angle(past.miter)} from square"
    return f"{asks}, past {show_angle(past.most)}: {'; '.join(ways)}"
