"""The contact averaged over the way of a hinged blade, against sums over level lines of the face.

In polar coordinates of the arm (alpha, w along the edge) an element of the face is dA = w dw dalpha, so that the
contact summed over alpha is the integral of dA / w over the face, w = sqrt(r^2 - d^2). On a level line that is
asinh(x / sqrt(h^2 - d^2)), x and h measured from the hinge along and square to it; the lines are summed by quadrature
on panels that halve toward every height where the outline has an end or a level tangent, and toward the hinge.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import numpy as np
import pytest

import mitertool as mt
from mitertool.cut.blade import numeric
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from tests.specimens import SPECIMENS, levels, scanline

HALVINGS = 24
NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)


def summed(section: mt.Section, arm: HingedArm, miter: float, axis: float) -> float:
    """The contact summed over the way of the blade, mm times degrees."""
    d, squeeze = arm.hinge_z + arm.below_bed, 1 / math.cos(math.radians(miter))

    def on_line(z: float) -> float:
        h2 = (z - arm.hinge_z) ** 2 - d * d
        ends = [(abs((y - axis) * squeeze - arm.hinge_u) for y in span) for span in scanline(section, z)]
        return sum(abs(potential(b, h2) - potential(a, h2)) for a, b in ends)

    heights = sorted({*levels(section), *([arm.hinge_z] if arm.hinge_z < section.height else [])})
    return math.degrees(sum(quadrature(on_line, *panel) for panel in panels(heights)))


def potential(x: float, h2: float) -> float:
    """The integral of dx / sqrt(x^2 + h2), for x^2 + h2 > 0."""
    return math.log(x + math.sqrt(x * x + h2))


def quadrature(function, low: float, high: float) -> float:  # type: ignore[no-untyped-def]
    middle, half = (low + high) / 2, (high - low) / 2
    return half * sum(w * function(middle + half * x) for x, w in zip(NODES, WEIGHTS, strict=True))


def panels(heights: list[float]) -> Iterator[tuple[float, float]]:
    """From height to height, halved again and again toward both."""
    shares = [2.0**-k for k in range(HALVINGS, 0, -1)]
    shares = [0.0, *shares, *(1 - share for share in shares[-2::-1]), 1.0]
    for low, high in itertools.pairwise(heights):
        yield from itertools.pairwise(low + share * (high - low) for share in shares)


ARM = HingedArm(-450.0, 70.0, 6.0)
CLOSE = HingedArm(-110.0, 70.0, 6.0)
"""Its edge draws a circle of 76 mm about the hinge; the bar begins 4 mm from it, or 1e-4 mm."""

SECTIONS = {
    name: SPECIMENS[name] for name in ("paper-thin tube", "round tube", "tapered channel", "equal angle", "pin")
}
STANDARD = ("UPN 100", "CHS 60.3x3.2", "RHS 80x40x3", "IPE 100", "C8X11.5")


@pytest.mark.parametrize("miter", [0.0, 40.0])
@pytest.mark.parametrize("name", [*SECTIONS, *STANDARD])
def test_mean_contact_of_a_hinged_blade(name: str, miter: float) -> None:
    """To 1e-12. The paper-thin tube is the worst: 0.5 mm of steel are the difference of two ways around of 100 mm."""
    section = SECTIONS.get(name) or mt.section(name)
    way = Passage(section.region, BladePlane.of(miter, 0.0, 30.0, 0.0), ARM)
    assert way.mean * way.length == pytest.approx(summed(section, ARM, miter, 30.0), rel=1e-12)


@pytest.mark.parametrize("gap", [4.0, 0.1, 1e-4, 1e-6])
def test_mean_contact_hard_by_the_hinge(gap: float) -> None:
    """A bar that all but touches the circle about the hinge: there the contact changes like a root."""
    section = mt.flat(60, 83.7)
    axis = -110.0 + 76.0 + gap
    way = Passage(section.region, BladePlane.of(0.0, 0.0, -axis, 0.0), CLOSE)
    assert way.mean * way.length == pytest.approx(summed(section, CLOSE, 0.0, -axis), rel=1e-12)


@pytest.mark.parametrize("name", [*SPECIMENS, *STANDARD])
@pytest.mark.parametrize("arm", [ARM, Column(5.0), Column(5.0, cant=7.0)])
def test_time_by_the_area_rate_is_the_face_over_it(name: str, arm: HingedArm | Column) -> None:
    """However the blade comes down and wherever its way is parted: area of a square cut over the rate, to 1e-12."""
    section = SPECIMENS.get(name) or mt.section(name)
    way = Passage(section.region, BladePlane.of(0.0, 0.0, 30.0, 0.0), arm)
    assert way.minutes(700.0, None) == pytest.approx(section.area / 700.0, rel=1e-12)


def test_the_nodes_are_those_of_gauss_and_legendre() -> None:
    """Twelve, as numpy finds them."""
    nodes, weights = np.polynomial.legendre.leggauss(12)
    assert [x for x, _ in numeric.GAUSS] == pytest.approx(nodes[6:], abs=1e-15)
    assert [w for _, w in numeric.GAUSS] == pytest.approx(weights[6:], abs=1e-15)
