"""The incomplete elliptic integral of the second kind, by Carlson's symmetric forms; knows only mathematics.

Source: B. C. Carlson, "Numerical computation of real or complex elliptic integrals", Numerical Algorithms 10
(1995), duplication theorem; the formulas stand in NIST DLMF 19.25 and 19.36. SciPy has the function, but
loading SciPy takes longer than everything else that a cut needs.
"""

from __future__ import annotations

from math import atan2, cos, floor, hypot, pi, sin, sqrt
from typing import Final

_SPREAD: Final = 1e-3
"""Relative spread of the arguments at which the fifth-order series is good to 1e-17 (its error is spread^6)."""

_SETTLED: Final = 1e-9
"""Half the difference of two means by their size at which one mean more is good to its square, 1e-18."""


def oblique_arc(p: float, q: float, begin: float, finish: float) -> float:
    """Length of the image of a unit arc from angle `begin` to `finish` in the plane x = p*y + q*z.

    On the arc x changes by (q cos t - p sin t) dt = k cos(t + phase) dt, so the element of length is
    sqrt(1 + k^2 cos^2) = sqrt(1 + k^2) sqrt(1 - m sin^2) with m = k^2 / (1 + k^2).
    """
    k, phase = hypot(p, q), atan2(p, q)
    if k == 0.0:
        return abs(finish - begin)
    m = k * k / (1 + k * k)
    span = second_kind(finish + phase, m) - second_kind(begin + phase, m)
    return sqrt(1 + k * k) * abs(span)


def whole_ellipse(w: float) -> float:
    """Length of a whole ellipse with the half axes w and 1, w at least 1, by its arithmetic-geometric mean.

    NIST DLMF 19.8.6: 2 pi (a^2 - sum of 2^(n-1) c_n^2) / M(a, b), with c_n half the difference of the means before.
    """
    a, b, weight = w, 1.0, 0.5
    total, half = w * w - 0.5 * (w - 1) * (w + 1), (w - 1) / 2
    while half > _SETTLED * a:
        weight *= 2
        total -= weight * half * half
        a, b = (a + b) / 2, sqrt(a * b)
        half = (a - b) / 2
    return 2 * pi * total / ((a + b) / 2)


def second_kind(phi: float, m: float) -> float:
    """E(phi | m), the integral of sqrt(1 - m sin^2) from 0 to phi; any real phi, 0 <= m <= 1."""
    turns = floor(phi / pi + 0.5)
    rest = phi - turns * pi
    whole = 2 * turns * _quarter(pi / 2, m) if turns else 0.0
    return whole + _quarter(rest, m)


def _quarter(phi: float, m: float) -> float:
    """E(phi | m) for -pi/2 <= phi <= pi/2: s R_F(c^2, 1 - m s^2, 1) - m/3 s^3 R_D(c^2, 1 - m s^2, 1).

    Both forms take the same duplications, and each of these leaves a quarter of the spread.
    """
    s, c = sin(phi), cos(phi)
    x, y, z = c * c, 1 - m * s * s, 1.0
    mean, rest, scale = (x + y + 3) / 5, 0.0, 1.0
    spread = (1 - min(x, y)) / (_SPREAD / 2)
    while spread * scale >= mean:
        up, across = sqrt(z), sqrt(x) + sqrt(y)
        lam = up * across + sqrt(x * y)
        rest += scale / (up * (z + lam))
        x, y, z, mean, scale = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4, (mean + lam) / 4, scale / 4
    return s * _rf_series(x, y, z) - m * s**3 * (rest + scale * _rd_series(x, y, z) / 3)


def _rf_series(x: float, y: float, z: float) -> float:
    mean = (x + y + z) / 3
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / sqrt(mean)


def _rd_series(x: float, y: float, z: float) -> float:
    mean = (x + y + 3 * z) / 5
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    ea, eb = dx * dy, dz * dz
    ec, ed = ea - eb, ea - 6 * eb
    tail = dz * ((ed + 2 * ec) / 6 + dz * (-9 / 22 * ec + dz * 3 / 26 * ea))
    return (1 + ed * (-3 / 14 + 9 / 88 * ed - 9 / 52 * dz * (ed + 2 * ec)) + tail) / (mean * sqrt(mean))
