"""A remark with lengths in it: shown in the reader's units, and words of others left as they are."""

from __future__ import annotations

import pytest

from mitertool.quantity.problem import Remark, angles, lengths, names, words
from mitertool.quantity.units import Units
from mitertool.words import speaking

WORDS = {
    "a.stands": "stands at {have}, where it needs {need}",
    "a.name": "{name}: {}",
    "a.marks": "at {places:numbered}",
    "a.angle": "{angle:.2f} degrees, {angle}",
    "a.side": "on the {side}",
    "note.numbered": "{number} at {place}",
    "side.fixed": "fixed side",
}


@pytest.mark.parametrize(
    ("units", "says"),
    [
        ("mm", "stands at 25.4 mm, where it needs 203.2 mm"),
        ("in", 'stands at 1.000", where it needs 8.000"'),
        ("ft-in", 'stands at 1", where it needs 8"'),
    ],
)
def test_lengths_in_the_units_of_the_reader(units: Units, says: str) -> None:
    with speaking(WORDS):
        assert Remark("a.stands", lengths(have=25.4, need=203.2)).in_units(units) == says


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (Remark("a.marks", lengths(places=(100.0, 250.5))), "at 1 at 100 mm, 2 at 250.5 mm"),
        (Remark("a.angle", angles(angle=30.0)), "30.00 degrees, 30"),
        (Remark("a.side", words(side="side.fixed")), "on the fixed side"),
        (Remark("a.side", names(side="{mark}: {}")), "on the {mark}: {}"),
    ],
)
def test_a_number_is_shown_as_its_place_asks(told: Remark, says: str) -> None:
    """Words of others hold no place, whatever braces stand in them."""
    with speaking(WORDS):
        assert told.in_units("mm") == says


def test_lengths_as_a_caller_shows_them() -> None:
    with speaking(WORDS):
        assert Remark("a.stands", lengths(have=1.0, need=2.0)).told_by(lambda mm: f"<{mm:g}>") == (
            "stands at <1>, where it needs <2>"
        )
