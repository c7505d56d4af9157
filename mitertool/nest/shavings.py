"""Shavings between two cuts of a bar, of which a bar with room makes scraps that come off whole; knows plan.

Two cuts that are nearly parallel leave a wedge that is nowhere as thick as the kerf. It hangs at the blade, which may
wander on it. Where the bar has more to spare than is kept of it, as much lies between the two as is trimmed off a raw
end: the same bars, cuts and settings.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import attrs

from mitertool.bar import Allowance
from mitertool.bar.spacing import CLEAR
from mitertool.nest.plan import Bar, Plan, SawCut, Steel
from mitertool.sections import Section


def shaving(before: SawCut, cut: SawCut, section: Section) -> float | None:
    """How thick the scrap between a trailing cut and the next leading one is at the most, mm; None from a kerf on."""
    p, q = abs(cut.cut.p - before.cut.p), abs(cut.cut.q - before.cut.q)
    thickest = cut.kerf_from - before.kerf_to + (p * section.width + q * section.height) / 2
    return thickest if thickest < before.kerf_to - before.kerf_from else None


def with_scraps(plan: Plan, allowance: Allowance, spare: Callable[[int], float]) -> Plan:
    """The plan with a trim more in the place of each shaving, where a bar has so much to spare for all of its own.

    `spare` says of a bar, by its number from 0, what may be taken of it, mm. Where nothing is trimmed, where a job says
    how thick scraps are at the least or lets one kerf lie over another the plan is as it was.
    """
    trim = allowance.trim
    if not trim or allowance.wedge_least or allowance.second_kerf != CLEAR:
        return plan
    thin = [_shavings(bar) for bar in plan.bars]
    wider = [bool(found) and len(found) * trim <= spare(number) for number, found in enumerate(thin)]
    if not any(wider):
        return plan
    told = zip(plan.bars, thin, wider, strict=True)
    bars = tuple(_widened(bar, found, trim) if apart else bar for bar, found, apart in told)
    steel = Steel()
    for bar in bars:
        steel = steel.plus(bar.steel, bar.count * bar.section.bars)
    return attrs.evolve(plan, bars=bars, steel=steel)


def _shavings(bar: Bar) -> list[int]:
    """The numbers of the leading cuts with a shaving before them, from 0."""
    pairs = ((number, *pair) for number, pair in enumerate(pairwise(bar.cuts), 1) if pair[1].kerf_lies == "before")
    return [number for number, one, two in pairs if shaving(one, two, bar.section) is not None]


def _widened(bar: Bar, thin: list[int], trim: float) -> Bar:
    """The bar with all behind each of its shavings so much further from its end."""
    places = [bar.cuts[number].at for number in thin]

    def further(at: float) -> float:
        return trim * sum(place <= at for place in places)

    return attrs.evolve(
        bar,
        pieces=tuple(attrs.evolve(one, at=one.at + further(one.at)) for one in bar.pieces),
        cuts=tuple(_moved(cut, trim * sum(at <= number for at in thin)) for number, cut in enumerate(bar.cuts)),
        drop=bar.drop - trim * len(thin),
        steel=bar.steel.plus(Steel(wedges=trim * len(thin), drops=-trim * len(thin))),
    )


def _moved(cut: SawCut, by: float) -> SawCut:
    places = {name: getattr(cut, name) + by for name in ("at", "fixed", "moving", "kerf_from", "kerf_to")}
    return attrs.evolve(cut, **places) if by else cut
