"""The list of changes that leave the program the same names texts that stand in the program, each with its reason."""

from __future__ import annotations

import pytest

from tests.mutation.rooms import ROOMS
from tests.mutation.survivors import same, stands

LIST = same()


@pytest.mark.parametrize("one", LIST, ids=lambda one: f"{one.file.removeprefix('mitertool/')}: {one.now[:40]}")
def test_what_is_explained_stands_in_the_program(one: object) -> None:
    assert stands(one)  # type: ignore[arg-type]


def test_every_change_is_one_and_is_explained() -> None:
    assert len({one.key for one in LIST}) == len(LIST)
    assert all(one.was != one.now and len(one.why) > 20 and one.why.endswith(".") for one in LIST)
    assert {one.file.split("/")[1] for one in LIST} <= set(ROOMS)
