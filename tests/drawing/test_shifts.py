"""A shift that is small beside the largest double leaves all that is finite so: IEEE 754, by its last step 2^971."""

from __future__ import annotations

from math import isfinite
from sys import float_info

import pytest

from mitertool.drawing import Drawing, Line
from mitertool.drawing.layers import OUTLINE
from mitertool.drawing.vectors import Similarity


def test_a_shift_that_keeps_finite() -> None:
    assert isfinite(float_info.max + 2.0**969)
    assert Similarity(shift=(2.0**968, -(2.0**968))).keeps_finite
    assert not Similarity(shift=(2.0**970, 0.0)).keeps_finite
    assert not Similarity(shift=(float("nan"), 0.0)).keeps_finite
    assert not Similarity(scale=2.0).keeps_finite


def test_a_shift_into_the_endless_is_refused() -> None:
    far = Drawing([Line((float_info.max, 0.0), (0.0, 0.0), OUTLINE)])
    assert far.moved(1e200, 0.0).entities[0].numbers()[0] == float_info.max
    with pytest.raises(Exception, match="finite"):
        far.moved(float_info.max, 0.0)
