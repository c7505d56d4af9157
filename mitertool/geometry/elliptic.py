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


def second_kind(phi: float, m: float) -> float:
    """E(phi | m), the integral of sqrt(1 - m sin^2) from 0 to phi; any real phi, 0 <= m <= 1."""
    turns = floor(phi / pi + 0.5)
    rest = phi - turns * pi
    whole = 2 * turns * _quarter(pi / 2, m) if turns else 0.0
    return whole + _quarter(rest, m)


def _quarter(phi: float, m: float) -> float:
    s, c = sin(phi), cos(phi)
    x, y = c * c, 1 - m * s * s
    return s * _rf(x, y, 1.0) - m / 3 * s**3 * _rd(x, y, 1.0)


def _rf(x: float, y: float, z: float) -> float:
    while True:
        mean = (x + y + z) / 3
        dx, dy = 1 - x / mean, 1 - y / mean
        dz = -dx - dy
        if max(abs(dx), abs(dy), abs(dz)) < _SPREAD:
            e2, e3 = dx * dy - dz * dz, dx * dy * dz
            return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / sqrt(mean)
        lam = sqrt(x * y) + sqrt(y * z) + sqrt(z * x)
        x, y, z = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4


def _rd(x: float, y: float, z: float) -> float:
    total, scale = 0.0, 1.0
    while True:
        mean = (x + y + 3 * z) / 5
        dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
        if max(abs(dx), abs(dy), abs(dz)) < _SPREAD:
            return 3 * total + scale * _rd_series(dx, dy, dz) / (mean * sqrt(mean))
        lam = sqrt(x * y) + sqrt(y * z) + sqrt(z * x)
        total += scale / (sqrt(z) * (z + lam))
        scale /= 4
        x, y, z = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4


def _rd_series(x: float, y: float, z: float) -> float:
    ea, eb = x * y, z * z
    ec, ed = ea - eb, ea - 6 * eb
    ee = ed + 2 * ec
    return 1 + ed * (-3 / 14 + 9 / 88 * ed - 9 / 52 * z * ee) + z * (ee / 6 + z * (-9 / 22 * ec + z * 3 / 26 * ea))
