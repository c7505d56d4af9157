"""Where a stop stands on a saw without a bar feed, and what cutting parallel blanks first would take; knows feed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import hypot, radians

import attrs

from mitertool.geometry.segments import turn
from mitertool.saw.feed import BarCut, BarPiece, bar_cuts, middle_as_rolled
from mitertool.saw.reach import Reach, reach
from mitertool.saw.saw import Saw
from mitertool.sections import Section


@attrs.frozen
class Stop:
    """From the blade's near side, on the line over the swing axis, along the bar to a stop behind the blade, mm.

    The stop touches the long or the short tip of the end that was cut before. `long_tip` and `short_tip` are None
    where the saw file gives no swing axis and the arm is swung.
    """

    mark: str
    long_tip: float | None
    short_tip: float | None
    reach: Reach


def stops(saw: Saw, section: Section, pieces: Sequence[BarPiece], chosen: Sequence[Reach] = ()) -> tuple[Stop, ...]:
    """The stop for each piece, in order; `chosen` is how the trailing cut of each is set, else as the saw would."""
    trailing = chosen or [reach(saw, section, getattr(piece, saw.trails), saw.trails) for piece in pieces]
    return tuple(_stop(saw, section, piece, answer) for piece, answer in zip(pieces, trailing, strict=True))


def _stop(saw: Saw, section: Section, piece: BarPiece, answer: Reach) -> Stop:
    leading = getattr(piece, saw.leads)
    setting, axis = answer.setting, saw.bed.swing_axis
    if axis is None and setting.p:
        return Stop(piece.mark, None, None, answer)
    p, q = turn((-leading.p, -leading.q), -radians(answer.roll))
    y, z = middle_as_rolled(setting.section, answer.roll, section)
    base = piece.centerline - setting.p * (y - (axis or 0.0)) - setting.q * z + p * y + q * z
    laid = setting.section
    return Stop(piece.mark, base + laid.support(-p, -q), base - laid.support(p, q), answer)


@attrs.frozen
class Work:
    """What a way of cutting takes: cuts, set-ups (swings, tilts and rolls), steel along the bars, mm."""

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
    between = 1 if count > 1 and not cuts[0].same_setting(cuts[-1]) else 0
    changes = sum(not cut.same_setting(before) for before, cut in itertools.pairwise(cuts))
    planned = Work(len(cuts) * count, 1 + changes * count + between * (count - 1), _used(section, cuts) * count)
    return Alternative(planned, _blanks(saw, section, pieces, count))


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
    return Work(cuts, len(leads) + len(recut), (steel + ramps) * count)


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
