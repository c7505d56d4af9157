"""Numbers to text.

Expected texts are worked by hand from 1 in = 25.4 mm and 1 lb = 0.45359237 kg, exact by the international
yard and pound agreement of 1959.
"""

from __future__ import annotations

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity import Units, rounded_length, show_angle, show_length, show_mass

IN = 25.4


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (1200.0, "mm", "1200"),
        (848.528137, "mm", "848.5"),
        (848.25, "mm", "848.3"),
        (-848.25, "mm", "-848.3"),
        (0.0, "mm", "0"),
        (-0.04, "mm", "0"),
        (-0.0, "mm", "0"),
        (999.96, "mm", "1000"),
        (1200.15, "in", '47.250"'),
        (-571.5, "in", '-22.500"'),
        (0.0, "in", '0.000"'),
        (-0.01, "in", '0.000"'),
        (54.5 * IN, "ft-in", "4'-6 1/2\""),
        (-54.5 * IN, "ft-in", "-4'-6 1/2\""),
        (11.1875 * IN, "ft-in", '11 3/16"'),
        (-3.5 * IN, "ft-in", '-3 1/2"'),
        (0.1875 * IN, "ft-in", '3/16"'),
        (0.0, "ft-in", '0"'),
        (-0.5, "ft-in", '0"'),
        (12.0 * IN, "ft-in", "1'-0\""),
        (11.99 * IN, "ft-in", "1'-0\""),
        (11.96 * IN, "ft-in", '11 15/16"'),
        (23.97 * IN, "ft-in", "2'-0\""),
        (12.25 * IN, "ft-in", "1'-0 1/4\""),
        (0.99 * IN, "ft-in", '1"'),
        (0.03125 * IN, "ft-in", '1/16"'),
        (-0.03125 * IN, "ft-in", '-1/16"'),
        (0.03 * IN, "ft-in", '0"'),
        (54.53125 * IN, "in/32", '54 17/32"'),
        (54.53125 * IN, "in/16", '54 9/16"'),
        (54.53125 * IN, "ft-in/32", "4'-6 17/32\""),
        (-12.0 * IN, "in/16", '-12"'),
    ],
)
def test_show_length(mm: float, units: Units, text: str) -> None:
    assert show_length(mm, units) == text


@pytest.mark.parametrize(
    ("mm", "denominator", "text"),
    [
        (1.53125 * IN, 32, '1 17/32"'),
        (1.53125 * IN, 64, '1 17/32"'),
        (1.515625 * IN, 64, '1 33/64"'),
        (1.515625 * IN, 16, '1 1/2"'),
        (1.515625 * IN, 2, '1 1/2"'),
    ],
)
def test_show_length_to_another_fraction(mm: float, denominator: int, text: str) -> None:
    assert show_length(mm, "ft-in", denominator) == text


@pytest.mark.parametrize(
    ("mm", "units", "decimals", "text"),
    [
        (848.528137, "mm", 0, "849"),
        (848.528137, "mm", 3, "848.528"),
        (1200.0, "mm", 3, "1200"),
        (100.0, "mm", 0, "100"),
        (25.4, "in", 0, '1"'),
        (2.54, "in", 4, '0.1000"'),
    ],
)
def test_show_length_with_other_decimals(mm: float, units: Units, decimals: int, text: str) -> None:
    assert show_length(mm, units, decimals=decimals) == text


@pytest.mark.parametrize("denominator", [0, 1, 3, 10, 128, -16])
def test_a_fraction_that_no_rule_has_is_refused(denominator: int) -> None:
    with pytest.raises(BadInput, match="2, 4, 8, 16, 32, 64"):
        show_length(100.0, "ft-in", denominator)


@pytest.mark.parametrize(
    ("mm", "units", "rounded"),
    [
        (848.528137, "mm", 848.5),
        (-0.04, "mm", 0.0),
        (1200.16, "in", 1200.15),
        (11.99 * IN, "ft-in", 304.8),
        (-54.49 * IN, "ft-in", -1384.3),
    ],
)
def test_rounded_length(mm: float, units: Units, rounded: float) -> None:
    assert rounded_length(mm, units) == pytest.approx(rounded, abs=1e-9)


@pytest.mark.parametrize(
    ("degrees", "text"),
    [
        (45.0, "45°"),
        (22.5, "22.5°"),
        (-10.53, "-10.53°"),
        (10.529, "10.53°"),
        (100.0, "100°"),
        (0.0, "0°"),
        (-0.0, "0°"),
        (-0.004, "0°"),
        (0.005, "0.01°"),
        (89.999, "90°"),
    ],
)
def test_show_angle(degrees: float, text: str) -> None:
    assert show_angle(degrees) == text


@pytest.mark.parametrize(("decimals", "text"), [(0, "11°"), (1, "10.5°"), (4, "10.5453°")])
def test_show_angle_with_other_decimals(decimals: int, text: str) -> None:
    assert show_angle(10.545291, decimals) == text


@pytest.mark.parametrize(
    ("kg", "units", "text"),
    [
        (12.4, "mm", "12.4 kg"),
        (12.36, "mm", "12.4 kg"),
        (5.0, "mm", "5.0 kg"),
        (0.35, "mm", "0.350 kg"),
        (0.0, "mm", "0.000 kg"),
        (-0.0001, "mm", "0.000 kg"),
        (4.5359237, "in", "10.0 lb"),
        (0.45359237, "ft-in", "1.0 lb"),
        (12.4, "ft-in", "27.3 lb"),  # 12.4 / 0.45359237 = 27.337...
    ],
)
def test_show_mass(kg: float, units: Units, text: str) -> None:
    assert show_mass(kg, units) == text
