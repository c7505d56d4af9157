"""Putting pieces back together by rigid moves in the plane, and measuring what does not fit; knows numbers only."""

from __future__ import annotations

from cmath import exp
from collections.abc import Sequence
from math import atan2

Point = tuple[float, float]
Face = tuple[Point, Point]
"""A face in plan, from the outside to the inside of the frame."""


def misfit(pieces: Sequence[tuple[Face, Face]], root_gap: float) -> tuple[float, float]:
    """Largest gap and overlap (mm) of a closed frame of pieces given by their left and right faces.

    Each piece is moved so that its left face stands `root_gap` off the right face before it, outer ends level;
    what the last right face then misses of the first left face is the misfit, a step along the seam or a seam of
    unequal length counted as gap.
    """
    gap = overlap = 0.0
    first_left = target = _complex(pieces[0][0])
    last_right = _complex(pieces[0][1])
    for left, right in pieces[1:]:
        here = _offset(last_right, root_gap)
        placed_left, last_right = _moved(_complex(left), _complex(right), here)
        gap = max(gap, abs(abs(placed_left[1] - placed_left[0]) - abs(here[1] - here[0])))
    target = _offset(last_right, root_gap)
    normal = 1j * (target[1] - target[0]) / abs(target[1] - target[0])
    for meets, wanted in zip(first_left, target, strict=True):
        apart = (meets - wanted) / normal
        gap = max(gap, apart.real, abs(apart.imag))
        overlap = max(overlap, -apart.real)
    return gap, overlap


def _complex(face: Face) -> tuple[complex, complex]:
    return complex(*face[0]), complex(*face[1])


def _offset(face: tuple[complex, complex], gap: float) -> tuple[complex, complex]:
    """The face moved off square to itself, away from its piece (which lies to the right of outside-to-inside)."""
    outer, inner = face
    step = 1j * (inner - outer) / abs(inner - outer) * gap
    return outer + step, inner + step


def _moved(
    left: tuple[complex, complex], right: tuple[complex, complex], here: tuple[complex, complex]
) -> tuple[tuple[complex, complex], tuple[complex, complex]]:
    """Left and right face after the rigid move that lays the left face along `here`, outer ends together."""
    turn = _heading(here) - _heading(left)
    spin = exp(1j * turn)
    left_moved = (here[0], here[0] + (left[1] - left[0]) * spin)
    return left_moved, (here[0] + (right[0] - left[0]) * spin, here[0] + (right[1] - left[0]) * spin)


def _heading(face: tuple[complex, complex]) -> float:
    way = face[1] - face[0]
    return atan2(way.imag, way.real)
