"""Laws of reading and showing, over generated lengths, angles and texts."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from mitertool.base.errors import BadInput
from mitertool.quantity import (
    UNITS,
    Units,
    angle,
    count,
    length,
    length_from_zero,
    plain_number,
    positive_length,
    rounded_length,
    show_angle,
    show_length,
    slope_angle,
)

MILLIMETRES = st.floats(-9e5, 9e5)
UNIT_WORDS = st.sampled_from(UNITS)
DENOMINATORS = st.sampled_from([2, 4, 8, 16, 32, 64])
TEXTS = st.one_of(
    st.text(),
    st.text("0123456789 .,/-+'\"eEinftcm°:½″′\n_", max_size=20),
    st.from_regex(r"[+-]?\d{1,6}(\.\d{0,4}|[ -]\d{1,3}/\d{1,3})? ?(mm|cm|m|in|ft|'|\"|°|deg)?", fullmatch=True),
    st.from_regex(r"\d{1,3}(' ?-?|°)\d{1,2}([ -]\d/\d)?['\"]?", fullmatch=True),
)
READERS: dict[str, Callable[[object], float]] = {
    **{f"length in {units}": lambda text, units=units: length(text, units, "length") for units in UNITS},  # type: ignore[misc]
    "positive_length": lambda text: positive_length(text, "mm", "width"),
    "length_from_zero": lambda text: length_from_zero(text, "mm", "trim"),
    "angle": lambda text: angle(text, "miter"),
    "slope_angle": lambda text: slope_angle(text, "slope"),
    "plain_number": lambda text: plain_number(text, "pitch"),
    "count": lambda text: count(text, "quantity"),
}


@given(MILLIMETRES, UNIT_WORDS, DENOMINATORS, st.none() | st.integers(0, 5))
@example(11.99 * 25.4, "ft-in", 16, None)
@example(-0.01, "in", 16, None)
def test_what_is_shown_reads_as_the_rounded_length(
    mm: float, units: Units, denominator: int, decimals: int | None
) -> None:
    text = show_length(mm, units, denominator, decimals)
    assert length(text, units, "length") == rounded_length(mm, units, denominator, decimals)


@given(MILLIMETRES, UNIT_WORDS, DENOMINATORS)
def test_rounding_moves_by_half_a_step_at_most(mm: float, units: Units, denominator: int) -> None:
    step = {"mm": 0.1, "in": 0.0254}.get(units, 25.4 / denominator)
    # half a step, the width of a tie (1e-6 steps) and the rounding of doubles of 1e6 mm (1e-9 mm)
    assert abs(rounded_length(mm, units, denominator) - mm) <= step * (0.5 + 1e-6) + 1e-9


@given(MILLIMETRES, UNIT_WORDS, DENOMINATORS)
def test_rounding_twice_is_rounding_once(mm: float, units: Units, denominator: int) -> None:
    once = rounded_length(mm, units, denominator)
    assert rounded_length(once, units, denominator) == once


@given(MILLIMETRES, UNIT_WORDS, DENOMINATORS)
def test_the_opposite_of_a_length_shows_as_the_same_text_with_a_minus(
    mm: float, units: Units, denominator: int
) -> None:
    shown = {show_length(sign * mm, units, denominator) for sign in (1, -1)}
    digits = {text.removeprefix("-") for text in shown}
    assert len(digits) == 1
    assert not any(text.startswith("-") and not set(text) & set("123456789") for text in shown)


@given(st.integers(0, 39_000), st.integers(0, 63), UNIT_WORDS)
def test_halves_of_a_step_typed_as_text_go_away_from_zero(whole: int, odd: int, units: Units) -> None:
    parts = 2 * odd + 1
    mm = length(f'{whole} {parts}/128"', units, "length")
    # an odd number of 128ths lies half-way between two 64ths; the one further from zero has one 128th more
    assert rounded_length(mm, "ft-in", 64) == pytest.approx((whole * 128 + parts + 1) / 128 * 25.4, abs=1e-9)


@given(st.floats(-360, 360), st.integers(0, 6))
def test_a_shown_angle_reads_back(degrees: float, decimals: int) -> None:
    text = show_angle(degrees, decimals)
    # half a step, the width of a tie and the rounding of doubles
    assert abs(angle(text, "miter") - degrees) <= (0.5 + 1e-6) * 10.0**-decimals + 1e-12
    assert text not in {"-0°", "-0.0°"}


@given(st.floats(-1e6, 1e6))
def test_a_double_written_out_in_full_reads_as_itself(value: float) -> None:
    assert length(repr(value), "mm", "length") == value
    assert angle(repr(value), "miter") == value
    assert plain_number(repr(value), "pitch") == value


@given(st.integers(0, 3000), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_agree_with_inches(feet: int, inches: int, sixteenths: int) -> None:
    in_feet = length(f"{feet}'-{inches} {sixteenths}/16\"", "mm", "length")
    in_inches = length(f'{12 * feet + inches} {sixteenths}/16"', "mm", "length")
    assert in_feet == pytest.approx(in_inches, abs=1e-9)


@pytest.mark.parametrize("reader", READERS.values(), ids=READERS)
@given(text=TEXTS)
@example(text="9" * 400)
@example(text="1/" + "9" * 400)
@example(text="a\x85b\u2028c\x1d\r\nd")
@example(text="\ud800")
def test_any_text_is_a_finite_number_or_one_refusal_on_one_line(reader: Callable[[object], float], text: str) -> None:
    try:
        assert math.isfinite(reader(text))
    except BadInput as refusal:
        assert len(str(refusal).splitlines()) == 1
        assert refusal.found == text
        assert refusal.allowed
