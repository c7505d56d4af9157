"""What an editor is told of a cut in a file is what the reader takes."""

from __future__ import annotations

import pytest

from mitertool.base.errors import BadInput
from mitertool.cut.keys import END
from tests.schemas import complaints

TAKEN = [
    *(0, 89.9, -89.9, "3:12", [45], [45, {"miter": -45, "meets": 20}], [45, {"miter": -45, "meets": [20, 35]}]),
    *(
        {"corner": 0.5},
        {"corner": 180},
        {"from_bar": 0.5},
        {"from_bar": 90, "long": "fixed"},
        {"miter": 30, "bevel": 5},
    ),
]
REFUSED = [
    *([], {"corner": 0}, {"corner": 180.5}, {"from_bar": 0}, {"from_bar": 90.5}, {"miter": 90}, {"long": "fixed"}),
    *({"corner": 90, "miter": 45}, [45, {"miter": -45, "meets": [20]}], [45, {"miter": -45, "meets": [1, 2, 3]}]),
]


def reads(value: object) -> bool:
    try:
        END.read(value, "left", "mm")
    except BadInput:
        return False
    return True


@pytest.mark.parametrize(("value", "taken"), [*((one, True) for one in TAKEN), *((one, False) for one in REFUSED)])
def test_reader_and_schema_say_the_same(value: object, taken: bool) -> None:
    assert reads(value) == taken
    assert (complaints(END.schema, value) == []) == taken
