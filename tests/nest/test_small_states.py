"""When a bar is rolled, told by the way round."""

from __future__ import annotations

import pytest

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
