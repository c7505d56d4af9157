"""Chords and their largest and smallest lengths, by hand."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from tests.laws.bands import bands, chord, extremes, spans_at
from tests.laws.checks import same
from tests.specimens import SPECIMENS

RING = bands(mt.round_tube(10, 1).region)
BOX = bands(mt.rect_tube(40, 30, 2, 0, 0).region)


def test_bands_fill_the_height_from_the_bottom() -> None:
    for section in SPECIMENS.values():
        parts = bands(section.region)
        assert parts[0].low == pytest.approx(0, abs=1e-9)
        assert parts[-1].high == pytest.approx(section.height)
        assert [a.high for a in parts[:-1]] == [b.low for b in parts[1:]]
        assert all(len(part.edges) % 2 == 0 and part.edges for part in parts)


@pytest.mark.parametrize(
    ("z", "length"),
    [(0.5, 2 * math.sqrt(25 - 4.5**2)), (5.0, 2.0), (1.0, 6.0), (2.0, 8 - 2 * math.sqrt(16 - 9)), (0.0, 0.0)],
)
def test_chords_of_a_ring(z: float, length: float) -> None:
    """Outer radius 5, inner 4."""
    assert chord(RING, z) == pytest.approx(length, abs=1e-9)


@pytest.mark.parametrize(
    ("z", "spans"),
    [
        (1.0, [(0, 40)]),
        (2.0, [(0, 40)]),
        (15.0, [(0, 2), (38, 40)]),
        (28.0, [(0, 40)]),
        (30.0, [(0, 40)]),
        (30.1, []),
    ],
)
def test_spans_of_a_box(z: float, spans: list[tuple[float, float]]) -> None:
    """A level side counts as material."""
    assert list(spans_at(BOX, z)) == [pytest.approx(span) for span in spans]


def test_extremes_of_a_band() -> None:
    """The band of a ring below the hole: nothing at the bottom, 6 where the hole begins; the band of its wall, right
    half: 3 where the hole begins, 1 at the middle."""
    below = RING[0]
    assert extremes(below.low, below.high, below.edges) == pytest.approx((0, 6))
    wall = RING[1]
    assert extremes(wall.low, wall.high, wall.edges[2:]) == pytest.approx((1, 3))


def test_a_length_that_turns_right_beside_the_end_of_a_band() -> None:
    """A tube with a sharp hole rolled by 5.8 degrees: the longest line lies 3.4 micrometres below the upper end of a
    band 2.7 mm high, where an outer corner begins to round off. Expected: a line every micrometre, good to 1e-4 mm."""
    section = SPECIMENS["tube with a sharp hole"].lay(5.8)
    parts = bands(section.region)
    largest = max(chord(parts, i / 1000) for i in range(1, int(section.height * 1000)))
    found = mt.Cut().face(section).largest_contact
    assert largest <= found <= largest + 1e-4
    same(found, mt.Cut().face(section.lay(180)).largest_contact, 1e3)


@pytest.mark.parametrize("name", SPECIMENS)
def test_a_bar_rolled_by_hardly_anything(name: str) -> None:
    """Level sides that are no longer quite level, by less and by more than what counts as one height."""
    level = mt.Cut().face(SPECIMENS[name]).contact(SPECIMENS[name].height / 2)
    for roll in (1e-9, 3e-8, 2.6e-7, 1.9e-6, 4.8e-5):
        face = mt.Cut().face(SPECIMENS[name].lay(roll))
        assert face.contact(face.section.height / 2) == pytest.approx(level, rel=1e-3, abs=1e-3)
        assert 0 < face.thinnest_wall <= face.largest_contact
