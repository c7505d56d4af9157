"""The best order of a few bars, by looking at every set of them that may be cut already; knows nothing of bars.

A state is how many of each kind are done and where the arm stands: what was done before in which order says no more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import prod
from typing import Final, NamedTuple

_LOOKS: Final = 40_000
"""Steps from state to state, some tenths of a second; where there are more no order is looked for."""


class Course(NamedTuple):
    """A way to do one of a kind: numbers of the settings at its begin and its end, and what it costs between."""

    start: int
    end: int
    cost: float


Taken = tuple[int, int]
"""A kind, and the number of its way."""

_State = tuple[tuple[int, ...], int]


class _Step(NamedTuple):
    """The least that leads to a state, what was done last, and the state before it."""

    cost: float
    taken: Taken
    before: _State | None


def best_order(
    counts: Sequence[int], ways: Sequence[Sequence[Course]], change: Sequence[Sequence[float]]
) -> list[Taken] | None:
    """Each kind done as often as `counts` says, in the order and by the ways that cost the least together.

    `change` is what it costs from one setting to another; the first way finds its own. None where there is too much to
    look at, or nothing to do.
    """
    looks = prod(count + 1 for count in counts) * len(change) * sum(map(len, ways))
    if looks > _LOOKS or not sum(counts):
        return None
    reached: dict[_State, _Step] = {}
    layer = _first(counts, ways)
    for _ in range(sum(counts) - 1):
        reached |= layer
        layer = _next(layer, counts, ways, change)
    state = min(layer, key=lambda one: layer[one].cost)
    return list(reversed(list(_back(state, reached | layer))))


def _first(counts: Sequence[int], ways: Sequence[Sequence[Course]]) -> dict[_State, _Step]:
    found: dict[_State, _Step] = {}
    for kind, count in enumerate(counts):
        for number, way in enumerate(ways[kind] if count else ()):
            done = tuple(int(i == kind) for i in range(len(counts)))
            _keep(found, (done, way.end), _Step(way.cost, (kind, number), None))
    return found


def _next(
    layer: dict[_State, _Step],
    counts: Sequence[int],
    ways: Sequence[Sequence[Course]],
    change: Sequence[Sequence[float]],
) -> dict[_State, _Step]:
    found: dict[_State, _Step] = {}
    for (done, arm), step in layer.items():
        for kind, count in enumerate(counts):
            if done[kind] == count:
                continue
            more = (*done[:kind], done[kind] + 1, *done[kind + 1 :])
            for number, way in enumerate(ways[kind]):
                cost = step.cost + change[arm][way.start] + way.cost
                _keep(found, (more, way.end), _Step(cost, (kind, number), (done, arm)))
    return found


def _keep(found: dict[_State, _Step], state: _State, step: _Step) -> None:
    if state not in found or step.cost < found[state].cost:
        found[state] = step


def _back(state: _State | None, reached: dict[_State, _Step]) -> Iterator[Taken]:
    while state is not None:
        step = reached[state]
        yield step.taken
        state = step.before
