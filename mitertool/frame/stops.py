"""The lines along which the stops of a jig stand, both sides of every member of a frame; knows assemblies.

Lengths mm, x to the right and y up from the first corner; angles degrees.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterator
from math import degrees
from typing import Final

import attrs

from mitertool.frame.assembly import Assembly
from mitertool.frame.setting_out import SettingOut

_FEW: Final = 4
"""Bars inside of one kind, at most, that have stops of their own; more of them are stepped off along what they meet."""

_AHEAD: Final = 1e-7
"""degrees. A line that leans less from level runs level, to the right."""


@attrs.frozen
class StopLine:
    """A side of member number `host` of `Assembly.every`, "outer" or "inner", between the ends of its steel.

    `first` is its lower end, of a level one its left end.
    """

    host: int
    side: str
    first: complex
    second: complex

    @property
    def angle(self) -> float:
        """Which way it runs, counter-clockwise from the right, 0 to 180."""
        return max(degrees(phase(self.second - self.first)), 0.0)


def stop_lines(assembly: Assembly, out: SettingOut) -> tuple[StopLine, ...]:
    """Both sides of every member around a frame and of the few bars inside, the outer side of each first.

    Of a bar inside the outer side is its left one as it runs from its left end.
    """
    kept = [*range(len(assembly.order)), *_few(assembly)]
    return tuple(line for host in kept for line in _sides(assembly, out, host))


def _few(assembly: Assembly) -> Iterator[int]:
    """The numbers of the bars inside of which there are few of a kind."""
    kinds = [bar.called for bar in assembly.inside]
    yield from (i for i, kind in enumerate(kinds, len(assembly.order)) if kinds.count(kind) <= _FEW)


def _sides(assembly: Assembly, out: SettingOut, host: int) -> Iterator[StopLine]:
    inner_start, outer_start, outer_end, inner_end = (point - out.origin for point in assembly.edges[host])
    yield _upward(host, "outer", outer_start, outer_end)
    yield _upward(host, "inner", inner_start, inner_end)


def _upward(host: int, side: str, a: complex, b: complex) -> StopLine:
    lean = degrees(phase(b - a))
    ahead = abs(lean) < _AHEAD or _AHEAD <= lean < 180 - _AHEAD
    return StopLine(host, side, *((a, b) if ahead else (b, a)))
