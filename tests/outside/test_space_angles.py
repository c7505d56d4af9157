"""Angles between members in space against a general library.

scipy (BSD-3) finds the smallest rotation that takes one direction to another: its size is the turn of a corner, and
what it makes of the first section's top tells by how much the second section is twisted.
"""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.frame import landing

pytestmark = pytest.mark.outside

BAR = mt.angle(60, 40, 5)
"""A section that looks like itself after a whole turn only."""


def way(slope: float, heading: float) -> np.ndarray:
    a, h = math.radians(slope), math.radians(heading)
    return np.array([math.cos(a) * math.cos(h), math.cos(a) * math.sin(h), math.sin(a)])


def top(along: np.ndarray) -> np.ndarray:
    up = np.array([0.0, 0.0, 1.0]) - along[2] * along
    return up / np.linalg.norm(up)


def test_two_hundred_corners() -> None:
    from scipy.spatial.transform import Rotation

    lot, made = Random(3), 0
    while made < 200:
        slopes = lot.uniform(-70, 70), lot.uniform(-70, 70)
        angle = lot.uniform(15, 180)
        try:
            found = landing(BAR, slopes, angle)
        except BadInput:
            continue
        made += 1
        one, other = way(slopes[0], 0), way(slopes[1], 180 - angle)
        smallest, _ = Rotation.align_vectors([other], [one])
        assert found.turn == pytest.approx(math.degrees(smallest.magnitude()), abs=1e-6)
        carried, wanted = smallest.apply(top(one)), top(other)
        twist = math.degrees(math.atan2(np.dot(other, np.cross(carried, wanted)), np.dot(carried, wanted)))
        assert (found.twist - twist + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)
