"""The elliptic integral of the second kind against closed values, its own definition and its functional equations.

Closed values: E(phi | 0) = phi, E(phi | 1) = sin phi up to pi/2, and the lemniscatic E(pi/2 | 1/2) =
pi^1.5 / G(1/4)^2 + G(1/4)^2 / (8 sqrt(pi)) (DLMF 19.2.8 and 23.5(iii), numbers from memory, checked by quadrature).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.geometry.elliptic import oblique_arc, second_kind
from tests.laws.strategies import LAW

NODES, WEIGHTS = (values.tolist() for values in np.polynomial.legendre.leggauss(40))


def by_quadrature(phi: float, m: float) -> float:
    """The definition, integral of sqrt(1 - m sin^2) from 0 to phi, by 40 points to each twentieth."""
    total = 0.0
    for i in range(20):
        low, half = phi * i / 20, phi / 40
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            total += weight * half * math.sqrt(1 - m * math.sin(low + half * (1 + node)) ** 2)
    return total


@pytest.mark.parametrize("phi", [0.0, 0.3, 1.0, math.pi / 2, 2.5, 7.0, -1.2])
def test_no_modulus_is_the_angle(phi: float) -> None:
    assert second_kind(phi, 0.0) == pytest.approx(phi, rel=1e-15)


@pytest.mark.parametrize("phi", [0.0, 0.3, 1.0, 1.5, -0.7])
def test_full_modulus_is_the_sine(phi: float) -> None:
    assert second_kind(phi, 1.0) == pytest.approx(math.sin(phi), rel=1e-14)


def test_lemniscatic_value() -> None:
    gamma = math.gamma(0.25)
    exact = math.pi**1.5 / gamma**2 + gamma**2 / (8 * math.sqrt(math.pi))
    assert second_kind(math.pi / 2, 0.5) == pytest.approx(exact, rel=1e-14)


@pytest.mark.parametrize("m", [0.05, 0.5, 0.9, 0.99])
@pytest.mark.parametrize("phi", [0.01, 0.7, 1.4, 1.57, 3.0, 6.0, -2.0])
def test_definition(phi: float, m: float) -> None:
    assert second_kind(phi, m) == pytest.approx(by_quadrature(phi, m), rel=1e-13)


@LAW
@given(st.floats(-20, 20), st.floats(0, 1))
def test_odd_and_periodic(phi: float, m: float) -> None:
    """E(-phi) = -E(phi); E(phi + pi) = E(phi) + 2 E(pi/2)."""
    found = second_kind(phi, m)
    assert second_kind(-phi, m) == pytest.approx(-found, rel=1e-12, abs=1e-12)
    assert second_kind(phi + math.pi, m) == pytest.approx(found + 2 * second_kind(math.pi / 2, m), rel=1e-12, abs=1e-12)


@LAW
@given(st.floats(-10, 10), st.floats(-10, 10), st.floats(-7, 7), st.floats(0, 6))
def test_an_oblique_arc_is_never_shorter_than_its_arc(p: float, q: float, begin: float, sweep: float) -> None:
    length = oblique_arc(p, q, begin, begin + sweep)
    assert sweep - 1e-12 <= length <= sweep * math.hypot(1, p, q) + 1e-12
    assert oblique_arc(p, q, begin + sweep, begin) == pytest.approx(length, rel=1e-12, abs=1e-12)


def test_a_level_plane_leaves_arcs_as_they_are() -> None:
    assert oblique_arc(0, 0, 0.5, 2.0) == 1.5
