"""Words of units, counts and numbers without a unit, and what the package loads."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity import UNITS, count, plain_number, units


@pytest.mark.parametrize("word", ["mm", "in", "ft-in"])
def test_units_are_the_three_words(word: str) -> None:
    assert units(word) == word
    assert word in UNITS


@pytest.mark.parametrize("word", ["", "cm", "MM", "inch", " mm", None, 1, ["mm"]])
def test_other_units_are_refused(word: object) -> None:
    with pytest.raises(BadInput, match="mm, in, ft-in, in/16, in/32 or ft-in/32") as refusal:
        units(word, "job, units")
    assert refusal.value.what == "job, units"


@pytest.mark.parametrize(("value", "whole"), [(1, 1), (100_000, 100_000), ("12", 12), (" 007 ", 7), ("+3", 3)])
def test_count(value: object, whole: int) -> None:
    result = count(value, "quantity")
    assert result == whole
    assert type(result) is int


@pytest.mark.parametrize(
    ("value", "cause"),
    [
        (3.0, "without a decimal point"),
        ("3.0", "without a decimal point"),
        ("1e3", "without a decimal point"),
        ("1_000", "digits only"),
        ("1,000", "digits only"),
        ("３", "digits only"),
        ("", "digits only"),
        ("three", "digits only"),
        (True, "must be whole"),
        (None, "must be whole"),
        (math.nan, "must be whole"),
        (0, "below the range"),
        ("-2", "below the range"),
        (100_001, "above the range"),
        ("9" * 300, "above the range"),
        ("9" * 5000, "must be whole"),
    ],
)
def test_count_refused(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause) as refusal:
        count(value, "quantity")
    assert "from 1 to 100000, such as 4" in refusal.value.allowed


@pytest.mark.parametrize("power", [4000, 5000])
def test_a_count_of_any_number_of_digits_is_refused(power: int) -> None:
    with pytest.raises(BadInput, match="found inf; it is above the range"):
        count(10**power, "quantity")


@pytest.mark.parametrize(("least", "most", "example"), [(0, 3, "3"), (5, 9, "5"), (0, 100, "4")])
def test_the_example_of_a_count_lies_in_its_range(least: int, most: int, example: str) -> None:
    with pytest.raises(BadInput, match=f"from {least} to {most}, such as {example}$"):
        count("x", "opposite", least, most)
    assert least <= count(example, "opposite", least, most) <= most


@pytest.mark.parametrize(
    ("value", "number"),
    [(4, 4.0), (2.5, 2.5), ("4", 4.0), ("-2.5", -2.5), ("2 1/2", 2.5), ("8e-1", 0.8), ("½", 0.5)],
)
def test_plain_number(value: object, number: float) -> None:
    assert plain_number(value, "teeth_per_inch") == number


@pytest.mark.parametrize(
    ("value", "cause"),
    [
        ("", "it is empty"),
        ("2,5", "decimal point"),
        ("nan", "finite"),
        ("1e999", "finite"),
        ("4 mm", "cannot be read"),
        ("8 %", "cannot be read"),
        ("4 6", "cannot be read"),
        ("1/0", "over 0"),
        (math.inf, "finite"),
        (True, "number or text"),
        ({}, "number or text"),
    ],
)
def test_plain_number_refused(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause):
        plain_number(value, "teeth_per_inch")


def test_the_package_loads_no_heavy_number_library() -> None:
    program = "import sys, mitertool.quantity; print(*sorted(sys.modules), sep='\\n')"
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    assert "mitertool.quantity" in loaded
    assert not {"decimal", "fractions", "numpy", "attr", "dataclasses"} & set(loaded)
