"""The PNG writer, read back as pixels."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from matplotlib.image import imread

from mitertool.base.errors import BadInput
from mitertool.drawing import FILL, OUTLINE, THIN, Arc, Drawing, Line, Polygon, Text, png

TEN_A_MM = 254
"""Pixels an inch."""


def ink(*entities, margin=5.0):
    """Which pixels are darker than middle grey, lowest row first."""
    return imread(BytesIO(png.write(Drawing(entities), margin, TEN_A_MM)))[::-1, :, 0] < 0.5


def box(pixels):
    rows, columns = np.nonzero(pixels)
    return columns.min(), rows.min(), columns.max() + 1, rows.max() + 1


def test_a_picture_has_the_size_of_the_drawing_and_its_margin():
    pixels = ink(Polygon([(3, 4), (13, 4), (13, 24), (3, 24)], FILL, 0.0))
    assert pixels.shape == (300, 200)
    assert box(pixels) == (50, 50, 150, 250)
    assert pixels.sum() == 100 * 200


def test_fills_have_their_grey():
    picture = imread(BytesIO(png.write(Drawing((Polygon([(0, 0), (9, 0), (9, 9), (0, 9)], FILL, 0.8),)), 1, TEN_A_MM)))
    assert picture[50, 50, :3] == pytest.approx([0.8] * 3, abs=1 / 255)


def test_a_circle_is_round():
    pixels = ink(Arc((0, 0), 10, 0, 360, OUTLINE))
    rows, columns = np.nonzero(pixels)
    distance = np.hypot(rows + 0.5 - 150, columns + 0.5 - 150)
    # A pen of 0.5 mm is 5 pixels wide, half of them on either side; a pixel more for its edge.
    assert distance.min() >= 100 - 2.5 - 1
    assert distance.max() <= 100 + 2.5 + 1
    assert pixels.sum() == pytest.approx(2 * np.pi * 100 * 5, rel=0.02)


@pytest.mark.parametrize("bold", [False, True])
def test_a_text_fills_its_height_and_length(bold):
    frame = Line((0, 0), (40, 20), FILL)
    left, bottom, right, top = box(ink(frame, Text((5, 5), "HHHH", 7.18, bold=bold)))
    # Capitals 7.18 mm high from 5 mm (and the margin) up; four times 7.22 mm long, side bearings within 1.2 mm.
    assert (bottom, top) == (pytest.approx(100, abs=1), pytest.approx(171.8, abs=1))
    assert left == pytest.approx(100 + 8, abs=5)
    assert right == pytest.approx(100 + 288.8 - 8, abs=5)


def test_a_text_stays_in_its_box_whatever_it_says(every_kind):
    for text in (part for part in every_kind.entities if isinstance(part, Text)):
        level = Text((0, 0), text.says, 7.0, bold=text.bold)
        room = Polygon([(-5, -5), (level.width + 5, -5), (level.width + 5, 15)], FILL)
        left, bottom, right, top = box(ink(room, level))
        # Accents stand above capitals; a bracket goes below a descender by 0.6 mm at this height.
        assert left >= 100 - 2
        assert right <= 100 + 10 * level.width + 2
        assert bottom >= 100 - 10 * (7.0 * 0.207 / 0.718 + 0.6)
        assert top <= 100 + 10 * 7.0 * 1.4


def test_a_dollar_sign_is_a_dollar_sign():
    plain = ink(Text((0, 0), "a$b$c", 7.18))
    assert box(plain)[2] == pytest.approx(50 + 10 * (0.556 * 5 - 0.056) * 10, abs=8)


def test_a_picture_too_large_for_any_viewer_is_refused():
    with pytest.raises(BadInput, match="picture, longest side"):
        png.write(Drawing((Line((0, 0), (1e6, 0), THIN),)))


def test_every_kind_is_drawn(every_kind):
    assert ink(*every_kind.entities).any()
