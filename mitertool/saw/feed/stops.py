"""Where a stop stands where no feed brings the bar, and what cutting parallel blanks first would take; knows feed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import hypot
from typing import Final

import attrs

from mitertool.bar import Angles, BarCut, BarPiece, middle_as_rolled
from mitertool.bar.spacing import blank_length
from mitertool.base.tolerances import CROSSING, SAME_SLOPE
from mitertool.base.totals import summed
from mitertool.geometry import Point
from mitertool.saw.feed.feed import SetCut
from mitertool.saw.file.machine import Machine
from mitertool.saw.setting.reach import Reach
from mitertool.saw.setting.setting import Setting
from mitertool.sections import Section
from mitertool.words import phrase


@attrs.frozen
class Stop:
    """Where a stop stands for the cut of one end of a piece, and what touches it; mm.

    It stands on the discharge side for the cut that parts a piece from a bar, `behind` the vise on the feed side for
    that of a blank, which the vise holds. `from_blade` is from the blade's near face along the bar to the stop, on the
    line of the foremost steel of the end that was cut before, which touches it: the piece's own length there. That
    steel lies `y` from the fixed jaw and `z` above the bed, as the bar lies for the cut; where more of the end touches,
    on the longest line of it: the `whole` end does where that was cut square. `side` and `level` are the thirds of
    width and height in which it lies, "" where the length is the same all over. `holds` is False where the stop would
    stand in the way of the blade or its guides.
    """

    mark: str
    from_blade: float
    y: float
    z: float
    whole: bool
    side: str
    level: str
    holds: bool
    reach: Reach
    behind: bool = False

    @property
    def at_bed(self) -> float:
        """How far it stands from the blade at the bed, where a tape lies: of a blade that leans not as far as there."""
        lean = self.reach.setting.cut.q * self.z
        return self.from_blade + (lean if self.behind else -lean)

    @property
    def touches(self) -> str:
        """What touches it, and where the distance to it is measured, in words."""
        places = [phrase(f"touch.{place}") for place in (self.side, self.level) if place]
        what = "touch.whole" if self.whole else "touch.tip"
        return phrase(f"{what}-at", where=", ".join(places)) if places else phrase(what)


def stops(pieces: Sequence[BarPiece], chosen: Sequence[Reach]) -> tuple[Stop, ...]:
    """The stop for each piece, in order; `chosen` is how the trailing cut of each is set."""
    return tuple(_stop(piece, piece.lead, answer, 1) for piece, answer in zip(pieces, chosen, strict=True))


def stop_behind(piece: BarPiece, answer: Reach) -> Stop:
    """The stop on the feed side, at the finished end of a piece that lies there; `answer` sets its leading cut."""
    return attrs.evolve(_stop(piece, piece.trail, answer, -1), behind=True)


def _stop(piece: BarPiece, finished: BarCut, answer: Reach, way: int) -> Stop:
    """The stop at the `finished` end of a piece, on the discharge side, or where the `way` is -1 on the feed side."""
    setting, end = answer.setting, finished.rolled(answer.roll)
    p, q = way * end.p, way * end.q
    grows = (way * setting.cut.p - p, way * setting.cut.q - q)
    middle = middle_as_rolled(piece.section, answer.roll)
    y, z = _foremost(setting.section, (p, q), grows)
    length = piece.centerline + grows[0] * (y - middle[0]) + grows[1] * (z - middle[1])
    whole, side, level = _touches(setting.section, (p, q), grows, (y, z))
    holds = length > _taken(setting) + CROSSING
    return Stop(piece.mark, length, y, z, whole, side, level, holds, answer)


def _taken(setting: Setting) -> float:
    """What the blade with its guides takes beside its own face along the bar, mm: no stop stands there."""
    guides, kerf = setting.guides, setting.saw.kerf
    beside = max(guides.half_thickness - kerf / 2, 0.0)
    return setting.cut.kerf_along(beside) + guides.clearance


def _foremost(section: Section, lead: Point, grows: Point) -> Point:
    """(y, z) of the steel of an end that stands out furthest; of equal ones that on the longest line of the piece."""
    if hypot(*lead) <= SAME_SLOPE:
        return section.support_point(*grows) if hypot(*grows) > SAME_SLOPE else (section.width, 0.0)
    return section.support_point(*(-slope + _ASIDE * more for slope, more in zip(lead, grows, strict=True)))


_ASIDE: Final = 1e-9
"""How far the direction is turned that finds the longest of equal lines: a billionth of a radius is no length."""


def _touches(section: Section, lead: Point, grows: Point, place: Point) -> tuple[bool, str, str]:
    """Whether the whole end touches the stop, and where the distance to it is measured."""
    square = hypot(*lead) <= SAME_SLOPE
    across, up = (abs(a) > SAME_SLOPE or abs(b) > SAME_SLOPE for a, b in zip(lead, grows, strict=True))
    side = _third(place[0] / section.width, ("fixed", "mid-width", "moving")) if across else ""
    level = _third(place[1] / section.height, ("bottom", "mid-height", "top")) if up else ""
    return square, side, level


def _third(share: float, words: tuple[str, str, str]) -> str:
    return words[min(2, int(3 * share))]


@attrs.frozen
class Tally:
    """What a way of cutting takes: cuts, set-ups (swings, tilts and rolls), steel along the bars, mm.

    The first cut finds the arm where it stands, as in the count of the plan.
    """

    cuts: int
    set_ups: int
    steel: float


@attrs.frozen
class BlanksBeside:
    """The bars as planned beside the same pieces from parallel blanks with one end recut."""

    as_planned: Tally
    blanks: Tally


def blanks_first(saw: Machine, pieces: Sequence[BarPiece], cuts: Sequence[SetCut], count: int = 1) -> BlanksBeside:
    """What parallel blanks first, one end recut, would take beside the plan, for `count` such bars.

    A blank has the piece's leading cut at both ends and is as long as holds the piece and a whole kerf of the recut.
    """
    found = [cut.reach.angles for cut in cuts]
    between = sum(found[-1].changes(found[0])[:2])
    changes = found[0].changes(Angles()).rolls + sum(sum(a.changes(b)) for a, b in itertools.pairwise(found))
    set_ups = changes * count + between * (count - 1)
    return BlanksBeside(Tally(len(cuts) * count, set_ups, _used(cuts) * count), _blanks(saw, pieces, count))


def _used(cuts: Sequence[SetCut]) -> float:
    """Steel from the raw end to behind the last kerf, mm."""
    last = cuts[-1]
    return last.kerf.end + last.kerf.cut.half_reach(last.section)


def _blanks(saw: Machine, pieces: Sequence[BarPiece], count: int) -> Tally:
    section, slanted = pieces[0].section, [piece for piece in pieces if not piece.parallel]
    recut = dict.fromkeys((piece.trail, piece.lead) for piece in slanted)
    leads = dict.fromkeys(piece.lead for piece in pieces)
    steel = summed(blank_length(piece, saw.kerf) + piece.lead.kerf_along(saw.kerf) for piece in pieces)
    ramps = summed(2 * lead.half_reach(section) + lead.kerf_along(saw.kerf) for lead in leads)
    cuts = (len(pieces) + len(slanted)) * count + len(leads) * count
    return Tally(cuts, len(leads) + len(recut) - 1, (steel + ramps) * count)
