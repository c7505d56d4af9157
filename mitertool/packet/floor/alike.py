"""Cuts that are made alike put together as one row, and rows that come again in turn as a loop; knows values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

import attrs

from mitertool.packet.floor.guides import widest
from mitertool.packet.floor.values import CutRow, Loop

_DIGITS: Final = 4
"""Decimals of mm and degrees to which two cuts are alike: finer than anything that is read or keyed."""

_LONGEST: Final = 4
"""Rows of one loop: more are not kept in mind."""

_TURNS: Final = 2
"""Times from which rows are told as a loop."""


def together(cuts: Sequence[CutRow]) -> tuple[tuple[CutRow, ...], tuple[Loop, ...]]:
    """The rows of a bar from its cuts in order, one number each, and which rows are gone through again and again."""
    runs = [_joined(list(alike)) for _, alike in groupby(cuts, _content)]
    keys = [(_content(row), len(row.numbers)) for row in runs]
    rows: list[CutRow] = []
    loops: list[Loop] = []
    at = 0
    while at < len(runs):
        long, times = _loop(keys, at)
        turns = [runs[at + i : at + long * times : long] for i in range(long)]
        if times > 1:
            loops.append(Loop(len(rows), len(rows) + long, times))
        rows += [_joined(same) for same in turns]
        at += long * times
    return tuple(rows), tuple(loops)


_Key = tuple[tuple[object, ...], int]
"""What a row is, and of how many cuts."""


def _loop(keys: Sequence[_Key], at: int) -> tuple[int, int]:
    """How many rows from here come again at once, and how often; 1 and 1 where none does."""
    found = [(long, _times(keys, at, long)) for long in range(2, _LONGEST + 1)]
    return max(((long, times) for long, times in found if times >= _TURNS), key=_saved, default=(1, 1))


def _saved(loop: tuple[int, int]) -> int:
    long, times = loop
    return long * (times - 1)


def _times(keys: Sequence[_Key], at: int, long: int) -> int:
    times = 1
    while keys[at + long * times : at + long * (times + 1)] == keys[at : at + long]:
        times += 1
    return times


def _joined(rows: Sequence[CutRow]) -> CutRow:
    return attrs.evolve(rows[0], numbers=tuple(number for row in rows for number in row.numbers), guides=widest(rows))


def _content(row: CutRow) -> tuple[object, ...]:
    """All that an operator does for a cut, so that equal ones are one row."""
    reading, turn, stop = row.reading, row.turn, row.stop
    return (
        *(row.recut, round(row.blank, _DIGITS), row.more),
        *(row.comes_long, row.makes, row.mark, row.sets, row.stays, row.strokes, row.by_hand, row.why, row.proof),
        *(reading.side, reading.arm, reading.ok, reading.comes_back),
        *_rounded(reading.degrees, reading.tilt, row.key, row.moved, row.end_past.past if row.end_past else None),
        row.end_past and (row.end_past.side, row.end_past.leans),
        turn and (turn.half, None if turn.half else (round(turn.to, _DIGITS), turn.forward)),
        stop and (round(stop.from_blade, _DIGITS), stop.touches, stop.holds),
    )


def _rounded(*values: float | None) -> Iterator[float | None]:
    yield from (None if value is None else round(value, _DIGITS) for value in values)
