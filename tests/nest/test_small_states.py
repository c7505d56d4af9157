"""When a bar is rolled, told by the way round; of the ways to one state those that none beats."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from mitertool.nest.small import _Best
from mitertool.nest.small_states import apart


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
    best = _Best()

    def added(state: str, cost: float, used: float) -> bool:
        label: Any = SimpleNamespace(state=state, cost=(cost, 0.0, 0.0, 0.0), used=used)
        return best.add(label)

    assert added("one", 5, 100)
    assert not added("one", 5, 100)
    assert not added("one", 6, 120)
    assert added("one", 6, 90)
    assert added("one", 4, 110)
    assert not added("one", 4, 111)
    assert added("other", 6, 120)
