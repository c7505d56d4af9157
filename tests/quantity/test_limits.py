"""Limits are never shown looser than they are: the most that is allowed is rounded down, the least that is needed up.

Expected texts are worked by hand from 1 in = 25.4 mm, exact by the yard and pound agreement of 1959: 4 mm are 10.08
sixty-fourths, 0.5 mm are 0.01969 inch, 10' are 0.16667 degrees.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.quantity import UNITS, Units, length, show_angle_limit, show_gap, show_limit
from mitertool.quantity.problem import Remark, lengths
from mitertool.words import speaking


@pytest.mark.parametrize(
    ("mm", "units", "down", "up"),
    [
        (0.15, "mm", "0.15", "0.15"),
        (0.3, "mm", "0.3", "0.3"),
        (523.46, "mm", "523.4", "523.5"),
        (-126.61, "mm", "-126.7", "-126.6"),
        (0.1 + 0.2, "mm", "0.3", "0.3"),
        (0.0, "mm", "0", "0"),
        (4.0, "ft-in", '5/32"', '11/64"'),
        (4.0, "in/32", '5/32"', '11/64"'),
        (2.0, "ft-in/32", '5/64"', '0.079"'),
        (0.5, "ft-in", '0.019"', '0.020"'),
        (0.2, "in/16", '0.0078"', '0.008"'),
        (0.0, "ft-in", '0"', '0"'),
        (0.15, "in", '0.0059"', '0.006"'),
        (54.53 * 25.4, "ft-in", "4'-6 1/2\"", "4'-6 9/16\""),
        (-1.53 * 25.4, "ft-in", '-1 9/16"', '-1 1/2"'),
        (25.4 / 3 * 3, "in", '1.000"', '1.000"'),
    ],
)
def test_a_limit_is_rounded_to_the_inside(mm: float, units: Units, down: str, up: str) -> None:
    assert (show_limit(mm, units, "down"), show_limit(mm, units, "up")) == (down, up)


@given(st.floats(0.001, 20_000), st.sampled_from(UNITS))
def test_a_limit_that_is_read_again_is_never_looser_and_loses_a_tenth_at_most(mm: float, units: Units) -> None:
    """A millionth of the smallest step, 1/64 inch or 0.1 mm, is left for what a limit loses on its way through mm."""
    most, least = (Fraction(length(show_limit(mm, units, way), units, "limit")) for way in ("down", "up"))
    given_mm, left = Fraction(mm), Fraction(4, 10_000_000)
    assert given_mm * Fraction(9, 10) - left <= most <= given_mm + left
    assert given_mm - left <= least <= given_mm * Fraction(11, 10) + left


@pytest.mark.parametrize(
    ("degrees", "down", "up"),
    [
        (10 / 60, "0.16°", "0.17°"),
        (5 / 60, "0.08°", "0.09°"),
        (13.775, "13.77°", "13.78°"),
        (0.004, "0.004°", "0.004°"),
    ],
)
def test_a_limit_of_an_angle(degrees: float, down: str, up: str) -> None:
    assert (show_angle_limit(degrees, "down"), show_angle_limit(degrees, "up")) == (down, up)


@pytest.mark.parametrize(
    ("units", "says"), [("mm", "0.51"), ("in", '0.020"'), ("ft-in", '0.020"'), ("in/32", '0.020"')]
)
def test_a_small_gap_is_shown_finer_than_a_tape(units: Units, says: str) -> None:
    """0.51 mm are 0.0201 inch, which a tape of sixteenths shows as 0."""
    assert show_gap(0.51, units) == says


@pytest.mark.parametrize(
    ("units", "says"),
    [
        ("mm", "needs 523.5 mm, has 523.3 mm, lies at 523.4 mm"),
        ("in", 'needs 20.608", has 20.605", lies at 20.606"'),
        ("ft-in", "needs 1'-8 5/8\", has 1'-8 9/16\", lies at 1'-8 5/8\""),
    ],
)
def test_a_sentence_rounds_its_limits_to_the_inside(units: Units, says: str) -> None:
    told = Remark("a.b", lengths(need=523.42, have=523.39, at=523.38))
    with speaking({"a.b": "needs {need:up}, has {have:down}, lies at {at}"}):
        assert told.in_units(units) == says


@pytest.mark.parametrize(
    ("units", "says"),
    [("mm", "shorten by 0.51 mm"), ("in", 'shorten by 0.020"'), ("ft-in", 'shorten by 0.020"')],
)
def test_a_sentence_shows_a_correction_finer_than_a_tape(units: Units, says: str) -> None:
    with speaking({"a.b": "shorten by {by:fine}"}):
        assert Remark("a.b", lengths(by=0.51)).in_units(units) == says
