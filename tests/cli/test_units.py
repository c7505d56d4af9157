"""Answers for a reader of inches hold no metric figure, save what a table of the catalogue prints.

By hand: HSS4x4x1/4 with its design wall of 0.233 and corners of 0.466 and 0.233 is 3.371 in2, 11.47 lb/ft at 490.06
lb/ft3 (7850 kg/m3); with its nominal wall of 0.25 it is 3.589 in2 and 12.21 lb/ft. A cut at 45 degrees is longer by the
root of 2: 4.767 in2.
"""

from __future__ import annotations

import re

import pytest

from tests.cli.test_at_the_saw import Call

METRIC = re.compile(r"\b(cm2|kg/m|mm2?|mm3|kg)\b")


@pytest.mark.parametrize("units", ["in", "ft-in", "in/32"])
def test_a_section(call: Call, units: str) -> None:
    out = call("section", "HSS4x4x1/4", "--units", units).out
    assert re.search(r"^area +3\.371 in2$", out, re.MULTILINE)
    assert re.search(r"^mass +11\.47 lb/ft$", out, re.MULTILINE)
    assert re.search(r"^nominal mass +12\.21 lb/ft, for buying and lifting$", out, re.MULTILINE)
    assert not METRIC.search(out)


def test_a_printed_value_is_told_in_both(call: Call) -> None:
    """6.61 cm2 are 1.025 in2, 5.19 kg/m are 3.488 lb/ft."""
    out = call("section", "RHS 80x40x3", "--units", "in").out
    assert "1.025 in2 (printed 6.61 cm2)" in out
    assert "3.488 lb/ft (printed 5.19 kg/m)" in out


def test_a_list_of_sizes(call: Call) -> None:
    out = call("section", "--list", "HSS", "--units", "in").out
    assert re.search(r"^HSS4x4x1/4 +12\.21 lb/ft ", out, re.MULTILINE)
    assert not METRIC.search(out)


@pytest.mark.parametrize("more", [[], ["--working"]], ids=["plain", "working"])
def test_a_cut(call: Call, more: list[str]) -> None:
    out = call("cut", "HSS4x4x1/4", "--miter", "45", "--kerf", "0.05", "--units", "in", *more).out
    assert "4.767 in2" in out
    assert '0.071"' in out
    assert not METRIC.search(out)


def test_a_piece_is_lifted_by_its_nominal_mass(call: Call) -> None:
    """Ten feet, square."""
    out = call("piece", "HSS4x4x1/4", "--length", "10'", "--units", "ft-in").out
    assert re.search(r"^mass +114\.7 lb as drawn, nominal 122\.1 lb for buying and lifting$", out, re.MULTILINE)


def test_a_root_gap_is_told_in_the_units_of_the_reader(call: Call) -> None:
    """A sixteenth is 1.5875 mm."""
    frame = ["frame", "rectangle", "--section", "HSS2x2x1/8", "--width", "40 in", "--height", "30 in"]
    sizes = ["--measured", "outside", "--root-gap"]
    assert 'root gap left open 1/16"' in call(*frame, *sizes, "1/16", "--units", "ft-in").out
    assert 'root gap left open 0.0625"' in call(*frame, *sizes, "1/16", "--units", "in").out
    assert 'root gap left open 0.0787"' in call(*frame, *sizes, "2 mm", "--units", "ft-in").out
    assert "root gap left open 2 mm" in call(*frame, *sizes, "2 mm", "--units", "mm").out


def test_a_correction_is_told_where_a_tape_shows_nothing(call: Call) -> None:
    """Four feet are 1219.2 mm: both points are 0.6 mm, 0.024 inch, too long, by a tape right to 0.5 mm, 0.020."""
    given = ["first-piece", "FLAT 2x1/4", "--length", "4'", "--left", "0", "--right", "0", "--units", "ft-in"]
    out = call(*given, "--way", "parallel", "--long", "1219.8 mm", "--short", "1219.8 mm").out
    assert '+0.024"' in out
    assert 'the tape right within 0.020"' in out
    assert not re.search(r'(?<![\d/.])0"', out)


def test_a_refusal_speaks_the_units_of_the_reader(call: Call) -> None:
    """A tube of 4 inches in an opening of 1.5 by 3; a piece of 3 with two cuts at 45 on 4 wide
    needs 8; uprights of 1 inch in 3 with a gap of 4."""
    brace = (
        "frame",
        "brace",
        "--section",
        "HSS4x4x1/4",
        "--inside-width",
        "1.5",
        "--inside-height",
        "3",
        "--ends",
        "level",
    )
    piece = ("piece", "HSS4x4x1/4", "--length", "3", "--left", "45", "--right", "45")
    rails = ("frame", "infill", "--section", "FLAT 1x1/4", "--opening", "3", "--height", "30", "--clear-most", "4")
    for units in ("in", "ft-in"):
        for given, words in ((brace, '4" wide'), (piece, "allowed here: 8"), (rails, 'clear gap is 4"')):
            said = call(*given, "--units", units)
            assert said.code == 2
            assert words in said.err
            assert not METRIC.search(said.err)
