"""The order of the bars, and which way round each is cut, for the fewest changes between bars; knows lots.

A bar may be turned as a whole where every piece on it may: end for end its cuts come in the other order, rolled their
slopes change sign.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import inf
from typing import Final

from mitertool.bar import BarCut
from mitertool.nest.lots import Lot, Pattern, Walk, Way

_STARTS: Final = 12
_LOOKS: Final = 1_000_000
"""How many bars are tried as the first, fewer where there are many."""


def ordered(lot: Lot, bars: Sequence[Pattern], arm: BarCut | None = None) -> list[Pattern]:
    """The bars in the order of work; `arm` is the cut at which the arm stands before the first."""
    opposite = _opposites(lot)
    all_turns = {bar: _turned(lot, bar, opposite) for bar in dict.fromkeys(bars)}
    groups = Counter(min(all_turns[bar], key=_key) for bar in bars)
    turns = {min(found, key=_key): found for found in all_turns.values()}
    firsts = sorted((turn for bar in groups for turn in turns[bar]), key=_key)
    orders = [_chained(first, groups, turns) for first in _tried(lot, firsts, len(bars), arm)]
    return min([*orders, list(bars)], key=lambda order: changes(order) + (not _starts_at(lot, order[0], arm)))


def _tried(lot: Lot, firsts: Sequence[Pattern], bars: int, arm: BarCut | None) -> list[Pattern]:
    """Bars to begin with: some that start where the arm stands, and some from all over."""
    starts = max(1, min(_STARTS, _LOOKS // (len(firsts) * bars)))
    at_arm = [first for first in firsts if _starts_at(lot, first, arm)]
    return [*at_arm[:starts], *firsts[:: -(-len(firsts) // starts)]]


def _starts_at(lot: Lot, bar: Pattern, arm: BarCut | None) -> bool:
    return arm is None or lot.ends[bar.walk[0].before].cut.parallel(arm)


def _key(bar: Pattern) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    return bar.stock, tuple((way.kind, way.before, way.after) for way in bar.walk)


def changes(bars: Sequence[Pattern]) -> int:
    """Changes of slope from the end of a bar to the start of the next."""
    return sum(one.walk[-1].after != two.walk[0].before for one, two in pairwise(bars))


Turns = dict[Pattern, list[Pattern]]


def _chained(first: Pattern, groups: Counter[Pattern], turns: Turns) -> list[Pattern]:
    """From the first bar on always one that starts where the last one ended, if there is one; alike bars together."""
    left = Counter(groups)
    owner = {turn: bar for bar in groups for turn in turns[bar]}
    done: list[Pattern] = []
    here = first
    while True:
        done.append(here)
        left[owner[here]] -= 1
        if not left[owner[here]]:
            del left[owner[here]]
        if not left:
            return done
        here = _next(here, left, turns)


def _next(here: Pattern, left: Counter[Pattern], turns: Turns) -> Pattern:
    end = here.walk[-1].after
    options = [(turn, bar) for bar in left for turn in turns[bar]]
    starting = Counter(turn.walk[0].before for turn, _ in options)
    alike = next((bar for turn, bar in options if turn == here), None)

    def dear(option: tuple[Pattern, Pattern]) -> tuple[bool, bool, bool, int]:
        turn, bar = option
        return turn.walk[0].before != end, turn != here, bar != alike, -starting[turn.walk[-1].after]

    return min(options, key=dear)[0]


def _turned(lot: Lot, bar: Pattern, opposite: Sequence[int | None]) -> list[Pattern]:
    """The bar and every other way to lay it, each measured."""
    back = bar.walk[::-1]
    found = (
        _mapped(lot, back, lambda way: (way.after, way.before)),
        _mapped(lot, bar.walk, lambda way: (opposite[way.before], opposite[way.after])),
        _mapped(lot, back, lambda way: (opposite[way.after], opposite[way.before])),
    )
    fitting = [walk for walk in found if walk and lot.fits(walk, bar.stock)]
    return [Pattern(bar.stock, walk) for walk in dict.fromkeys([bar.walk, *fitting])]


def _mapped(lot: Lot, ways: Iterable[Way], slopes: Callable[[Way], tuple[int | None, int | None]]) -> Walk | None:
    """The ways with other slopes; None where a piece may not lie so."""
    walk: list[Way] = []
    for way in ways:
        pair = slopes(way)
        other = next((one for one in lot.kinds[way.kind].ways if (one.before, one.after) == pair), None)
        if other is None:
            return None
        walk.append(other)
    return tuple(walk)


def _opposites(lot: Lot) -> list[int | None]:
    """For every slope the number of the one with the other sign in the same lay."""

    def opposite(number: int) -> int | None:
        other = lot.ends[number].cut.over
        same_lay = (i for i, gap in enumerate(lot.gaps[number]) if gap < inf)
        return next((i for i in same_lay if lot.ends[i].cut.parallel(other)), None)

    return [opposite(i) for i in range(len(lot.ends))]
