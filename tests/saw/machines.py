"""Made-up saws for tests, and bars and blades as points: what a saw can do is found here by trying, not by a formula.

Points of a bar are points of its outline, no further than `CHORD` from it; the blade, its guides and the blocks in its
way are points too. Nothing here calls the package's own reach, travel or blade plane.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import numpy as np

import mitertool as mt
from mitertool.cut.blade.arms import BladeArm, Column, HingedArm
from mitertool.saw import Scale
from mitertool.saw.file.machine import Bed, Guides, Obstacle
from tests.specimens import outline_points

CHORD = 1e-5
"""mm."""

HINGE = HingedArm(below_bed=6.0, lift_highest=80.0, hinge_u=-520.0, hinge_z=75.0, stop_u=410.0)
COLUMN = Column(below_bed=9.0, lift_highest=900.0, cant=4.0)


def roomy(arm: BladeArm = HINGE, jaw: str = "left", obstacles: tuple[Obstacle, ...] = ()) -> mt.Saw:
    """A saw with room for any bar of the tests in every direction."""
    return mt.Saw(
        name="made up",
        kind=arm.kind,
        kerf=1.4,
        scale=Scale(feed_side_most=80, discharge_side_most=80),
        fixed_jaw=jaw,
        arm=arm,
        bed=Bed(37.0, 2000.0, 2000.0),
        guides=Guides(-430.0, 0.0, 4000.0, 13.0, 5.0),
        obstacles=obstacles,
    )


def bar_points(section: mt.Section, roll: float = 0.0) -> np.ndarray:
    """Points (y, z) of the outline with the bar rolled by degrees, top toward +y, set down against the fixed jaw."""
    points = _outline(section)
    a = math.radians(-roll)
    turned = points @ np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
    return turned - turned.min(axis=0)


@cache
def _outline(section: mt.Section) -> np.ndarray:
    """Points of every loop; the tests of one machine ask for one section in many rolls."""
    return np.array([point for loop in outline_points(section, CHORD) for point in loop])


def in_blade_plane(points: np.ndarray, saw: mt.Saw, swing: float) -> np.ndarray:
    """Where the lines of the bar through the points meet an upright blade: (u, z), by walking along both lines in plan.

    The blade runs through the axis in the direction (sin, cos) of the swing; the bar's line has the y of its point.
    """
    direction = math.cos(math.radians(swing))
    return np.column_stack(((points[:, 0] - (saw.bed.swing_axis or 0.0)) / direction, points[:, 1]))


def least_true(holds: Callable[[float], bool], low: float, high: float) -> float:
    """Where `holds`, false at `low` and true at `high`, becomes true."""
    assert not holds(low)
    assert holds(high)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def below_edge(face: np.ndarray, arm: BladeArm, position: float) -> np.ndarray:
    """How far each point of the face lies below the edge, square to it: the face is turned into the arm's frame.

    In the frame of a hinged arm the edge lies level, as far below the hinge as at rest.
    """
    if isinstance(arm, Column):
        a, moved = math.radians(arm.cant), face - (0.0, position - arm.below_bed)
        return -(-math.sin(a) * moved[:, 0] + math.cos(a) * moved[:, 1])
    side = -math.copysign(1.0, arm.hinge_u)
    moved = np.column_stack((side * face[:, 0] + abs(arm.hinge_u), face[:, 1] - arm.hinge_z))
    a = math.radians(position)
    return -(arm.hinge_z + arm.below_bed) - (-math.sin(a) * moved[:, 0] + math.cos(a) * moved[:, 1])


def lift_to_clear(face: np.ndarray, arm: BladeArm, clearance: float) -> float:
    """The lowest position of the arm at which every point of the face is below the edge by the clearance."""
    high = 2000.0 if isinstance(arm, Column) else 85.0
    return least_true(lambda x: bool(below_edge(face, arm, x).min() >= clearance), -high, high)


def through(face: np.ndarray, arm: BladeArm) -> float:
    """The highest position of the arm at which no point of the face is below the edge."""
    high = 2000.0 if isinstance(arm, Column) else 85.0
    return -least_true(lambda x: bool(below_edge(face, arm, -x).max() <= 0.0), -high, high)


def guide_y(saw: mt.Saw, swing: float, u: float) -> np.ndarray:
    """Distances across the bed of points of a guide's inner end at u along the blade, over its whole thickness."""
    m, g = math.radians(swing), saw.guides.half_thickness if saw.guides else 0.0
    return (saw.bed.swing_axis or 0.0) + u * math.cos(m) - np.linspace(-g, g, 41) * math.sin(m)


def blade_reach(saw: mt.Saw, swing: float, block: tuple[float, float], side: str) -> float:
    """How far points of the blade and its guides stand out to a side, along the bar, over a block from y to y."""
    m, guides = math.radians(swing), saw.guides
    half = max(saw.kerf / 2, guides.half_thickness if guides else 0.0)
    y, n = np.meshgrid(np.linspace(*block, 201), np.linspace(-half, half, 41))
    t = (y - (saw.bed.swing_axis or 0.0) + n * math.sin(m)) / math.cos(m)
    x = t * math.sin(m) + n * math.cos(m)
    return float((x if side == "feed" else -x).max())
