"""A refusal is one line of bounded length that a terminal shows as it is, whatever was given."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.base.errors import BadInput, CannotMake, MitertoolError, UnknownName

LONGEST_LINE = 1000
"""Characters; some ten lines of a terminal. A refusal that scrolls its own cause away helps nobody."""

NASTY = (
    *("", " ", "a\nb", "a\r\nb", "a\tb", "\n\n\n", "a\x0bb\x0cc\x1cd\x1de\x1ef", "a\x85b", "a\u2028b\u2029c"),
    *("\x1b[31mred", "\x07bell", "\x00", "\u202eright to left", "x" * 10_000, "a\n" * 10_000, "'", "\\", "{}", "%s"),
)
VALUES = (*NASTY, 0, -1.5, float("nan"), True, None, [1] * 10_000, {"a": "b\nc"}, b"\xff\n", 10**400, object)


def is_one_line(text: str) -> bool:
    return len(text.splitlines()) == 1 and text.isprintable() and len(text) <= LONGEST_LINE


@pytest.mark.parametrize("found", VALUES, ids=lambda value: ascii(value)[:20])
def test_a_refusal_of_any_value_is_one_line(found: object) -> None:
    refusal = BadInput("length", found, "write a length")
    assert is_one_line(str(refusal))
    assert str(refusal).startswith("length: found ")
    assert str(refusal).endswith("; write a length")


@pytest.mark.parametrize("place", NASTY, ids=lambda value: ascii(value)[:20])
def test_a_refusal_at_any_place_is_one_line(place: str) -> None:
    assert is_one_line(str(BadInput("length", "x", "write a length").at("job.toml", f"[[piece]] {place}")))


@pytest.mark.parametrize("what", NASTY, ids=lambda value: ascii(value)[:20])
def test_a_refusal_of_anything_named_is_one_line(what: str) -> None:
    assert is_one_line(str(BadInput(f"key {what}", "x", "write a length")))


def test_a_number_of_more_digits_than_the_interpreter_prints_is_refused_like_any_other() -> None:
    assert is_one_line(str(BadInput("name", 10**5000, "must be a text in quotes")))


@given(st.text(), st.text(), st.text())
def test_a_refusal_of_any_text_is_one_line(found: str, what: str, place: str) -> None:
    assert len(str(BadInput(f"key {what}", found, "write a length", (place,))).splitlines()) == 1


def test_places_stand_outermost_first() -> None:
    refusal = BadInput("width", "-1", "must be more than 0").at("[[frame]] A").at("job.toml")
    assert str(refusal) == "job.toml: [[frame]] A: width: found '-1'; must be more than 0"
    assert (refusal.what, refusal.found, refusal.allowed) == ("width", "-1", "must be more than 0")
    assert refusal.where == ("job.toml", "[[frame]] A")


def test_an_unknown_name_keeps_its_choices_when_it_is_placed() -> None:
    refusal = UnknownName("section", "RHS", "the nearest are A, B", choices=["A", "B"]).at("job.toml")
    assert isinstance(refusal, UnknownName)
    assert (refusal.choices, refusal.where) == (("A", "B"), ("job.toml",))


def test_bad_input_ends_in_2_and_what_cannot_be_made_in_1() -> None:
    refusal, impossible = BadInput("a", "b", "c"), CannotMake(["first", "second"])
    assert (refusal.exit_code, impossible.exit_code) == (2, 1)
    assert isinstance(refusal, MitertoolError)
    assert isinstance(impossible, MitertoolError)
    assert impossible.reasons == ("first", "second")
    assert str(impossible) == "first; second"
