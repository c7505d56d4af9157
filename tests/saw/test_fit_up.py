"""What errors open at joints, worked by hand, and the tolerance classes against values read from copies of the tables.

CLASSES: ISO 2768-1:1989, tables 1 and 3 (two copies that agree; class c below 6 and at 120 to 400 mm: copies differ);
ISO 13920, tables 1 and 2 (one copy; of 2 to 30 mm only class A, for B to D from memory).
"""

from __future__ import annotations

import math

import pytest

from mitertool.base.errors import BadInput
from mitertool.saw.proof.classes import CLASSES, tolerance_class
from mitertool.saw.proof.fit_up import CutJoint, angle_share, joint_opening, length_share, opening, openings

CORNER = CutJoint("A-B", 40, 45, 40, 45)

T = math.tan(math.radians(0.5))
LARGE, SMALL = 40 * 2 * T / (1 - T) / math.sqrt(2), 40 * 2 * T / (1 + T) / math.sqrt(2)

LENGTHS = {
    "ISO 2768-f": {4: 0.05, 20: 0.1, 100: 0.15, 300: 0.2, 700: 0.3, 1500: 0.5, 3000: None},
    "ISO 2768-m": {4: 0.1, 20: 0.2, 100: 0.3, 300: 0.5, 700: 0.8, 1500: 1.2, 3000: 2},
    "ISO 2768-c": {2: 0.2, 4: 0.3, 20: 0.5, 100: 0.8, 300: 1.2, 700: 2, 1500: 3, 3000: 4},
    "ISO 2768-v": {2: None, 4: 0.5, 20: 1, 100: 1.5, 300: 2.5, 700: 4, 1500: 6, 3000: 8},
    "ISO 13920-A": {20: 1, 100: 1, 700: 2, 1500: 3, 6000: 5, 10000: 6, 18000: 8, 30000: 9},
    "ISO 13920-B": {100: 2, 300: 2, 700: 3, 1500: 4, 3000: 6, 10000: 10, 14000: 12, 30000: 16},
    "ISO 13920-C": {20: 1, 300: 4, 700: 6, 3000: 11, 6000: 14, 14000: 21, 18000: 24},
    "ISO 13920-D": {20: 1, 100: 4, 700: 9, 1500: 12, 6000: 21, 10000: 27, 18000: 36, 30000: 40},
}
MINUTES = {
    "ISO 2768-f": {5: 60, 30: 30, 100: 20, 300: 10, 900: 5},
    "ISO 2768-m": {5: 60, 30: 30, 100: 20, 300: 10, 900: 5},
    "ISO 2768-c": {5: 90, 30: 60, 100: 30, 300: 15, 900: 10},
    "ISO 2768-v": {5: 180, 30: 120, 100: 60, 300: 30, 900: 20},
    "ISO 13920-A": {300: 20, 700: 15, 2000: 10},
    "ISO 13920-B": {300: 45, 700: 30, 2000: 20},
    "ISO 13920-C": {300: 60, 700: 45, 2000: 30},
    "ISO 13920-D": {300: 90, 700: 75, 2000: 60},
}


@pytest.mark.parametrize("name", LENGTHS)
def test_lengths_of_a_class(name: str) -> None:
    assert {size: CLASSES[name].length(size) for size in LENGTHS[name]} == LENGTHS[name]


@pytest.mark.parametrize("name", MINUTES)
def test_angles_of_a_class(name: str) -> None:
    assert {leg: CLASSES[name].angle(leg) * 60 for leg in MINUTES[name]} == pytest.approx(MINUTES[name])


SIZES = {
    "ISO 2768-v": ((3, 6, 30, 120, 400, 1000, 2000, 4000), (10, 50, 120, 400)),
    "ISO 13920-D": ((30, 120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000), (400, 1000)),
}
"""Where the ranges of the tables end; the values of these classes differ in every two of them."""


@pytest.mark.parametrize("name", SIZES)
def test_every_range_ends_where_the_table_says(name: str) -> None:
    lengths, legs = SIZES[name]
    of = CLASSES[name]
    assert [size for size in lengths if of.length(size) == of.length(size - 0.1) != of.length(size + 0.1)] == [*lengths]
    assert [leg for leg in legs if of.angle(leg) == of.angle(leg - 0.1) != of.angle(leg + 0.1)] == [*legs]


def test_a_range_holds_its_upper_end_and_not_its_lower() -> None:
    """Over 120 up to 400: 400 is still 0.5 in class m, and 400.1 is 0.8; below 0.5 mm the table says nothing."""
    m = tolerance_class("ISO 2768-m")
    assert (m.length(400), m.length(400.1), m.length(0.4), m.length(4000.1)) == (0.5, 0.8, None, None)
    assert (m.angle(10) * 60, m.angle(10.1) * 60) == (60, 30)


def test_what_is_sure_and_what_is_not_is_said() -> None:
    assert "differ" in CLASSES["ISO 2768-c"].certainty
    assert "memory" in CLASSES["ISO 13920-B"].certainty
    assert "memory" not in CLASSES["ISO 13920-A"].certainty
    assert CLASSES["ISO 13920-B"].of == "the welded frame"
    assert CLASSES["ISO 2768-m"].of == "the single part"


def test_names_of_classes() -> None:
    assert tolerance_class(" ISO  2768-1-m ") is CLASSES["ISO 2768-m"]
    with pytest.raises(BadInput, match="did you mean"):
        tolerance_class("ISO 13920-E")
    with pytest.raises(BadInput, match="write one of ISO 2768-f"):
        tolerance_class("?")


@pytest.mark.parametrize(("error", "heel", "throat"), [(0.5, 0.0, 1.0), (-0.5, 1.0, 0.0), (0.0, 0.0, 0.0)])
def test_what_both_ends_open(error: float, heel: float, throat: float) -> None:
    """A face of 40 r2 = 56.57 mm turned by half a degree about its end stands about 0.494 mm off at the other.

    Exactly, with t = tan(0.5) and tan(45 + 0.5) = (1 + t)/(1 - t): 40 * 2t/(1 - t)/r2 (too large) or 40 * 2t/(1 + t)/r2
    (too small) for each end. A miter too large touches at the heel and opens at the throat.
    """
    found = joint_opening(CORNER, error, error)
    each = {0.5: LARGE, -0.5: SMALL, 0.0: 0.0}[error]
    assert (found.heel, found.throat) == pytest.approx((2 * each * heel, 2 * each * throat), rel=1e-9)


def test_errors_of_two_ends_that_cancel() -> None:
    assert joint_opening(CORNER, 0.5, -0.5).throat == pytest.approx(LARGE - SMALL, rel=1e-9)
    assert opening(40, 45, 0.5) == pytest.approx(40 * (math.tan(math.radians(45.5)) - 1) / math.sqrt(2))


def test_a_whole_frame() -> None:
    """Four corners, each face half a degree too small: every one stands open at its heel."""
    found = openings([CORNER] * 4, -0.5)
    assert [one.heel for one in found] == pytest.approx([2 * SMALL] * 4)
    assert [one.throat for one in found] == [0.0] * 4


def test_shares_of_a_tolerance() -> None:
    """1200 mm by ISO 13920-B may be 4 mm out: 1 mm is a quarter. A leg of 300 mm: 45 minutes; half a degree is 2/3."""
    b = tolerance_class("ISO 13920-B")
    length = length_share(b, "side", 1200, -1)
    assert (length.allowed, length.share, length.wants_checking) == (4, 0.25, False)
    angle = angle_share(b, "corner", 300, 90, 0.5)
    assert (angle.allowed, angle.share, angle.wants_checking) == (0.75, pytest.approx(2 / 3), True)
    nothing = length_share(tolerance_class("ISO 2768-f"), "side", 3000, 1)
    assert (nothing.allowed, nothing.share, nothing.wants_checking) == (None, None, False)
