"""When a bar is rolled, told by the way round; of the ways to one state those that none beats."""

from __future__ import annotations

import pytest

from mitertool.nest.small import _Best
from mitertool.nest.small_states import Label, State, apart


@pytest.mark.parametrize(
    ("one", "other", "rolled"),
    [
        *((0, 0, False), (0, 360, False), (-90, 270, False), (359.9999999, 0, False), (12.5, 12.5 + 1e-9, False)),
        *((0, 0.5, True), (0.5, 0, True), (0, 180, True), (-90, 90, True), (359.5, 0, True), (0, 1e-3, True)),
    ],
)
def test_a_turn_that_a_person_sees_is_a_roll(one: float, other: float, rolled: bool) -> None:
    assert apart(one, other) == rolled


def test_a_way_is_kept_where_none_costs_no_more_and_uses_no_more_of_its_bar() -> None:
    best = _Best(deep=False)

    def added(arm: int, cost: int, used: float, waits: int = 0) -> bool:
        state = State((), waits, (), arm, None)
        return best.add(Label((cost, 0, 0, 0.0), used, state, None, ("", 0)))

    assert added(1, 5, 100)
    assert not added(1, 5, 100)
    assert not added(1, 6, 120)
    assert added(1, 6, 90)
    assert added(1, 4, 110)
    assert not added(1, 4, 111)
    assert added(2, 6, 120)


def test_a_way_with_fewer_sorts_of_blanks_waiting_beats_one_with_more() -> None:
    """The sorts are bits: 3 is the first and the second, 4 the third."""
    best = _Best(deep=False)

    def added(waits: int, cost: int = 5, used: float = 100) -> bool:
        return best.add(Label((cost, 0, 0, 0.0), used, State((), waits, (), 0, None), None, ("", 0)))

    assert added(3)
    assert not added(7)
    assert added(4)
    assert added(1)
    assert not added(3, 5, 120)
    assert added(3, 5, 80)


def test_in_a_job_of_more_pieces_ties_are_left_as_they_are_found() -> None:
    for deep in (False, True):
        best = _Best(deep)
        state = State((), 0, (), 0, None)
        assert best.add(Label((5, 0, 3, 0.0), 100, state, None, ("", 0)))
        assert best.add(Label((5, 0, 2, 0.0), 100, state, None, ("", 0))) != deep
