"""An end of several cuts as a person gives it."""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.cut.end_words import end_from
from mitertool.cut.ends import Further

FIRST, SECOND = mt.Cut(40), mt.Cut(-30)


@pytest.mark.parametrize(
    ("given", "end"),
    [
        ([40], (FIRST,)),
        ([40, -30], (FIRST, SECOND)),
        (["40", "-30 meets 20"], (FIRST, Further(SECOND, 20.0))),
        ([40, {"miter": -30, "meets": 20}], (FIRST, Further(SECOND, 20.0))),
        ([40, {"miter": -30, "meets": [20, 35]}], (FIRST, Further(SECOND, (20.0, 35.0)))),
    ],
)
def test_an_end_of_several_cuts(given: object, end: object) -> None:
    assert end_from(given, "right", "mm") == end


@pytest.mark.parametrize("meets", [[20], [20, 35, 50], []])
def test_a_place_is_one_number_or_two(meets: list[float]) -> None:
    with pytest.raises(mt.BadInput, match="right, cut 2, meets"):
        end_from([40, {"miter": -30, "meets": meets}], "right", "mm")
