"""Where lettering stands that belongs to places along a line, moved apart as little as it needs; paper mm."""

from __future__ import annotations

from collections.abc import Sequence

from mitertool.base.totals import summed


def spread(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """The middles of texts `widths` wide that should stand at the `wanted` places, which ascend: none on another.

    The sum of the squares of the ways they are moved is least: neighbours that meet are moved together, about the mean
    of their places (isotonic regression, pool adjacent violators). They stay between `low` and `high` where all have
    room there, else they run out evenly.

    >>> spread([10, 11, 30], [4, 4, 4], 0, 40)
    [8.5, 12.5, 30.0]
    """
    starts = [summed(widths[:i]) + widths[i] / 2 for i in range(len(widths))]
    groups: list[tuple[float, int]] = []
    for place, start in zip(wanted, starts, strict=True):
        mean, count = place - start, 1
        while groups and groups[-1][0] > mean:
            other, many = groups.pop()
            mean, count = (mean * count + other * many) / (count + many), count + many
        groups.append((mean, count))
    most = high - summed(widths)
    low, most = (low, most) if low <= most else ((low + most) / 2,) * 2
    moved = [min(max(mean, low), most) for mean, count in groups for _ in range(count)]
    return [shift + start for shift, start in zip(moved, starts, strict=True)]
