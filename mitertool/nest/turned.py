"""A bar of the search laid in every way as a whole: turned end for end its cuts come in the other order; knows lots."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from mitertool.nest.lots import Lot, Pattern, Walk, Way


def turned(lot: Lot, bar: Pattern) -> list[Pattern]:
    """The bar and every other way to lay it, each measured; rolled half a turn its slopes change sign."""
    over, back = _Opposites(lot), bar.walk[::-1]
    found = (
        _mapped(lot, back, lambda way: (way.after, way.before)),
        _mapped(lot, bar.walk, lambda way: (over.of(way.before), over.of(way.after))),
        _mapped(lot, back, lambda way: (over.of(way.after), over.of(way.before))),
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


class _Opposites:
    """For slopes of a lot the number of the one with the other sign on the same bar."""

    def __init__(self, lot: Lot) -> None:
        self.lot = lot
        self.found: dict[int, int | None] = {}

    def of(self, number: int) -> int | None:
        """The opposite of a slope, None where the lot has none."""
        if number not in self.found:
            other = self.lot.ends[number].cut.over
            section = self.lot.ends[number].section
            beside = (i for i, end in enumerate(self.lot.ends) if end.section is section)
            self.found[number] = next((i for i in beside if self.lot.ends[i].cut.parallel(other)), None)
        return self.found[number]
