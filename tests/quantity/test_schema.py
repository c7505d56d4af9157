"""What the readers take, the schema of its kind takes; plain slips both refuse. Validated by `jsonschema`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.base.errors import BadInput
from mitertool.quantity import angle, count, length, length_from_zero, plain_number, positive_length, schema
from tests.schemas import complaints

KINDS: dict[str, tuple[dict[str, Any], Callable[[object], float]]] = {
    "length": (schema.length("."), lambda value: length(value, "mm", "it")),
    "length from 0": (schema.length_from_zero("."), lambda value: length_from_zero(value, "ft-in", "it")),
    "positive length": (schema.positive_length("."), lambda value: positive_length(value, "in", "it")),
    "angle": (schema.angle("."), lambda value: angle(value, "it")),
    "number": (schema.number("."), lambda value: plain_number(value, "it")),
    "count": (schema.count("."), lambda value: count(value, "it")),
}

SIGNS = st.sampled_from(("", "+", "-", "−", " "))
NUMERALS = st.sampled_from(("0", "12", "1.5", ".5", "5.", "1e2", "3/4", "1 1/2", "1-1/2", "½", "2¾", "007"))
UNITS = st.sampled_from(
    (
        "",
        " ",
        "mm",
        " cm",
        " m",
        '"',
        " in",
        "'",
        " ft",
        "′ 6½″",
        "' 6-1/2\"",
        "ft 6 in.",
        "°",
        " deg",
        "°30'",
        "°30'15\"",
    )
)
TEXTS = st.builds("{}{}{}".format, SIGNS, NUMERALS, UNITS)


def taken(read: Callable[[object], float], value: object) -> bool:
    try:
        read(value)
    except BadInput:
        return False
    return True


@pytest.mark.parametrize("kind", KINDS)
@given(value=st.one_of(TEXTS, st.integers(-10, 10), st.floats(-1e6, 1e6)))
def test_what_a_reader_takes_its_schema_takes(kind: str, value: object) -> None:
    written, read = KINDS[kind]
    assert not taken(read, value) or complaints(written, value) == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", ["", " ", "1,5", "1,200", "twelve", "mm", True, None, [1], {}], ids=repr)
def test_plain_slips_are_refused_by_both(kind: str, value: object) -> None:
    written, read = KINDS[kind]
    assert not taken(read, value)
    assert complaints(written, value) != []


def test_every_kind_takes_something() -> None:
    assert all(taken(read, "12") and taken(read, 12) for _, read in KINDS.values())
