"""Text to mm: every legal form, every refusal.

Expected values are worked by hand from 1 in = 25.4 mm and 1 ft = 304.8 mm, exact by the international yard
and pound agreement of 1959 (1 yd = 0.9144 m); the tolerance of 1e-9 mm is the rounding of double precision.
"""

from __future__ import annotations

import math

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity import Units, length, length_from_zero, positive_length

BARE_MM = [
    ("1200", 1200.0),
    ("848.5", 848.5),
    (".5", 0.5),
    ("5.", 5.0),
    ("+3", 3.0),
    ("-22.5", -22.5),
    ("1.2e3", 1200.0),
    ("  1200  ", 1200.0),
    ("0", 0.0),
    ("-0", 0.0),
    ("2 1/2", 2.5),
]

WITH_UNIT = [
    ("1200 mm", 1200.0),
    ("1200mm", 1200.0),
    ("1200 MM", 1200.0),
    ("1200\u00a0mm", 1200.0),
    ("120 cm", 1200.0),
    ("1.2 m", 1200.0),
    ("1/2 mm", 0.5),
    ("47.25 in", 1200.15),
    ("47.25 in.", 1200.15),
    ("47.25 inches", 1200.15),
    ("1 inch", 25.4),
    ('47.25"', 1200.15),
    ('47-1/4"', 1200.15),
    ('47 1/4"', 1200.15),
    ("47 1/4 in", 1200.15),
    ('3/16"', 4.7625),
    ('5/4"', 31.75),
    ('-3 1/2"', -88.9),
    ("6'", 1828.8),
    ("1 foot", 304.8),
    ("2 feet", 609.6),
    ("1.5 ft", 457.2),
    ("4-1/2'", 1371.6),
    ("4' 6-1/2\"", 1384.3),
    ("4'-6 1/2\"", 1384.3),
    ("4'-6-1/2\"", 1384.3),
    ("4' - 6 1/2\"", 1384.3),
    ("4'6.5\"", 1384.3),
    ("4' 6 1/2", 1384.3),
    ("4' 6\"", 1371.6),
    ("4 ft 6 in", 1371.6),
    ("4 ft. 6 in.", 1371.6),
    ("4'-0\"", 1219.2),
    ("0'-6\"", 152.4),
    ("4'-1/2\"", 1231.9),
    ("-4'-6 1/2\"", -1384.3),
    ("4'6''", 1371.6),
]

TYPOGRAPHIC = [
    ("4′-6½″", 1384.3),
    ("4’ 6”", 1371.6),
    ("47“", 1193.8),
    ("½ in", 12.7),
    ("47 ¼″", 1200.15),
    ("11¾″", 298.45),
    ("2⅜″", 60.325),
    ("−3½″", -88.9),
]


@pytest.mark.parametrize(("text", "mm"), BARE_MM)
def test_a_bare_number_counts_mm_where_units_are_mm(text: str, mm: float) -> None:
    assert length(text, "mm", "length") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("units", ["in", "ft-in"])
@pytest.mark.parametrize(
    ("text", "mm"),
    [("47.25", 1200.15), ("47 1/4", 1200.15), ("47-1/4", 1200.15), ("3/16", 4.7625), ("-22.5", -571.5)],
)
def test_a_bare_number_counts_inches_where_units_are_inches(text: str, mm: float, units: Units) -> None:
    assert length(text, units, "length") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("units", ["mm", "in", "ft-in"])
@pytest.mark.parametrize(("text", "mm"), WITH_UNIT + TYPOGRAPHIC)
def test_a_written_unit_goes_before_units(text: str, mm: float, units: Units) -> None:
    assert length(text, units, "length") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "units", "mm"),
    [(1200, "mm", 1200.0), (848.5, "mm", 848.5), (2, "in", 50.8), (0.5, "ft-in", 12.7), (-3, "mm", -3.0)],
)
def test_a_number_counts_units(value: float, units: Units, mm: float) -> None:
    assert length(value, units, "length") == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "factor"),
    [("848.1", 1.0), ("47.3 in", 25.4), ("0.1 cm", 10.0), ("1.1 m", 1000.0), ("1.7 ft", 304.8)],
)
def test_a_decimal_is_its_double_times_the_factor_exactly(text: str, factor: float) -> None:
    assert length(text, "mm", "length") == float(text.split()[0]) * factor


def test_a_zero_has_no_sign() -> None:
    signs = [math.copysign(1, length(zero, "in", "length")) for zero in ("-0", "-0'-0\"", -0.0)]
    assert signs == [1, 1, 1]


REFUSED = [
    ("", "it is empty"),
    ("   ", "it is empty"),
    ("1,5", "decimal point"),
    ("1,200.5", "decimal point"),
    ("nan", "finite"),
    ("-inf", "finite"),
    ("Infinity", "finite"),
    ("1e999", "finite"),
    ("1e999/1", "cannot be read"),
    ("0x10", "cannot be read"),
    ("1_000", "cannot be read"),
    ("１２", "digits 0 to 9"),
    ("١٢", "digits 0 to 9"),
    ("5²", "digits 0 to 9"),
    ("1/0", "over 0"),
    ("3 1/0", "over 0"),
    ("4 5/4", "less than one"),
    ("4 4/4", "less than one"),
    ("4'-6 9/8\"", "less than one"),
    ("4' 12\"", "less than 12"),
    ("4' 13 1/2\"", "less than 12"),
    ("4.5' 6\"", "whole feet"),
    ("4 1/2' 6\"", "whole feet"),
    ("4 m 6 cm", "whole feet"),
    ("4 mm 6 in", "whole feet"),
    ("6\" 4'", "whole feet"),
    ("4' 6'", "whole feet"),
    ("4 6", "cannot be read"),
    ("½4", "cannot be read"),
    ('4\' 6" 2"', "cannot be read"),
    ("12 mm x", "cannot be read"),
    ("12 furlong", "cannot be read"),
    ("12 km", "cannot be read"),
    ("mm", "cannot be read"),
    ("--3", "cannot be read"),
    ("- 3", "cannot be read"),
    ("4'-", "cannot be read"),
    ("47 -1/4", "cannot be read"),
    ("4.5 1/2", "cannot be read"),
    ("1/2/3", "cannot be read"),
    ("1.2.3", "cannot be read"),
    (".", "cannot be read"),
    ("1e", "cannot be read"),
    ("½½", "cannot be read"),
    ("1000001", "at most 1000000 mm"),
    ("-1001 m", "at most 1000000 mm"),
    ("9" * 5000, "finite"),
    ("1/" + "9" * 5000, "finite"),
    (math.nan, "finite"),
    (-math.inf, "finite"),
    (10**400, "finite"),
    (True, "number or text"),
    (None, "number or text"),
    ([1200], "number or text"),
]


@pytest.mark.parametrize(("value", "cause"), REFUSED)
def test_refused_with_the_cause(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause):
        length(value, "mm", "length")


@pytest.mark.parametrize(("units", "example"), [("mm", "1200 or 848.5"), ("in", "47-1/4"), ("ft-in", "4'-6 1/2\"")])
def test_a_refusal_names_the_key_and_gives_a_legal_example(units: Units, example: str) -> None:
    with pytest.raises(BadInput) as refusal:
        length("about 3", units, "stock 2, length")
    assert refusal.value.what == "stock 2, length"
    assert refusal.value.found == "about 3"
    assert example in refusal.value.allowed
    assert length(example.split(" or ")[0], units, "example") > 0


@pytest.mark.parametrize(
    ("value", "cause"),
    [
        ("0", "more than 0"),
        (-1, "more than 0"),
        ('-3 1/2"', "more than 0"),
        ("1e-999", "more than 0"),
        ("x", "read"),
    ],
)
def test_a_positive_length_is_more_than_0(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause):
        positive_length(value, "mm", "width")


@pytest.mark.parametrize(("value", "cause"), [(-0.1, "0 or more"), ('-1/16"', "0 or more"), ("1,5", "decimal point")])
def test_a_length_from_zero_is_not_negative(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause):
        length_from_zero(value, "mm", "trim")


def test_what_the_bounded_readers_let_pass() -> None:
    assert positive_length("0.1", "mm", "width") == 0.1
    assert length_from_zero("-0", "mm", "trim") == 0.0
    assert length_from_zero('1/2"', "mm", "trim") == pytest.approx(12.7, abs=1e-12)


@pytest.mark.parametrize("power", [4000, 5000])
def test_an_int_of_any_number_of_digits_is_refused(power: int) -> None:
    with pytest.raises(BadInput, match="found -inf; it must be a finite number"):
        length(-(10**power), "mm", "length")


def test_the_longest_length_itself_is_allowed() -> None:
    assert length("1000 m", "in", "length") == 1e6
