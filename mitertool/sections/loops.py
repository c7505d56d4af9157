"""Loops that several shapes are made of; knows geometry only, mm."""

from __future__ import annotations

from math import pi

from mitertool.geometry import Arc, Loop, rounded


def box(y0: float, z0: float, y1: float, z1: float, radius: float) -> Loop:
    """A rectangle with four equal corners."""
    return rounded([(y0, z0, radius), (y1, z0, radius), (y1, z1, radius), (y0, z1, radius)])


def circle(center: float, radius: float) -> Loop:
    """A circle about (center, center)."""
    return (Arc((center, center), radius, 0.0, 2 * pi),)


def hole(loop: Loop) -> Loop:
    """The loop the other way round, with the material outside it."""
    return tuple(segment.reversed() for segment in loop[::-1])
