"""Settings and lays as sentences for a person at the saw; used by the sheets and by the commands."""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterator, Mapping, Sequence
from math import degrees
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.base.tolerances import SAME_LENGTH, SAME_SETTING, SAME_SLOPE
from mitertool.cut.by_hand import set_backs
from mitertool.quantity import show_angle, show_length
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.frame.alternatives import PastTheScale
    from mitertool.job import Job
    from mitertool.job.solved import EndWay, SolvedPiece
    from mitertool.piece import Piece
    from mitertool.piece.marks import EndWork, PieceMark
    from mitertool.quantity import Units
    from mitertool.saw import Machine, Reach
    from mitertool.saw.feed.stops import Stop
    from mitertool.saw.setting.reasons import Reason
    from mitertool.sections import Section

_FEW: Final = 4
"""Places along a piece that a row of the sheet and a label have room for."""


def origin(job: Job) -> str:
    """What a page or a sketch was made from: a hash of the inputs, and the saw file with the date of its correction."""
    corrected = job.saw.scale.offset_date if job.saw else ""
    case = "corrected" if corrected else "saw" if job.saw else "bare"
    return phrase(f"said.origin/{case}", digest=job.digest, saw=job.saw_path, date=corrected)


def reading(reach: Reach | None, cut: Cut) -> str:
    """The number to set, as the scale shows it; degrees from square without a saw; none that must not be set."""
    if reach and not reach.ok:
        return cannot()
    return scale_words(reach) if reach else show_angle(abs(cut.miter))


def cannot() -> str:
    """What stands in the place of a reading that nobody is to set."""
    return phrase("said.cannot")


def scale_words(reach: Reach) -> str:
    """The number that the scale shows, with the side on which it stands where the arm is not swung to that side."""
    shown = show_angle(reach.scale)
    return shown if reach.scale_side in (reach.side, "square") else _sided(shown, reach.scale_side)


def reading_label(reach: Reach | None) -> str:
    """What the number is."""
    if reach and not reach.ok:
        return phrase("said.on-this-saw")
    return phrase("said.scale-reads" if reach else "said.from-square")


def which_way(reach: Reach | None, cut: Cut) -> str:
    """Which way the arm goes; what is asked and where the long point lies where no saw is known or it cannot."""
    if reach is None:
        return long_side(cut)
    if not reach.ok:
        if not cut.miter:
            return long_side(cut)
        return phrase("said.asked", angle=show_angle(abs(cut.miter)), long=long_side(cut))
    if reach.side == "square":
        return phrase("said.straight" if cut.bevel else "said.square-straight")
    return phrase(f"said.arm/{reach.side}", angle=show_angle(abs(reach.swing)))


def long_side(cut: Cut) -> str:
    """Where the long point of a cut is."""
    across = ("moving" if cut.miter > 0 else "fixed") if cut.miter else ""
    above = ("top" if cut.bevel > 0 else "bottom") if cut.bevel else ""
    where = "-".join(word for word in (across, above) if word)
    return phrase(f"said.long-point/{where or 'square'}")


def more(reach: Reach | None, cut: Cut) -> str:
    """A roll, a tilt, a packing or the bevel, where there is one; "" otherwise."""
    if reach is None or not reach.ok:
        return phrase("said.bevel", angle=show_angle(abs(cut.bevel))) if cut.bevel else ""
    parts = [
        phrase("said.rolled-from", turn=turn_words(reach.roll)) if reach.roll else "",
        _tilt(reach),
        _packed(reach),
    ]
    return ", ".join(part for part in parts if part)


def reading_and_more(reach: Reach | None, cut: Cut) -> str:
    """The number to set and, where there is one, roll, tilt, packing or bevel, as short as a table takes it."""
    if reach is None:
        return ", ".join(word for word in (reading(reach, cut), more(reach, cut)) if word)
    if not reach.ok:
        return cannot()
    rolled = phrase("said.rolled", turn=turn_words(reach.roll)) if reach.roll else ""
    return ", ".join(word for word in (reading_words(reach), rolled, _tilt(reach), _packed(reach)) if word)


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
    return phrase("said.labelled", label=reading_label(reach), reading=", ".join(word for word in words if word))


def bare_words(cut: Cut) -> str:
    """What an end asks for where no saw is known, in one line."""
    words = (reading(None, cut), which_way(None, cut), more(None, cut))
    return phrase("said.labelled", label=reading_label(None), reading=", ".join(word for word in words if word))


def end_lines(solved: SolvedPiece) -> Iterator[str]:
    """What is set for every cut of a mark, a line each with its end."""
    for end, cut in (("left", solved.piece.left), ("right", solved.piece.right)):
        for says in dict.fromkeys(end_words(way, cut) for way in solved.ways_of(end)):
            yield phrase("said.of-end", end=phrase(f"end.{end}"), says=says)
    for one in solved.further:
        where = {"end": phrase(f"end.{one.end}"), "cut": one.number}
        yield phrase("said.of-cut", **where, says=end_words(one.way, one.cut))


def hand_lines(solved: SolvedPiece, units: Units) -> Iterator[str]:
    """What a square and a tape mark for every cut of a mark, a line each with its end."""
    for end in ("left", "right"):
        for cut in solved.piece.cuts(end):
            says = set_back_words(solved.piece.section, cut, units)
            if says:
                yield phrase("said.by-hand", end=phrase(f"end.{end}"), says="; ".join(says))


def set_back_words(section: Section, cut: Cut, units: Units) -> tuple[str, ...]:
    """The set-backs of a cut, one a pair of faces."""
    return tuple(
        phrase(f"said.set-back/{one.long}", back=show_length(one.back, units), over=show_length(one.over, units))
        for one in set_backs(section, cut)
    )


def all_more(way: EndWay, cut: Cut) -> str:
    """As `more`, and whether the bar is laid end for end."""
    reach = as_drawn(way)
    if not way.turned or reasons_of(way) or reach is None:
        return more(reach, cut)
    rolled = phrase("said.then-rolled", turn=turn_words(reach.roll)) if reach.roll else ""
    parts = (phrase("said.turned-from"), rolled, _tilt(reach), _packed(reach))
    return ", ".join(part for part in parts if part)


def long_points(piece: Piece) -> str:
    """How the long points of both ends lie to each other: parallel ends print the same angles as mirrored ones do."""
    if piece.further:
        return phrase("said.pointed")
    left, right = complex(piece.left.p, piece.left.q), complex(piece.right.p, piece.right.q)
    if min(abs(left), abs(right)) <= SAME_SLOPE:
        return "-"
    apart = abs(degrees(phase(right / left)))
    if apart <= _ALONG:
        return phrase("said.same-side")
    return phrase("said.opposite") if apart >= _HALF - _ALONG else phrase("said.round", angle=show_angle(apart))


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
        return phrase("said.between/none")
    half = abs(turn - _HALF) <= SAME_SETTING
    return phrase("said.between/half" if half else "said.between/roll")


def turn_words(roll: float) -> str:
    """How far a bar is rolled, and toward which jaw its top goes where that is less than half a turn."""
    if abs(abs(roll) - _HALF) <= SAME_SETTING:
        return phrase("said.turn/half")
    return phrase("said.turn/moving" if roll > 0 else "said.turn/fixed", angle=show_angle(abs(roll)))


_HALF: Final = 180.0


def sided_reading(reach: Reach | None, cut: Cut) -> str:
    """As `reading`, with its side where nothing beside it says which way the arm goes."""
    return reading_words(reach) if reach else reading(reach, cut)


def reading_words(reach: Reach) -> str:
    """The reading of a setting, with the side where the scale reads up both ways; none that must not be set."""
    if not reach.ok:
        return cannot()
    sided = reach.setting.saw.scale.two_sided and reach.scale_side != "square"
    return _sided(show_angle(reach.scale), reach.scale_side) if sided else show_angle(reach.scale)


def back_words(back: Mapping[str, float], units: Units) -> str:
    """Where a further cut is marked: along which side, and how far behind the face of the end's first cut."""
    said = []
    for side in ("fixed", "moving"):
        low, high = (back.get(f"{side}_{level}") for level in ("bottom", "top"))
        if low is not None and high is not None and abs(low - high) < SAME_LENGTH:
            said.append(phrase(f"said.back/{side}", length=show_length(low, units)))
            continue
        found = (("bottom", low), ("top", high))
        said += [
            phrase(f"said.back/{side}-{where}", length=show_length(x, units)) for where, x in found if x is not None
        ]
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
        return phrase("said.no-stop")
    return phrase("said.stop", length=show_length(stop.from_blade, units), touches=stop_touches(stop, units))


def stop_touches(stop: Stop, units: Units) -> str:
    """What touches the stop, and how high that is where it is not on the bed."""
    if stop.level not in ("top", "mid-height"):
        return stop.touches
    return phrase("said.touches-up", touches=stop.touches, height=show_length(stop.z, units))


def pose_words(pose: str) -> str:
    """How a piece lies on its bar against its drawing; "" as drawn."""
    return "" if pose == "as-drawn" else phrase(f"said.pose/{pose}")


def _sided(shown: str, side: str) -> str:
    return phrase(f"said.sided/{side}", reading=shown)


def _packed(reach: Reach) -> str:
    return phrase("said.packed") if reach.pack else ""


def _tilt(reach: Reach) -> str:
    if not reach.tilt:
        return ""
    return phrase("said.tilt/feed" if reach.tilt > 0 else "said.tilt/discharge", angle=show_angle(abs(reach.tilt)))


def section_words(section: Section) -> str:
    """The name of a section; of bars that are cut at once how many of which, and whether as a box."""
    together = section.abreast
    if together is None:
        return section.name
    case = "said.row" if together.again else "said.box"
    return phrase(case, count=together.count, section=together.one.name)


def lies(section: Section) -> str:
    """How the section lies, in the words of its shape; "" where every lay is plain from the picture.

    Of bars side by side how each lies, of a box one of the two.
    """
    together = section.abreast
    if together is None:
        return section.shape.lies(section)
    one = together.one.lay(section.rotation - together.one.rotation)
    return lies(one) if together.again else phrase("lies.box", one=lies(one))


def instead(past: PastTheScale, units: Units) -> str:
    """What a shop would do about a seam past the scale, each way with its lengths."""
    from mitertool.frame.joints import FIRST_THROUGH

    ways = [
        phrase(
            "past.butt",
            through=a.first if a.kind == FIRST_THROUGH else a.second,
            first=a.first,
            first_long=show_length(a.first_piece.long_point, units),
            second=a.second,
            second_long=show_length(a.second_piece.long_point, units),
            miter=show_angle(a.miter),
        )
        for a in past.alternatives
    ]
    most = show_angle(past.most)
    ways.append(phrase("past.fixture", held=show_angle(past.fixture), swing=most))
    asks = {"first": past.first, "second": past.second, "miter": show_angle(past.miter), "most": most}
    return phrase("past.corner", **asks, ways="; ".join(ways))


def place_lines(places: Sequence[PieceMark], units: Units, code: str = "places.along") -> tuple[str, ...]:
    """Where holes and other pieces lie along a piece, a line a side and end that they are measured from.

    Along the middle of a face: across a top or bottom whose end leans an edge would give another length.
    """
    groups: dict[tuple[str, str], list[str]] = {}
    for one in places:
        groups.setdefault((one.side, one.end), []).append(_place(one, units))
    sides = "side." if code == "label.along" else "places.side/"
    return tuple(
        phrase(f"{code}/{end}", side=phrase(f"{sides}{side}"), places=", ".join(some))
        for (side, end), some in groups.items()
    )


def worked_lines(worked: Sequence[EndWork], units: Units) -> tuple[str, ...]:
    """What is done at the ends of a piece after the saw, a line each."""
    return tuple(one.told.in_units(units) for one in worked)


def are_many(places: Sequence[PieceMark]) -> bool:
    """Whether there are more than a row tells beside its cut."""
    return len(places) > _FEW


def few_places(places: Sequence[PieceMark], units: Units, page: int | None) -> tuple[str, ...]:
    """The same where there are few, or no `page` has them; of many how many there are, and on which page."""
    if page is None or not are_many(places):
        return place_lines(places, units)
    return (phrase("places.many", count=len(places), page=page),)


def _place(one: PieceMark, units: Units) -> str:
    at = show_length(one.at, units)
    return phrase("places.lands", at=at, what=one.what) if one.what else phrase("places.hole", at=at)
