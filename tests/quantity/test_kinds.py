"""What a kind reads its schema takes; plain slips both refuse. Validated by `jsonschema`."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.base.errors import BadInput
from mitertool.quantity import kinds
from tests.schemas import complaints

KINDS = {
    "length": (kinds.LENGTH, "mm"),
    "length from 0": (kinds.LENGTH_FROM_ZERO, "ft-in"),
    "positive length": (kinds.POSITIVE_LENGTH, "in"),
    "angle": (kinds.angle(), "mm"),
    "swing": (kinds.angle(kinds.Limits(least=0, below=90)), "mm"),
    "number": (kinds.number(), "mm"),
    "count": (kinds.count(), "mm"),
    "few": (kinds.count(2, 12), "mm"),
    "lengths": (kinds.several(kinds.LENGTH), "in"),
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


def taken(name: str, value: object) -> bool:
    kind, units = KINDS[name]
    try:
        kind.read([value] if name == "lengths" else value, "it", units)
    except BadInput:
        return False
    return True


def told(name: str, value: object) -> list[str]:
    return complaints(KINDS[name][0].schema, [value] if name == "lengths" else value)


@pytest.mark.parametrize("name", KINDS)
@given(value=st.one_of(TEXTS, st.integers(-10, 100), st.floats(-1e6, 1e6)))
def test_what_is_read_an_editor_takes(name: str, value: object) -> None:
    assert not taken(name, value) or told(name, value) == []


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("value", ["", " ", "1,5", "1,200", "twelve", "mm", True, None, [1], {}], ids=repr)
def test_plain_slips_are_refused_by_both(name: str, value: object) -> None:
    assert not taken(name, value)
    assert told(name, value) != []


def test_every_kind_takes_something() -> None:
    assert all(taken(name, "12") and taken(name, 12) for name in KINDS)


@pytest.mark.parametrize(
    ("limits", "says", "inside", "outside"),
    [
        (kinds.Limits(least=0), "0 or more", (0, 5), (-0.1,)),
        (kinds.Limits(above=0), "more than 0", (0.1, 5), (0, -1)),
        (kinds.Limits(most=5), "at most 5", (-9, 5), (5.1,)),
        (kinds.Limits(-5, 5), "-5 to 5", (-5, 0, 5), (-5.1, 5.1)),
        (kinds.Limits(above=0, most=15), "more than 0, at most 15", (0.1, 15), (0, 15.1)),
        (kinds.Limits(above=-85, below=85), "more than -85, less than 85", (-84.9, 84.9), (-85, 85)),
        (kinds.Limits(least=0, below=90), "0 to less than 90", (0, 89.9), (-0.1, 90)),
    ],
)
def test_limits_are_held_told_and_said_alike(
    limits: kinds.Limits, says: str, inside: tuple[float, ...], outside: tuple[float, ...]
) -> None:
    kind = kinds.number(limits)
    assert limits.says == says
    for value in inside:
        assert kind.read(value, "it", "mm") == value
        assert complaints(kind.schema, value) == []
    for value in outside:
        with pytest.raises(BadInput, match=f"must be {says}$"):
            kind.read(value, "it", "mm")
        assert complaints(kind.schema, value) != []
