"""Where a stop stands on a saw without a bar feed, and what cutting parallel blanks first would take; knows feed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import hypot, radians
from typing import Final

import attrs

from mitertool.base.tolerances import CROSSING, SAME_SETTING, SAME_SLOPE
from mitertool.geometry import Point
from mitertool.geometry.segments import turn
from mitertool.saw.feed import BarCut, BarPiece, bar_cuts, middle_as_rolled
from mitertool.saw.reach import Reach, reach
from mitertool.saw.saw import Saw
from mitertool.saw.setting import Setting
from mitertool.sections import Section


@attrs.frozen
class Stop:
    """Where a stop stands on the discharge side for the cut that parts a piece, and what touches it; mm.

    `from_blade` is from the blade's near face along the bar to the stop, on the line of the foremost steel of the end
    that was cut before, which touches it: the piece's own length there. That steel lies `y` from the fixed jaw and `z`
    above the bed, as the bar lies for the cut; where more of the end touches, on the longest line of it. `touches` is
    that in words. `holds` is False where the stop would stand in the way of the blade or its guides.
    """

    mark: str
    from_blade: float
    y: float
    z: float
    touches: str
    holds: bool
    reach: Reach


def stops(saw: Saw, section: Section, pieces: Sequence[BarPiece], chosen: Sequence[Reach] = ()) -> tuple[Stop, ...]:
    """The stop for each piece, in order; `chosen` is how the trailing cut of each is set, else as the saw would."""
    trailing = chosen or [reach(saw, section, getattr(piece, saw.trails), saw.trails) for piece in pieces]
    return tuple(_stop(saw, section, piece, answer) for piece, answer in zip(pieces, trailing, strict=True))


def _stop(saw: Saw, section: Section, piece: BarPiece, answer: Reach) -> Stop:
    leading, setting = getattr(piece, saw.leads), answer.setting
    p, q = turn((-leading.p, -leading.q), -radians(answer.roll))
    grows = (setting.p - p, setting.q - q)
    middle = middle_as_rolled(setting.section, answer.roll, section)
    y, z = _foremost(setting.section, (p, q), grows)
    length = piece.centerline + grows[0] * (y - middle[0]) + grows[1] * (z - middle[1])
    touches = _touches(setting.section, (p, q), grows, (y, z))
    return Stop(piece.mark, length, y, z, touches, length > _taken(setting) + CROSSING, answer)


def _taken(setting: Setting) -> float:
    """What the blade with its guides takes beside its own face along the bar, mm: no stop stands there."""
    guides, kerf = setting.guides, setting.saw.kerf
    beside = max(guides.half_thickness - kerf / 2, 0.0)
    return beside * hypot(1.0, setting.p, setting.q) + guides.clearance


def _foremost(section: Section, lead: Point, grows: Point) -> Point:
    """(y, z) of the steel of an end that stands out furthest; of equal ones that on the longest line of the piece."""
    if hypot(*lead) <= SAME_SLOPE:
        return section.support_point(*grows) if hypot(*grows) > SAME_SLOPE else (section.width, 0.0)
    return section.support_point(*(-slope + _ASIDE * more for slope, more in zip(lead, grows, strict=True)))


_ASIDE: Final = 1e-9
"""How far the direction is turned that finds the longest of equal lines: a billionth of a radius is no length."""


def _touches(section: Section, lead: Point, grows: Point, place: Point) -> str:
    """What touches the stop, and where the distance to it is measured, in words."""
    square = hypot(*lead) <= SAME_SLOPE
    across, up = (abs(a) > SAME_SLOPE or abs(b) > SAME_SLOPE for a, b in zip(lead, grows, strict=True))
    side = _third(place[0] / section.width, ("fixed side", "middle of the width", "moving side")) if across else ""
    level = _third(place[1] / section.height, ("bottom", "middle of the height", "top")) if up else ""
    where = ", ".join(word for word in (side, level) if word)
    if square:
        return f"whole end, measured at the {where}" if where else "whole end"
    return f"tip at the {where}"


def _third(share: float, words: tuple[str, str, str]) -> str:
    return words[min(2, int(3 * share))]


@attrs.frozen
class Work:
    """What a way of cutting takes: cuts, set-ups (swings, tilts and rolls), steel along the bars, mm.

    The first cut finds the arm where it stands, as in the count of the plan.
    """

    cuts: int
    set_ups: int
    steel: float


@attrs.frozen
class Alternative:
    """The bars as planned beside the same pieces from parallel blanks with one end recut."""

    as_planned: Work
    blanks: Work


def blanks_first(
    saw: Saw, section: Section, pieces: Sequence[BarPiece], count: int = 1, chosen: Sequence[Reach] = ()
) -> Alternative:
    """What parallel blanks first, one end recut, would take beside the plan, for `count` such bars.

    A blank has the piece's leading cut at both ends and is as long as holds the piece and a whole kerf of the recut.
    """
    cuts = bar_cuts(saw, section, pieces, chosen)
    between = sum(_arm_moves(cuts[-1], cuts[0]))
    changes = bool(cuts[0].rolled(None)) + sum(
        sum(_arm_moves(before, cut)) + bool(cut.rolled(before)) for before, cut in itertools.pairwise(cuts)
    )
    planned = Work(len(cuts) * count, changes * count + between * (count - 1), _used(section, cuts) * count)
    return Alternative(planned, _blanks(saw, section, pieces, count))


def _arm_moves(before: BarCut, cut: BarCut) -> tuple[bool, bool]:
    """Whether the arm is swung and the blade tilted between two cuts."""
    swung = abs(cut.reach.swing - before.reach.swing) > SAME_SETTING
    return swung, abs(cut.reach.tilt - before.reach.tilt) > SAME_SETTING


def _used(section: Section, cuts: Sequence[BarCut]) -> float:
    """Steel from the raw end to behind the last kerf, mm."""
    last = cuts[-1]
    setting = last.reach.setting
    return last.place + last.kerf_along / 2 + _half_reach(section, setting.p, setting.q)


def _half_reach(section: Section, p: float, q: float) -> float:
    return (abs(p) * section.width + abs(q) * section.height) / 2


def _blanks(saw: Saw, section: Section, pieces: Sequence[BarPiece], count: int) -> Work:
    ends = [(piece, *_ends(saw, piece)) for piece in pieces]
    recut = {(p.right.p, p.right.q, p.left.p, p.left.q) for p, lead, trail in ends if lead != trail}
    leads = list(dict.fromkeys(lead for _, lead, _ in ends))
    steel = sum(_blank(saw, section, piece, lead, trail) for piece, lead, trail in ends)
    ramps = sum(2 * _half_reach(section, *lead) + _along(saw, lead) for lead in leads)
    recuts = sum(lead != trail for _, lead, trail in ends)
    cuts = (len(ends) + recuts) * count + len(leads) * count
    return Work(cuts, len(leads) + len(recut) - 1, (steel + ramps) * count)


def _ends(saw: Saw, piece: BarPiece) -> tuple[tuple[float, float], tuple[float, float]]:
    """The slopes on the bar of the leading and the trailing cut."""
    lead, trail = getattr(piece, saw.leads), getattr(piece, saw.trails)
    return (-lead.p + 0.0, -lead.q + 0.0), (trail.p, trail.q)


def _along(saw: Saw, slopes: tuple[float, float]) -> float:
    return saw.kerf * hypot(1.0, *slopes)


def _blank(saw: Saw, section: Section, piece: BarPiece, lead: tuple[float, float], trail: tuple[float, float]) -> float:
    """Centerline of a blank and its own kerf, mm."""
    if lead == trail:
        return piece.centerline + _along(saw, lead)
    wedge = _half_reach(section, lead[0] - trail[0], lead[1] - trail[1])
    return piece.centerline + wedge + _along(saw, trail) + _along(saw, lead)
